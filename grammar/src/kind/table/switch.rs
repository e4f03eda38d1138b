//! The hand-operated switch.

use super::{contact, shared};
use crate::{
    kind::{Family, Kind, KindId, Rating, Repeat, Role, Terminal, key},
    quantity::Dimension::{Current, Poles},
};

pub(super) const KIND: Kind = Kind {
    id: KindId::Switch,
    word: "switch",
    family: Family::Switching,
    doc: "A hand-operated switch, key switch or push button. In a mode that does not name it a make contact is open and \
          a break contact closed. Pole 1 is between 1 and 2, pole 2 between 3 and 4, and so on.",
    terminals: &[
        Terminal {
            name: "{}",
            aliases: &[],
            role: Role::Through,
            repeat: Repeat::Per { key: key::POLES, first: 1, step: 2, extra: 0, only_if: None },
            doc: "First side of a pole.",
        },
        Terminal {
            name: "{}",
            aliases: &[],
            role: Role::Through,
            repeat: Repeat::Per { key: key::POLES, first: 2, step: 2, extra: 0, only_if: None },
            doc: "Second side of a pole.",
        },
    ],
    ratings: RATINGS,
    example: "switch S-KEY \"Key\" 2 A",
};

const RATINGS: &[Rating] = &[
    Rating::quantity(key::CURRENT, Current, "Highest current each pole may carry, A.")
        .inline()
        .usually(0.01, 600.0),
    shared::BASIS,
    contact::LOAD_TYPE,
    contact::ALTERNATING_ONLY,
    contact::CONTACT_MATERIAL,
    shared::BREAKING_VOLTAGE.inline(),
    Rating::quantity(key::POLES, Poles, "Number of poles that move together, `2 pole`.")
        .inline()
        .else_number(1.0, "the simplest one"),
    Rating::word(
        key::CONTACT,
        &[
            ("make", "conducts when operated (normally open)"),
            ("break", "conducts when not operated (normally closed)"),
        ],
        "Whether operating it makes or breaks the circuit. In modes `closed` and `open` always mean the contact.",
    )
    .inline()
    .else_word("make", "the usual switch"),
    Rating::word(
        key::STYLE,
        &[
            ("latching", "stays where it is put"),
            ("momentary", "goes back when let go"),
        ],
        "Whether it stays where it is put.",
    )
    .inline()
    .else_word("latching", "the usual switch"),
    shared::BREAKS,
    shared::MAKES,
    shared::OPENS_UNLOADED,
    contact::SEQUENCE,
    contact::CARRIES_ONLY,
    contact::PARALLEL_POLES,
    contact::BREAK_BEFORE_MAKE,
    contact::DISCONNECT,
    contact::DEAD_WITHIN,
    contact::REACHABLE,
    Rating::flag(key::STARTS, "It starts the robot by hand, also when there is nothing yet to feed the logic that would.")
        .inline()
        .else_no("an ordinary switch"),
    Rating::flag(key::HOLD_TO_RUN, "The robot moves only while a person holds it (a dead-man's switch).")
        .inline()
        .else_no("an ordinary switch"),
    contact::BYPASS,
    shared::CONTACT_RESISTANCE,
];
