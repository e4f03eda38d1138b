//! The resistor.

use crate::{
    kind::{Family, Kind, KindId, Rating, Role, Terminal, key},
    quantity::Dimension::{Power, Ratio, Resistance},
};

pub(super) const KIND: Kind = Kind {
    id: KindId::Resistor,
    word: "resistor",
    family: Family::Passive,
    doc: "A resistor.",
    terminals: &[
        Terminal::once("1", &[], Role::Through, "First end."),
        Terminal::once("2", &[], Role::Through, "Second end."),
    ],
    ratings: &[
        Rating::quantity(key::RESISTANCE, Resistance, "Its resistance, Ω.").inline(),
        Rating::quantity(key::POWER, Power, "Highest power it stands for long, W.").inline(),
        Rating::quantity(key::TOLERANCE, Ratio, "How far the resistance may be off, a share.")
            .inline()
            .else_number(0.05, "common practice: 5 %"),
    ],
    example: "resistor R-PRE 47 ohm 25 W 5 %",
};
