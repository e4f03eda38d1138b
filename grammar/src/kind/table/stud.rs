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
        Rating::quantity(key::CURRENT, Current, "Highest current it carries, A.").inline(),
        shared::MAX_TEMPERATURE,
    ],
    example: "stud NEG-STAR 200 A",
};
