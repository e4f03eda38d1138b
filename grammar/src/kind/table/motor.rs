//! The motor.

use super::{draw, motion, shared};
use crate::{
    kind::{Family, Kind, KindId, Rating, Role, Terminal, key},
    quantity::Dimension::{Current, Inductance, Power, Resistance, SpeedConstant, Voltage},
};

pub(super) const KIND: Kind = Kind {
    id: KindId::Motor,
    word: "motor",
    family: Family::Load,
    doc: "A direct-current motor: a winding in series with the voltage it makes by turning. Blocked it draws its stall \
          current; turned from outside it is a source. A brushless motor (three phases U V W, permanent magnets) has three \
          leads with `brushless`; it is computed between the first two, as a motor with brushes, and its third lead is taken to \
          carry the same current.",
    terminals: &[
        Terminal::once("a", &["pos", "1"], Role::MotorLead, "First lead; positive here turns it forward."),
        Terminal::once("b", &["neg", "2"], Role::MotorLead, "Second lead."),
        Terminal::once("c", &["3"], Role::MotorLead, "Third lead, phase W; there only with `brushless`.")
            .only_if(key::BRUSHLESS),
    ],
    ratings: RATINGS,
    example: "motor M-LEFT 24 V 6 A { stall 55 A; speed-constant 120 rpm/V }",
};

const RATINGS: &[Rating] = &[
    draw::VOLTAGE,
    motion::BRUSHLESS,
    Rating::quantity(key::TYPICAL, Current, "Current it draws in ordinary work, A.")
        .or_zero()
        .inline()
        .usually(0.005, 500.0)
        .else_from("`power` / `voltage`, where both are written"),
    Rating::quantity(key::STALL, Current, "Current it draws at its rated voltage when blocked, A.")
        .usually(0.03, 2000.0)
        .else_from("`voltage` / `resistance`, where both are written"),
    Rating::quantity(key::IDLE, Current, "Current it draws at its rated voltage when it runs free, A.")
        .or_zero()
        .usually(1e-3, 50.0),
    draw::PEAK.usually(0.01, 2000.0),
    draw::PEAK_TIME,
    Rating::quantity(key::CURRENT, Current, "Highest current it stands for long, A.").usually(0.005, 600.0),
    shared::BASIS,
    Rating::quantity(key::POWER, Power, "Electrical power it draws in ordinary work, W.")
        .inline()
        .usually(0.01, 3e4),
    Rating::quantity(key::RESISTANCE, Resistance, "Resistance of the winding between its leads, cold, Ω.")
        .inline()
        .usually(2e-3, 500.0)
        .else_from("`voltage` / `stall`, where both are written"),
    Rating::quantity(
        key::SPEED_CONSTANT,
        SpeedConstant,
        "Speed constant, rpm/V: the voltage it makes is its speed over this.",
    )
    .inline()
    .usually(0.05, 2e4),
    Rating::quantity(
        key::INDUCTANCE,
        Inductance,
        "Inductance of the winding, H: about five times this over the resistance is how long its current lasts after its \
         driver is switched off.",
    )
    .usually(1e-6, 0.5),
    Rating::quantity(
        key::PUSHED,
        Voltage,
        "Voltage it makes when it is turned as fast as the robot can be pushed or the joint moved by hand, V.",
    )
    .usually(0.1, 300.0)
    .else_from("`voltage`: taken to be pushed as fast as it drives"),
    Rating::flag(key::BACK_DRIVABLE, "The load can turn it, so that it makes a voltage when the robot is pushed.")
        .else_flag(true, "careful: only a self-locking gear prevents it"),
    motion::MOVED_MASS,
    motion::MOVED_SPEED,
    motion::MOVED_INERTIA,
    motion::MOVED_TURNING,
    motion::BRAKING_TIME,
    Rating::flag(key::ONE_WAY, "It turns one way only, on purpose: its driver never reverses it.")
        .inline()
        .else_no("careful: a motor is taken to be reversed"),
    Rating::flag(key::FLOATING, "Neither of its leads touches its case.")
        .else_no("careful: a lead is taken to be able to reach the frame through the case"),
    draw::DUTY,
    draw::ON_TIME,
    motion::GANGED,
    motion::CARRIES_WEIGHT,
    motion::BALANCED,
    motion::HELD_BY,
    motion::HARMLESS_MOTION,
    motion::FORCE,
    motion::TORQUE,
    motion::MOTION_POWER,
];
