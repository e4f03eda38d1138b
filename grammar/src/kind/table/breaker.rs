//! The circuit breaker.

use super::{contact, shared};
use crate::{
    kind::{Family, Kind, KindId, Rating, RatingShape, Role, Terminal, key},
    quantity::Dimension::{Current, Resistance},
};

pub(super) const KIND: Kind = Kind {
    id: KindId::Breaker,
    word: "breaker",
    family: Family::Protection,
    doc: "A circuit breaker: protects the wire behind it and can be closed again.",
    terminals: &[
        Terminal::once("line", &["1"], Role::Through, "The side towards the source."),
        Terminal::once("load", &["2"], Role::Through, "The side towards what it protects."),
    ],
    ratings: RATINGS,
    example: "breaker CB-MAIN 100 A 48 V thermal manual-reset { breaking-capacity 3000 A }",
};

const RATINGS: &[Rating] = &[
    Rating::quantity(key::CURRENT, Current, "Rated current, A.").inline().usually(0.1, 600.0),
    shared::BASIS,
    shared::BREAKING_VOLTAGE.inline(),
    Rating::word(
        key::STYLE,
        &[
            (
                "thermal",
                "a bimetal opens it: seconds to minutes on overload, sooner when it is hot around it",
            ),
            ("magnetic", "a coil opens it at once above a multiple of its rating"),
            ("thermal-magnetic", "a bimetal for overload and a coil for short circuits"),
            (
                "electronic",
                "a transistor opens it; it conducts backwards through its body diode unless built against it",
            ),
        ],
        "What opens it.",
    )
    .inline(),
    Rating::word(
        key::RESET,
        &[
            ("manual-reset", "stays open until a person closes it, even if the lever is held"),
            (
                "auto-reset",
                "closes again by itself when it has cooled; what it feeds may start again unasked",
            ),
            ("modified-reset", "stays open for as long as the fault keeps it warm, then closes by itself"),
        ],
        "Whether it closes again by itself.",
    )
    .inline(),
    Rating::quantity(
        key::BREAKING_CAPACITY,
        Current,
        "Highest fault current it breaks at its direct voltage without harm, A.",
    )
    .usually(20.0, 1e5),
    Rating::quantity(key::RESISTANCE, Resistance, "Resistance when closed, Ω.")
        .usually(1e-5, 5.0)
        .else_from("0.1 V / `current`, as for a fuse; common practice"),
    Rating::flag(key::SWITCHING_DUTY, "The maker allows it to be used as the daily switch.")
        .else_flag(false, "careful: switching wears a device whose job is faults"),
    BACKED_UP_BY,
    contact::ALTERNATING_ONLY,
    contact::DISCONNECT,
    contact::DEAD_WITHIN,
    contact::REACHABLE,
    Rating::quantity(key::LEAKAGE, Current, "Current through it while it is open, A, of an electronic one.")
        .or_zero()
        .usually(1e-9, 0.05),
    shared::POLARISED,
    shared::MAX_TEMPERATURE,
];

/// What breaks the faults that are too much for it.
pub(super) const BACKED_UP_BY: Rating = Rating::of(
    key::BACKED_UP_BY,
    RatingShape::Reference,
    "The fuse before it that breaks the fault currents above its own breaking capacity, where a maker's sheet gives the \
     pair; say in `source` which.",
);
