//! The contactor.

use super::{coil, contact, shared};
use crate::{
    kind::{Family, Kind, KindId, Rating, Repeat, Role, Terminal, key},
    quantity::Dimension::{Current, Poles},
};

pub(super) const KIND: Kind = Kind {
    id: KindId::Contactor,
    word: "contactor",
    family: Family::Switching,
    doc: "A contactor: make contacts for heavy current that follow its coil. The main pole is 1 2, further poles 3 4 and \
          so on; 13 14 is an auxiliary make contact, 21 22 an auxiliary break contact (EN 50012).",
    terminals: &[
        coil::A1,
        coil::A2,
        Terminal {
            name: "{}",
            aliases: &[],
            role: Role::Through,
            repeat: Repeat::Per { key: key::POLES, first: 1, step: 2, extra: 0, only_if: None },
            doc: "First side of a main pole; the side towards the source.",
        },
        Terminal {
            name: "{}",
            aliases: &[],
            role: Role::Through,
            repeat: Repeat::Per { key: key::POLES, first: 2, step: 2, extra: 0, only_if: None },
            doc: "Second side of a main pole; the side towards the load.",
        },
        Terminal::once("13", &[], Role::Through, "Auxiliary make contact, first side, if it has one."),
        Terminal::once("14", &[], Role::Through, "Auxiliary make contact, second side, if it has one."),
        Terminal::once("21", &[], Role::Through, "Auxiliary break contact, first side, if it has one."),
        Terminal::once("22", &[], Role::Through, "Auxiliary break contact, second side, if it has one."),
    ],
    ratings: RATINGS,
    example: "contactor K-MAIN 24 V 100 A { coil 0.35 A; suppression diode }",
};

const RATINGS: &[Rating] = &[
    coil::COIL_VOLTAGE,
    Rating::quantity(key::CURRENT, Current, "Highest current each main contact may carry, A.")
        .inline()
        .usually(1.0, 1000.0),
    shared::BASIS,
    contact::LOAD_TYPE,
    contact::ALTERNATING_ONLY,
    Rating::quantity(key::POLES, Poles, "Number of main poles, `2 pole`.")
        .between(1.0, 4.0)
        .inline()
        .else_number(1.0, "the simplest one"),
    shared::BREAKING_VOLTAGE,
    shared::BREAKS,
    shared::MAKES,
    shared::OPENS_UNLOADED,
    contact::SEQUENCE,
    contact::CARRIES_ONLY,
    contact::PARALLEL_POLES,
    shared::CONTACT_RESISTANCE,
    coil::COIL,
    coil::COIL_RESISTANCE,
    coil::COIL_MAX,
    coil::OPERATE,
    coil::RELEASE,
    coil::SUPPRESSION,
    coil::OPERATE_TEMPERATURE,
    contact::OPERATE_TIME,
    contact::RELEASE_TIME,
    coil::ECONOMISER,
    coil::HOLD_CURRENT,
    coil::SELF_HOLDING,
    Rating::flag(
        key::MIRROR_CONTACT,
        "Its auxiliary contact cannot show that the main contacts are open while one of them is welded (a mirror contact, \
         IEC 60947-4-1 annex F).",
    )
    .else_no("careful: an auxiliary contact may move without the main ones"),
    Rating::flag(key::MONITORED, "Something reads its auxiliary contact and keeps the robot from starting when it is wrong.")
        .else_no("careful: nobody is taken to notice a welded contact"),
    shared::POLARISED,
];
