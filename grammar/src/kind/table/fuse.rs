//! The fuse.

use super::{breaker, contact, shared};
use crate::{
    kind::{Family, Kind, KindId, Rating, RatingShape, Role, Terminal, fuse_style, key},
    quantity::Dimension::{Current, CurrentSquaredTime, Resistance},
};

pub(super) const KIND: Kind = Kind {
    id: KindId::Fuse,
    word: "fuse",
    family: Family::Protection,
    doc: "A fuse: protects the wire behind it. It stands at the source end of the wire and is not larger than the wire \
          carries. `on BLOCK` says which fuse block it is plugged into.",
    terminals: &[
        Terminal::once("line", &["1"], Role::Through, "The side towards the source."),
        Terminal::once("load", &["2"], Role::Through, "The side towards what it protects."),
    ],
    ratings: RATINGS,
    example: "fuse F-DRIVE 40 A blade on BUS",
};

const RATINGS: &[Rating] = &[
    Rating::quantity(key::CURRENT, Current, "Rated current, A: it carries this and a little more for good.")
        .inline()
        .usually(0.2, 600.0),
    shared::BASIS,
    Rating::word(key::STYLE, fuse_style::WORDS, "Build of the fuse; it decides how quickly it opens.")
        .inline(),
    shared::BREAKING_VOLTAGE.inline().else_from("the usual voltage of its `style`, where the style has one"),
    Rating::quantity(
        key::BREAKING_CAPACITY,
        Current,
        "Highest fault current it breaks at its direct voltage without bursting, A.",
    )
    .usually(20.0, 1e5)
    .else_from("the usual figure of its `style`, where the style has one"),
    Rating::word(
        key::SPEED,
        &[
            ("fast", "opens quickly on moderate overload"),
            ("slow", "time-lag: carries start and in-rush currents for some seconds"),
        ],
        "How quickly a cartridge fuse opens. Blade fuses have their own band.",
    )
    .inline(),
    Rating::quantity(key::MELTING, CurrentSquaredTime, "Melting energy for short pulses, A²s.")
        .inline()
        .usually(1e-4, 1e7),
    Rating::quantity(key::RESISTANCE, Resistance, "Resistance when cold, Ω.").usually(5e-5, 10.0).else_from(
        "0.1 V / `current`: blade fuses of 1 A to 25 A drop 60 mV to 125 mV cold, makers' data as seen",
    ),
    Rating::quantity(key::HOLDER, Current, "Highest fuse rating that its holder takes, A.")
        .usually(0.5, 800.0),
    breaker::BACKED_UP_BY,
    Rating::of(
        key::ASKED_FOR_BY,
        RatingShape::Reference,
        "The part whose maker asks for a fuse at this point, as some do in the lead of a motor.",
    ),
    contact::ALTERNATING_ONLY,
    shared::MAX_TEMPERATURE,
];
