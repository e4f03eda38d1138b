//! The stud or terminal post.

use super::shared;
use crate::{
    kind::{Family, Kind, KindId, Rating, Role, Terminal, key},
    quantity::Dimension::Current,
};

pub(super) const KIND: Kind = Kind {
    id: KindId::Stud,
    word: "stud",
    family: Family::Join,
    doc: "A stud or terminal post for ring lugs. Its name alone is its terminal.",
    terminals: &[Terminal::once("stud", &[], Role::Way, "The stud.")],
    ratings: &[
        Rating::quantity(key::CURRENT, Current, "Highest current it carries, A.")
            .inline()
            .usually(1.0, 2000.0),
        shared::BASIS,
        THREAD,
        shared::WIRES_PER_WAY,
        shared::TIGHTENING_TORQUE,
        Rating::flag(
            key::LOCKED,
            "A locking nut, a spring washer or the like keeps its nut from working loose.",
        )
        .else_no("careful: nuts are taken to work loose on a machine that shakes"),
        shared::COVERED,
        shared::MAX_TEMPERATURE,
    ],
    example: "stud NEG-STAR 200 A",
};

/// Thread of a stud, and of the stud that a lug is made for.
pub(super) const THREAD: Rating = Rating::word(
    key::THREAD,
    &[
        ("M3", "3 mm thread"),
        ("M4", "4 mm thread"),
        ("M5", "5 mm thread"),
        ("M6", "6 mm thread"),
        ("M8", "8 mm thread"),
        ("M10", "10 mm thread"),
        ("M12", "12 mm thread"),
    ],
    "Metric thread of the stud; of a lug that of the stud which its ring fits.",
)
.inline();
