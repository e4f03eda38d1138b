//! The emergency-stop device.

use super::{contact, draw, shared, signal};
use crate::{
    kind::{Family, Kind, KindId, Rating, RatingShape, Role, Terminal, key},
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
        Terminal::once(
            "pos",
            &[],
            Role::SupplyPositive,
            "Positive supply of its receiver; there only with `by-radio`.",
        )
        .only_if(key::BY_RADIO),
        Terminal::once(
            "neg",
            &[],
            Role::SupplyNegative,
            "Negative supply of its receiver; there only with `by-radio`.",
        )
        .only_if(key::BY_RADIO),
    ],
    ratings: RATINGS,
    example: "stop S-STOP 5 A 2 pole { reachable; category-reason \"what moves coasts less than 10 cm\" }",
};

const RATINGS: &[Rating] = &[
    Rating::quantity(key::CURRENT, Current, "Highest current each contact may carry, A.")
        .inline()
        .usually(0.05, 400.0),
    shared::BASIS,
    contact::LOAD_TYPE,
    contact::ALTERNATING_ONLY,
    contact::CONTACT_MATERIAL,
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
    Rating::of(
        key::CATEGORY_REASON,
        RatingShape::Text,
        "Why its stop category is right for what moves: what the risk assessment says, and of which day.",
    ),
    Rating::word(
        key::STYLE,
        &[("latching", "stays pressed until a person lets it go"), ("momentary", "goes back when let go")],
        "Whether it stays pressed.",
    )
    .inline()
    .else_word("latching", "what makes it a stop device"),
    contact::REACHABLE,
    Rating::flag(
        key::MONITORED,
        "A safety relay or the like watches both contacts of its loop and stops on a wire that is broken or shorted.",
    )
    .else_no("careful: a shorted loop is taken to go unnoticed"),
    Rating::flag(
        key::BY_RADIO,
        "It is pressed over radio; its contacts are those of the receiver of that radio, which is fed at `pos` and `neg`.",
    )
    .else_no("a button on the robot, or on a wire"),
    draw::SUPPLY_IN_BLOCK,
    draw::TYPICAL_IN_BLOCK,
    shared::BREAKS,
    shared::MAKES,
    shared::OPENS_UNLOADED,
    signal::FAILSAFE,
    signal::FAILSAFE_TIME,
    signal::FAILSAFE_TESTED,
    contact::SEQUENCE,
    shared::CONTACT_RESISTANCE,
];
