//! Any other source: solar panel, alternator and the like.

use super::shared;
use crate::{
    kind::{Family, Kind, KindId, Rating, Role, Terminal, key},
    quantity::Dimension::{Current, Power, Resistance, Voltage},
};

pub(super) const KIND: Kind = Kind {
    id: KindId::Generator,
    word: "generator",
    family: Family::Source,
    doc: "A solar panel, an alternator or another source that makes its own energy.",
    terminals: &[
        Terminal::once("pos", &[], Role::SourcePositive, "Positive output."),
        Terminal::once("neg", &[], Role::SourceNegative, "Negative output."),
    ],
    ratings: RATINGS,
    example: "generator SUN solar 18 V 5.5 A { full 22 V; current-limit 6 A }",
};

const RATINGS: &[Rating] = &[
    Rating::word(
        key::STYLE,
        &[
            ("solar", "a solar panel: its short-circuit current is hardly above its working current, so no fuse of its \
                       own can see a fault on its lead"),
            ("alternator", "an alternator with regulator: its voltage leaps when the battery is disconnected"),
            ("fuel-cell", "a fuel cell: its voltage falls steadily with the current"),
        ],
        "What makes the energy.",
    )
    .inline(),
    Rating::quantity(key::VOLTAGE, Voltage, "Working voltage, V.").inline(),
    Rating::quantity(key::FULL, Voltage, "Highest voltage, with no load, V; it counts for overvoltage."),
    Rating::quantity(key::CURRENT, Current, "Working current, A.").inline().else_from("`power` / `voltage`"),
    Rating::quantity(key::POWER, Power, "Working power, W.").inline(),
    shared::CURRENT_LIMIT,
    Rating::quantity(key::RESISTANCE, Resistance, "Internal resistance, Ω.")
        .else_from("(`full` − `voltage`) / `current`"),
    shared::SINKS,
    shared::TAKES_BACK_FEED,
];
