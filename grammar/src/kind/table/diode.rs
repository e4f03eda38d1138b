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
        Rating::quantity(key::CURRENT, Current, "Highest continuous forward current, A.").inline(),
        Rating::quantity(key::VOLTAGE, Voltage, "Highest reverse voltage it blocks, V.").inline(),
        Rating::quantity(key::FORWARD, Voltage, "Voltage across it while it conducts, V.")
            .else_number(0.7, "common practice: silicon; 0.4 V for a Schottky diode at light load"),
        shared::PEAK,
        shared::PEAK_TIME,
    ],
    example: "diode D-REGEN 80 A 100 V { forward 0.9 V }",
};
