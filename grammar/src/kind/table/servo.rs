//! The servo.

use super::{draw, motion, shared, signal};
use crate::{
    kind::{Family, Kind, KindId, Rating, Role, Terminal, key},
    quantity::Dimension::Current,
};

pub(super) const KIND: Kind = Kind {
    id: KindId::Servo,
    word: "servo",
    family: Family::Load,
    doc: "A servo with its own electronics. Blocked it draws its stall current from the supply; several moving at once \
          add up.",
    terminals: &[
        Terminal::once("pos", &[], Role::SupplyPositive, "Positive supply, the middle one of three."),
        Terminal::once("neg", &[], Role::SupplyNegative, "Negative supply and signal return."),
        Terminal::once("signal", &[], Role::Signal, "Command pulse."),
    ],
    ratings: RATINGS,
    example: "servo EAR 4.8 V .. 6 V 0.3 A { idle 10 mA; stall 1.8 A }",
};

const RATINGS: &[Rating] = &[
    draw::SUPPLY,
    shared::ABSOLUTE_MAX,
    Rating::quantity(key::TYPICAL, Current, "Current it draws while it moves in ordinary work, A.")
        .or_zero()
        .inline()
        .usually(5e-3, 20.0),
    draw::IDLE,
    Rating::quantity(key::STALL, Current, "Current it draws when blocked, A.").usually(0.3, 15.0),
    draw::PEAK.usually(0.05, 30.0),
    draw::PEAK_TIME,
    shared::CAPACITANCE,
    Rating::flag(key::BACK_DRIVABLE, "The load can turn it.")
        .else_flag(true, "careful: most gears can be turned from outside"),
    draw::DUTY,
    draw::ON_TIME,
    draw::RESET_VOLTAGE,
    draw::ALLOWED_DROP,
    draw::TAKES_REVERSAL,
    motion::GANGED,
    motion::CARRIES_WEIGHT,
    motion::HELD_BY,
    motion::HARMLESS_MOTION,
    motion::FORCE,
    motion::TORQUE,
    motion::MOTION_POWER,
    signal::FAILSAFE,
    signal::FAILSAFE_TIME,
    signal::FAILSAFE_TESTED,
    signal::PORT,
    signal::LOGIC,
    signal::SIGNAL_MAX,
    signal::INPUT_HIGH,
    signal::INPUT_LOW,
    signal::TAKES_SIGNAL_UNPOWERED,
    signal::ADDRESS,
    signal::ADDRESSED_IN_TURN,
];
