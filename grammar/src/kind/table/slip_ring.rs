//! The slip ring.

use crate::{
    kind::{Family, Kind, KindId, Rating, Role, Terminal, key},
    quantity::Dimension::{Current, Resistance, Voltage, Ways},
};

pub(super) const KIND: Kind = Kind {
    id: KindId::SlipRing,
    word: "slip-ring",
    family: Family::Join,
    doc: "A slip ring: brushes carry each way across a joint that turns on and on. Ring 1 joins s1 and r1.",
    terminals: &[
        Terminal::per(key::WAYS, "s{}", &[], Role::Way, "A ring on the side that stands (stator)."),
        Terminal::per(key::WAYS, "r{}", &[], Role::Way, "The same ring on the side that turns (rotor)."),
    ],
    ratings: &[
        Rating::quantity(key::WAYS, Ways, "Number of rings, `12 way`.")
            .inline()
            .else_number(6.0, "a small slip ring; write the number it has"),
        Rating::quantity(key::CURRENT, Current, "Highest continuous current of one ring, A.").inline(),
        Rating::quantity(key::VOLTAGE, Voltage, "Highest voltage it is made for, V.").inline(),
        Rating::quantity(key::CONTACT_RESISTANCE, Resistance, "Resistance of one ring with its brushes, Ω.")
            .or_zero()
            .else_number(0.01, "common practice: 10 mΩ, ten times a plug's contact"),
    ],
    example: "slip-ring NECK-RING 12 way 2 A",
};
