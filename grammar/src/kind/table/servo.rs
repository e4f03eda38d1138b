//! The servo.

use super::{draw, shared};
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
        .inline(),
    draw::IDLE,
    Rating::quantity(key::STALL, Current, "Current it draws when blocked, A."),
    draw::PEAK,
    draw::PEAK_TIME,
    shared::CAPACITANCE,
    Rating::flag(key::BACK_DRIVABLE, "The load can turn it.")
        .else_flag(true, "careful: most gears can be turned from outside"),
    shared::FAILSAFE,
    shared::PORT,
    shared::LOGIC,
    shared::SIGNAL_MAX,
];
