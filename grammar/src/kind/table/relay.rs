//! The relay.

use super::{coil, contact, shared};
use crate::{
    kind::{Family, Kind, KindId, Rating, Role, Terminal, key},
    quantity::Dimension::{Current, Poles},
};

pub(super) const KIND: Kind = Kind {
    id: KindId::Relay,
    word: "relay",
    family: Family::Switching,
    doc: "A relay with change-over contacts that follow its coil. Pole 1 is 11 12 14 (EN 50005) or 30 87a 87 (DIN \
          72552), pole 2 is 21 22 24, and so on.",
    terminals: &[
        coil::A1,
        coil::A2,
        Terminal::per(key::POLES, "{}1", &["30"], Role::Through, "Common of a pole (DIN 72552: 30)."),
        Terminal::per(
            key::POLES,
            "{}2",
            &["87a"],
            Role::Through,
            "Break contact of a pole: joined to the common while the coil is off (DIN 72552: 87a).",
        ),
        Terminal::per(
            key::POLES,
            "{}4",
            &["87"],
            Role::Through,
            "Make contact of a pole: joined to the common while the coil is on (DIN 72552: 87).",
        ),
    ],
    ratings: RATINGS,
    example: "relay K-LAMP 24 V 10 A 2 pole { coil 70 mA; suppression diode }",
};

const RATINGS: &[Rating] = &[
    coil::COIL_VOLTAGE,
    Rating::quantity(key::CURRENT, Current, "Highest current each contact may carry, A.")
        .inline()
        .usually(0.05, 200.0),
    shared::BASIS,
    contact::LOAD_TYPE,
    contact::ALTERNATING_ONLY,
    contact::CONTACT_MATERIAL,
    Rating::quantity(key::POLES, Poles, "Number of change-over poles, `2 pole`.")
        .between(1.0, 6.0)
        .inline()
        .else_number(1.0, "the simplest one"),
    shared::BREAKING_VOLTAGE,
    shared::BREAKS,
    shared::MAKES,
    shared::OPENS_UNLOADED,
    contact::SEQUENCE,
    contact::CARRIES_ONLY,
    contact::PARALLEL_POLES,
    contact::BREAK_BEFORE_MAKE,
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
    Rating::quantity(key::LEAKAGE, Current, "Current through an open contact, A, of a solid-state relay.")
        .or_zero()
        .usually(1e-9, 0.05),
    shared::POLARISED,
];
