//! The splice.

use crate::{
    kind::{Family, Kind, KindId, Rating, Role, Terminal, key},
    quantity::Dimension::{Area, Current},
};

pub(super) const KIND: Kind = Kind {
    id: KindId::Splice,
    word: "splice",
    family: Family::Join,
    doc: "A splice: wires joined for good in the run. Its name alone is its terminal.",
    terminals: &[Terminal::once("joint", &[], Role::Way, "The joint.")],
    ratings: &[
        Rating::quantity(key::CURRENT, Current, "Highest current it carries, A.").inline(),
        Rating::range(key::WIRE_SIZE, Area, "Conductor sizes it takes, mm², the thinner first.").inline(),
    ],
    example: "splice SP1 15 A",
};
