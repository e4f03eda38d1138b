//! The emergency-stop device.

use super::shared;
use crate::{
    kind::{Family, Kind, KindId, Rating, Role, Terminal, key},
    quantity::Dimension::{Current, Number, Poles},
};

pub(super) const KIND: Kind = Kind {
    id: KindId::Stop,
    word: "stop",
    family: Family::Switching,
    doc: "An emergency-stop device with break contacts that latch open when pressed. Released in every mode that does \
          not name it. What it has to remove, and how surely, is a matter of the rules that apply to the machine.",
    terminals: &[
        Terminal::per(
            key::POLES,
            "{}1",
            &["{odd}"],
            Role::Through,
            "First side of a break contact (EN 50005: 11, 21, …).",
        ),
        Terminal::per(
            key::POLES,
            "{}2",
            &["{even}"],
            Role::Through,
            "Second side of a break contact (EN 50005: 12, 22, …).",
        ),
    ],
    ratings: RATINGS,
    example: "stop S-STOP 5 A 2 pole",
};

const RATINGS: &[Rating] = &[
    Rating::quantity(key::CURRENT, Current, "Highest current each contact may carry, A.").inline(),
    shared::BREAKING_VOLTAGE.inline(),
    Rating::quantity(key::POLES, Poles, "Number of break contacts, `2 pole`.")
        .between(1.0, 4.0)
        .inline()
        .else_number(1.0, "the simplest one"),
    Rating::quantity(
        key::STOP_CATEGORY,
        Number,
        "Stop category: 0 removes the power at once, 1 brings to a standstill and then removes it, 2 keeps it.",
    )
    .between(0.0, 2.0)
    .else_number(0.0, "pressing it removes the power at once"),
    shared::BREAKS,
    shared::MAKES,
    shared::OPENS_UNLOADED,
    shared::CONTACT_RESISTANCE,
];
