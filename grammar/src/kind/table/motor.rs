//! The direct-current motor.

use super::draw;
use crate::{
    kind::{Family, Kind, KindId, Rating, Role, Terminal, key},
    quantity::Dimension::{Current, Power, Resistance, SpeedConstant, Voltage},
};

pub(super) const KIND: Kind = Kind {
    id: KindId::Motor,
    word: "motor",
    family: Family::Load,
    doc: "A direct-current motor: a winding in series with the voltage it makes by turning. Blocked it draws its stall \
          current; turned from outside it is a source.",
    terminals: &[
        Terminal::once("a", &["pos", "1"], Role::MotorLead, "First lead; positive here turns it forward."),
        Terminal::once("b", &["neg", "2"], Role::MotorLead, "Second lead."),
    ],
    ratings: RATINGS,
    example: "motor M-LEFT 24 V 6 A { stall 55 A; speed-constant 120 rpm/V }",
};

const RATINGS: &[Rating] = &[
    draw::VOLTAGE,
    Rating::quantity(key::TYPICAL, Current, "Current it draws in ordinary work, A.")
        .or_zero()
        .inline()
        .else_from("`power` / `voltage`, where both are written"),
    Rating::quantity(key::STALL, Current, "Current it draws at its rated voltage when blocked, A.")
        .else_from("`voltage` / `resistance`, where both are written"),
    Rating::quantity(key::IDLE, Current, "Current it draws at its rated voltage when it runs free, A.").or_zero(),
    draw::PEAK,
    draw::PEAK_TIME,
    Rating::quantity(key::CURRENT, Current, "Highest current it stands for long, A."),
    Rating::quantity(key::POWER, Power, "Electrical power it draws in ordinary work, W.").inline(),
    Rating::quantity(key::RESISTANCE, Resistance, "Resistance of the winding between its leads, cold, Ω.")
        .inline()
        .else_from("`voltage` / `stall`, where both are written"),
    Rating::quantity(
        key::SPEED_CONSTANT,
        SpeedConstant,
        "Speed constant, rpm/V: the voltage it makes is its speed over this.",
    )
    .inline(),
    Rating::quantity(
        key::PUSHED,
        Voltage,
        "Voltage it makes when it is turned as fast as the robot can be pushed or the joint moved by hand, V.",
    )
    .else_from("`voltage`: taken to be pushed as fast as it drives"),
    Rating::flag(key::BACK_DRIVABLE, "The load can turn it, so that it makes a voltage when the robot is pushed.")
        .else_flag(true, "careful: only a self-locking gear prevents it"),
];
