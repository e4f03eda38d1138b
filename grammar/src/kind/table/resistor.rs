//! The resistor.

use crate::{
    kind::{Family, Kind, KindId, Rating, Role, Terminal, key},
    quantity::Dimension::{Energy, Power, Ratio, Resistance},
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
        Rating::quantity(key::RESISTANCE, Resistance, "Its resistance, Ω.").inline().usually(1e-4, 1e8),
        Rating::quantity(key::POWER, Power, "Highest power it stands for long, W.").inline().usually(0.03, 1e4),
        Rating::quantity(key::TOLERANCE, Ratio, "How far the resistance may be off, a share.")
            .inline()
            .else_number(0.05, "common practice: 5 %"),
        Rating::quantity(
            key::PULSE_ENERGY,
            Energy,
            "Energy that it takes in one pulse, Wh; write it in joules, `20 J`. Filling a capacitor leaves ½ C V² in it.",
        )
        .usually(1e-7, 100.0),
        Rating::flag(
            key::BRIDGES_BY_INTENT,
            "It stays across an open contact on purpose. What is behind the contact is live when it is open, and a label there \
             says so.",
        )
        .else_no("a resistor across a contact is usually there to fill capacitors and to be switched off again"),
    ],
    example: "resistor R-PRE 47 ohm 25 W 5 %",
};
