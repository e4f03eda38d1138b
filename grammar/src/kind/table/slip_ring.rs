//! The slip ring.

use super::{contact, shared};
use crate::{
    kind::{Family, Kind, KindId, Rating, Role, Terminal, key},
    quantity::Dimension::{Current, Resistance, Voltage, Ways},
};

pub(super) const KIND: Kind = Kind {
    id: KindId::SlipRing,
    word: "slip-ring",
    family: Family::Join,
    doc: "A slip ring: brushes carry each way across a joint that turns on and on. Ring 1 joins s1 and r1. Collector shoes on \
          conductor rails are a slip ring of `style linear`: s1 is a rail, r1 its shoe.",
    terminals: &[
        Terminal::per(key::WAYS, "s{}", &[], Role::Way, "A ring on the side that stands (stator)."),
        Terminal::per(key::WAYS, "r{}", &[], Role::Way, "The same ring on the side that turns (rotor)."),
    ],
    ratings: &[
        Rating::quantity(key::WAYS, Ways, "Number of rings, `12 way`.")
            .inline()
            .else_number(6.0, "a small slip ring; write the number it has"),
        Rating::word(
            key::STYLE,
            &[
                ("rotary", "brushes on rings that turn"),
                (
                    "linear",
                    "collector shoes that run along conductor rails; counted at the far end of the rails",
                ),
            ],
            "Rings or rails.",
        )
        .inline()
        .else_word("rotary", "what the word means"),
        Rating::quantity(key::CURRENT, Current, "Highest continuous current of one ring, A.")
            .inline()
            .usually(0.1, 300.0),
        shared::BASIS,
        shared::PEAK,
        shared::PEAK_TIME,
        Rating::quantity(key::VOLTAGE, Voltage, "Highest voltage it is made for, V.")
            .inline()
            .usually(5.0, 1500.0),
        Rating::quantity(key::CONTACT_RESISTANCE, Resistance, "Resistance of one ring with its brushes, Ω.")
            .or_zero()
            .usually(5e-4, 2.0)
            .else_number(0.01, "common practice: 10 mΩ, ten times a plug's contact"),
        contact::PARALLEL_WAYS,
    ],
    example: "slip-ring NECK-RING 12 way 2 A",
};
