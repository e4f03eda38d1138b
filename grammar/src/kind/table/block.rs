//! The bus bar, terminal block or fuse block.

use super::shared;
use crate::{
    kind::{Family, Kind, KindId, Rating, Role, Terminal, key},
    quantity::Dimension::{Current, Voltage, Ways},
};

pub(super) const KIND: Kind = Kind {
    id: KindId::Block,
    word: "block",
    family: Family::Join,
    doc: "A bus bar, terminal block or fuse block: all its ways are one bar. Its name alone means the bar. Fuses stand \
          `on` it.",
    terminals: &[
        Terminal::once("in", &[], Role::Way, "Where the bar is fed."),
        Terminal::per(key::WAYS, "{}", &[], Role::Way, "A way of the bar."),
    ],
    ratings: &[
        Rating::quantity(key::WAYS, Ways, "Number of ways, `4 way`.")
            .inline()
            .else_number(4.0, "a small bus bar; write the number it has"),
        Rating::quantity(key::CURRENT, Current, "Highest current of the bar, all ways together, A.").inline(),
        Rating::quantity(key::VOLTAGE, Voltage, "Highest voltage it is made for, V.").inline(),
        Rating::quantity(key::HOLDER, Current, "Highest fuse rating that one way takes, A."),
        shared::MAX_TEMPERATURE,
    ],
    example: "block BUS 4 way 100 A",
};
