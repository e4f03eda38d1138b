//! The splice.

use super::{connector, shared};
use crate::{
    kind::{Family, Kind, KindId, Rating, RatingShape, Role, Terminal, key},
    quantity::Dimension::{Area, Current},
};

pub(super) const KIND: Kind = Kind {
    id: KindId::Splice,
    word: "splice",
    family: Family::Join,
    doc: "A splice: wires joined for good in the run. Its name alone is its terminal.",
    terminals: &[Terminal::once("joint", &[], Role::Way, "The joint.")],
    ratings: &[
        Rating::quantity(key::CURRENT, Current, "Highest current it carries, A.")
            .inline()
            .usually(0.1, 600.0),
        shared::BASIS,
        Rating::range(key::WIRE_SIZE, Area, "Conductor sizes it takes, mm², the thinner first.")
            .inline()
            .usually(0.01, 150.0),
        connector::SEALED,
        connector::POTTED,
        Rating::of(
            key::REPAIRED,
            RatingShape::Date,
            "The day of the repair that put it there; `at` says where it is. Without it a splice belongs to the plan.",
        ),
    ],
    example: "splice SP1 15 A",
};
