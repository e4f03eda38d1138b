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
        Rating::quantity(key::CURRENT, Current, "Highest current of the bar, all ways together, A.")
            .inline()
            .usually(0.5, 2000.0),
        shared::BASIS,
        Rating::quantity(key::VOLTAGE, Voltage, "Highest voltage it is made for, V.")
            .inline()
            .usually(5.0, 1500.0),
        Rating::quantity(key::HOLDER, Current, "Highest fuse rating that one way takes, A.")
            .usually(0.5, 800.0),
        shared::WIRES_PER_WAY,
        Rating::word(
            key::CONNECTION,
            &[
                ("screw", "a screw presses on the wire or its ferrule"),
                ("spring", "a spring presses by its build and cannot work loose"),
                ("stud", "ring lugs under a nut"),
                ("blade", "push-on sleeves on flat blades"),
                ("solder", "soldered"),
            ],
            "How its ways hold a wire.",
        ),
        shared::TIGHTENING_TORQUE,
        shared::COVERED,
        shared::MAX_TEMPERATURE,
    ],
    example: "block BUS 4 way 100 A",
};
