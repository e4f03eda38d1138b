//! The radio receiver.

use super::{draw, shared, signal};
use crate::kind::{Family, Kind, KindId, Rating, Role, Terminal, key};

pub(super) const KIND: Kind = Kind {
    id: KindId::Receiver,
    word: "receiver",
    family: Family::Control,
    doc: "A radio receiver with one signal for each channel.",
    terminals: &[
        Terminal::once(
            "pos",
            &[],
            Role::SupplyPositive,
            "Positive supply, also that of the channel headers.",
        ),
        Terminal::once("neg", &[], Role::SupplyNegative, "Negative supply and signal return."),
        Terminal::per(key::CHANNELS, "ch{}", &[], Role::Signal, "Signal of a channel."),
    ],
    ratings: RATINGS,
    example: "receiver RX 4.5 V .. 8.4 V 100 mA { channels 8; failsafe stops; failsafe-time 1 s }",
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
    shared::CHANNELS.else_number(8.0, "a usual size; write the number it has"),
    signal::PORT,
    signal::LOGIC,
    signal::SIGNAL_MAX,
    signal::OUTPUT_HIGH,
    signal::OUTPUT_LOW,
    signal::INPUT_HIGH,
    signal::INPUT_LOW,
    signal::TAKES_SIGNAL_UNPOWERED,
    signal::ADDRESS,
    signal::SERVO_RAIL,
    signal::FAILSAFE,
    signal::FAILSAFE_TIME,
    signal::FAILSAFE_TESTED,
    signal::ON_RESET,
    draw::RESET_VOLTAGE,
    draw::ALLOWED_DROP,
    draw::ALWAYS_ON,
    draw::TAKES_REVERSAL,
];
