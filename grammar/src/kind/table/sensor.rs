//! The sensor.

use super::{draw, shared, signal};
use crate::{
    kind::{Family, Kind, KindId, Rating, Role, Terminal, key},
    quantity::Dimension::Number,
};

pub(super) const KIND: Kind = Kind {
    id: KindId::Sensor,
    word: "sensor",
    family: Family::Control,
    doc: "A sensor with supply and one signal, or several with `signals`.",
    terminals: &[
        Terminal::once("pos", &[], Role::SupplyPositive, "Positive supply."),
        Terminal::once("neg", &[], Role::SupplyNegative, "Negative supply and signal return."),
        Terminal::once("signal", &[], Role::Signal, "Signal."),
        Terminal::per(
            key::SIGNALS,
            "s{}",
            &[],
            Role::Signal,
            "One of several signals, as of a two-wire bus or an encoder.",
        ),
    ],
    ratings: RATINGS,
    example: "sensor LIDAR 4.5 V .. 5.5 V 150 mA push-pull { logic 3.3 V }",
};

const RATINGS: &[Rating] = &[
    draw::SUPPLY,
    shared::ABSOLUTE_MAX,
    draw::TYPICAL,
    draw::IDLE,
    draw::PEAK,
    draw::PEAK_TIME,
    draw::DRAWS,
    shared::CAPACITANCE,
    Rating::word(
        key::SIGNAL_TYPE,
        &[
            ("push-pull", "drives its signal both high and low"),
            ("open-drain", "only pulls its signal low; needs a pull-up to the level of the receiver"),
            ("tri-state", "drives both high and low, but lets go while another one on the line has its turn"),
            ("passive", "a contact or resistance that drives nothing"),
            ("analog", "a voltage that means a measured value"),
        ],
        "What drives its signal line.",
    )
    .inline(),
    Rating::quantity(
        key::SIGNALS,
        Number,
        "How many signal terminals it has besides `signal`: `s1`, `s2`, … . Sensors without it have the one.",
    )
    .between(1.0, 50.0),
    signal::PORT,
    signal::LOGIC,
    signal::SIGNAL_MAX,
    signal::OUTPUT_HIGH,
    signal::OUTPUT_LOW,
    signal::INPUT_HIGH,
    signal::INPUT_LOW,
    signal::LEAKAGE,
    signal::CLAMP_CURRENT,
    signal::COMMON_MODE,
    signal::TAKES_SIGNAL_UNPOWERED,
    signal::ADDRESS,
    signal::ADDRESSED_IN_TURN,
    draw::RESET_VOLTAGE,
    draw::INRUSH,
    draw::INRUSH_TIME,
    draw::ALLOWED_DROP,
    draw::ALWAYS_ON,
    draw::TAKES_REVERSAL,
];
