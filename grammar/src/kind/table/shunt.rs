//! The current shunt.

use super::shared;
use crate::{
    kind::{Family, Kind, KindId, Rating, Role, Terminal, key},
    quantity::Dimension::{Current, Resistance, Voltage},
};

pub(super) const KIND: Kind = Kind {
    id: KindId::Shunt,
    word: "shunt",
    family: Family::Passive,
    doc: "A current shunt: a low, exact resistance in the main current, with two sense terminals for a meter.",
    terminals: &[
        Terminal::once("1", &[], Role::Through, "Main terminal."),
        Terminal::once("2", &[], Role::Through, "Other main terminal."),
        Terminal::once(
            "s1",
            &[],
            Role::Sense,
            "Sense terminal at 1; it has the full potential of the main current.",
        ),
        Terminal::once(
            "s2",
            &[],
            Role::Sense,
            "Sense terminal at 2; it has the full potential of the main current.",
        ),
    ],
    ratings: &[
        Rating::quantity(key::CURRENT, Current, "Rated current, A.").inline().usually(0.05, 2000.0),
        shared::BASIS,
        Rating::quantity(key::DROP, Voltage, "Voltage across it at the rated current, V.")
            .inline()
            .usually(5e-3, 0.5),
        Rating::quantity(key::RESISTANCE, Resistance, "Its resistance, Ω.")
            .inline()
            .usually(1e-6, 5.0)
            .else_from("`drop` / `current`"),
    ],
    example: "shunt SH1 100 A 75 mV",
};
