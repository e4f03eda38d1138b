//! The ring lug.

use super::{shared, stud};
use crate::{
    kind::{Family, Kind, KindId, Rating, Role, Terminal, key},
    quantity::Dimension::{Area, Current},
};

pub(super) const KIND: Kind = Kind {
    id: KindId::Lug,
    word: "lug",
    family: Family::Join,
    doc: "A ring lug on the end of a wire; `tie` bolts it to a stud. Its name alone is its terminal. A wire may as well end \
          at the stud itself: write the lug where it is to be ordered, counted or matched.",
    terminals: &[Terminal::once("lug", &[], Role::Way, "Its metal: barrel and ring.")],
    ratings: &[
        stud::THREAD,
        Rating::range(key::WIRE_SIZE, Area, "Conductor sizes that its barrel takes, mm², the thinner first.")
            .inline()
            .usually(0.03, 150.0),
        Rating::quantity(key::CURRENT, Current, "Highest current it carries, A.")
            .inline()
            .usually(0.5, 2000.0),
        shared::BASIS,
        shared::MAX_TEMPERATURE,
    ],
    example: "lug L-NEG M6 12 AWG .. 10 AWG",
};
