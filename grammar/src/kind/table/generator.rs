//! Any other source: solar panel, alternator and the like.

use super::{shared, source};
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
    Rating::quantity(key::VOLTAGE, Voltage, "Working voltage, V.").inline().usually(0.4, 140.0),
    Rating::quantity(key::FULL, Voltage, "Highest voltage, with no load, V; it counts for overvoltage.")
        .usually(0.5, 200.0),
    Rating::quantity(key::CURRENT, Current, "Working current, A.")
        .inline()
        .usually(1e-3, 300.0)
        .else_from("`power` / `voltage`"),
    shared::BASIS,
    Rating::quantity(key::POWER, Power, "Working power, W.").inline().usually(0.01, 1e4),
    shared::CURRENT_LIMIT,
    Rating::quantity(key::RESISTANCE, Resistance, "Internal resistance, Ω.")
        .usually(1e-3, 1e3)
        .else_from("(`full` − `voltage`) / `current`"),
    shared::SINKS,
    shared::TAKES_BACK_FEED,
    Rating::quantity(
        key::LOAD_DUMP,
        Voltage,
        "Voltage to which an alternator leaps when its battery is disconnected, V: about 35 V in suppressed 12 V vehicles, \
         58 V to 65 V in 24 V ones, from memory of ISO 16750-2.",
    )
    .usually(10.0, 250.0),
    Rating::quantity(
        key::CRANK,
        Voltage,
        "Voltage to which the vehicle's supply falls while the engine is started, V: about 6 V in 12 V vehicles, from \
         memory of ISO 16750-2.",
    )
    .usually(2.0, 100.0),
    source::OR_ED_BY,
    source::PARKED_ONLY,
];
