//! The diode.

use super::shared;
use crate::{
    kind::{Family, Kind, KindId, Rating, Role, Terminal, key},
    quantity::Dimension::{Current, Voltage},
};

pub(super) const KIND: Kind = Kind {
    id: KindId::Diode,
    word: "diode",
    family: Family::Passive,
    doc: "A diode: conducts from anode to cathode only. It is not a protective device: when it fails it usually shorts.",
    terminals: &[
        Terminal::once("anode", &["a"], Role::Through, "Anode: current enters here."),
        Terminal::once(
            "cathode",
            &["k"],
            Role::Through,
            "Cathode, the end with the ring: current leaves here.",
        ),
    ],
    ratings: &[
        Rating::quantity(key::CURRENT, Current, "Highest continuous forward current, A.")
            .inline()
            .usually(0.01, 1000.0),
        shared::BASIS,
        Rating::quantity(key::VOLTAGE, Voltage, "Highest reverse voltage it blocks, V.")
            .inline()
            .usually(2.0, 1500.0),
        Rating::word(
            key::STYLE,
            &[
                ("silicon", "an ordinary diode: about 0.7 V"),
                ("schottky", "a Schottky diode: about 0.4 V at light load, more leakage when hot"),
                ("ideal", "a transistor with electronics that acts as a diode: some hundredths of a volt"),
            ],
            "How it is built; it decides the usual forward drop.",
        )
        .inline()
        .else_word("silicon", "the ordinary diode"),
        Rating::quantity(key::FORWARD, Voltage, "Voltage across it while it conducts, V.")
            .usually(0.005, 5.0)
            .else_from("0.7 V of a silicon diode, 0.4 V of a Schottky diode, 0.03 V of an ideal one; common practice"),
        shared::PEAK,
        shared::PEAK_TIME,
        Rating::flag(
            key::REGEN_PATH,
            "It gives the current of braking or pushed motors a way back to the battery, past a fuse, a switch or a contactor, \
             on purpose. While it does, what is behind them is not dead.",
        )
        .inline()
        .else_no("a diode past a switch or fuse is usually a mistake"),
    ],
    example: "diode D-REGEN 80 A 100 V schottky regen-path { forward 0.6 V }",
};
