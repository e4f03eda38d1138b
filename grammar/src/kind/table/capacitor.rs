//! The capacitor.

use crate::{
    kind::{Family, Kind, KindId, Rating, Role, Terminal, key},
    quantity::Dimension::{Capacitance, Resistance, Voltage},
};

pub(super) const KIND: Kind = Kind {
    id: KindId::Capacitor,
    word: "capacitor",
    family: Family::Passive,
    doc: "A capacitor. Empty it draws the in-rush current when the supply is closed; full it is a source for a while \
          after the supply is opened.",
    terminals: &[
        Terminal::once("pos", &[], Role::SupplyPositive, "Positive end."),
        Terminal::once("neg", &[], Role::SupplyNegative, "Negative end."),
    ],
    ratings: &[
        Rating::quantity(key::CAPACITANCE, Capacitance, "Its capacitance, F.").inline().usually(1e-12, 500.0),
        Rating::quantity(key::VOLTAGE, Voltage, "Highest voltage it stands, V.")
            .inline()
            .usually(2.0, 1500.0),
        Rating::quantity(key::RESISTANCE, Resistance, "Its series resistance, Ω.")
            .inline()
            .usually(1e-4, 50.0),
        Rating::flag(key::POLARISED, "It stands voltage one way round only, as an electrolytic one does.")
            .else_flag(true, "careful: large ones are electrolytic"),
    ],
    example: "capacitor C-BUS 2200 uF 50 V",
};
