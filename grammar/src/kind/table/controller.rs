//! The controller or computer.

use super::{draw, shared, signal, source};
use crate::{
    kind::{Family, Kind, KindId, Rating, Role, Terminal, key},
    quantity::Dimension::Number,
};

pub(super) const KIND: Kind = Kind {
    id: KindId::Controller,
    word: "controller",
    family: Family::Control,
    doc: "A controller board or computer with signal terminals.",
    terminals: &[
        Terminal::once("pos", &[], Role::SupplyPositive, "Positive supply."),
        Terminal::once("neg", &[], Role::SupplyNegative, "Negative supply and signal return."),
        Terminal::per(key::SIGNALS, "s{}", &[], Role::Signal, "Signal, input or output."),
    ],
    ratings: RATINGS,
    example: "controller BRAIN 4.75 V .. 5.25 V 0.8 A { peak 2.5 A; signals 12; logic 3.3 V }",
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
    Rating::quantity(key::SIGNALS, Number, "How many signal terminals it has.")
        .between(1.0, 200.0)
        .else_number(16.0, "enough for a small board; write the number it has"),
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
    signal::SERVO_RAIL,
    signal::FAILSAFE,
    signal::FAILSAFE_TIME,
    signal::FAILSAFE_TESTED,
    signal::ON_RESET,
    draw::RESET_VOLTAGE,
    draw::INRUSH,
    draw::INRUSH_TIME,
    draw::SOFT_START,
    draw::ALLOWED_DROP,
    draw::ALWAYS_ON,
    draw::TAKES_REVERSAL,
    source::EARTHED,
];
