//! The isolator of signals or sound.

use super::{draw, shared, signal};
use crate::{
    kind::{Family, Kind, KindId, Rating, Role, Terminal, key},
    quantity::Dimension::Voltage,
};

pub(super) const KIND: Kind = Kind {
    id: KindId::Isolator,
    word: "signal-isolator",
    family: Family::Control,
    doc: "A signal isolator: passes signals or sound across a barrier and no current, so that two supplies stay apart. Each side has \
          its own supply if it needs one; a transformer needs none. It is no power converter: a side that nothing feeds is \
          dead (a regulator that is `isolated` makes a supply across a barrier).",
    terminals: &[
        Terminal::once("pos1", &[], Role::SupplyPositive, "Positive supply of side 1, if it needs one."),
        Terminal::once("neg1", &[], Role::SupplyNegative, "Negative supply and signal return of side 1."),
        Terminal::once("pos2", &[], Role::SupplyPositive, "Positive supply of side 2, if it needs one."),
        Terminal::once("neg2", &[], Role::SupplyNegative, "Negative supply and signal return of side 2."),
        Terminal::per(key::CHANNELS, "a{}", &[], Role::Signal, "A signal on side 1."),
        Terminal::per(key::CHANNELS, "b{}", &[], Role::Signal, "The same signal on side 2."),
    ],
    ratings: RATINGS,
    example: "signal-isolator ISO-BUS 3 V .. 5.5 V 3 mA magnetic { channels 2; isolation-voltage 2.5 kV }",
};

const RATINGS: &[Rating] = &[
    Rating::word(
        key::STYLE,
        &[
            ("optical", "light carries the signal: an optocoupler"),
            ("capacitive", "an electric field carries it"),
            ("magnetic", "a magnetic field carries it, driven by electronics"),
            ("transformer", "a transformer, passive: neither side needs a supply, nothing steady passes"),
        ],
        "What carries the signal across.",
    )
    .inline(),
    draw::SUPPLY,
    shared::ABSOLUTE_MAX,
    draw::TYPICAL,
    draw::IDLE,
    shared::CHANNELS.else_number(1.0, "the simplest one"),
    Rating::quantity(
        key::ISOLATION_VOLTAGE,
        Voltage,
        "Voltage between its sides that the insulation stands, V, by its maker's test.",
    )
    .between(1.0, 1e5)
    .usually(50.0, 1e4),
    signal::PORT,
    signal::LOGIC,
    signal::SIGNAL_MAX,
    signal::INPUT_HIGH,
    signal::INPUT_LOW,
    signal::TAKES_SIGNAL_UNPOWERED,
    draw::ALWAYS_ON,
];
