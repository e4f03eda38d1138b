//! Any other load.

use super::{coil, draw, motion, shared};
use crate::kind::{Family, Kind, KindId, Rating, Role, Terminal, key};

pub(super) const KIND: Kind = Kind {
    id: KindId::Load,
    word: "load",
    family: Family::Load,
    doc: "Anything else that uses energy: heater, fan, smoke machine, horn, solenoid, brake, camera.",
    terminals: &[
        Terminal::once("pos", &[], Role::SupplyPositive, "Positive supply."),
        Terminal::once("neg", &[], Role::SupplyNegative, "Negative supply."),
    ],
    ratings: RATINGS,
    example: "load FAN 12 V 0.25 A { peak 0.9 A; peak-time 2 s }",
};

const RATINGS: &[Rating] = &[
    draw::VOLTAGE,
    draw::SUPPLY_FROM_VOLTAGE,
    shared::ABSOLUTE_MAX,
    draw::TYPICAL_FROM_POWER,
    draw::IDLE,
    draw::PEAK,
    draw::PEAK_TIME,
    draw::POWER,
    draw::RESISTANCE,
    draw::DRAWS,
    shared::CAPACITANCE,
    draw::DUTY,
    draw::ON_TIME,
    draw::INRUSH,
    draw::INRUSH_TIME,
    draw::SOFT_START,
    draw::PULSED.else_no("a steady current is taken"),
    draw::RESET_VOLTAGE,
    draw::ALLOWED_DROP,
    draw::ALWAYS_ON,
    draw::TAKES_REVERSAL,
    coil::SUPPRESSION,
    Rating::word(
        key::BRAKE,
        &[
            ("spring-applied", "a spring brakes; power releases it, so it closes when power goes"),
            ("power-applied", "power brakes; it lets go when power goes"),
        ],
        "That it is the coil of a brake, and how the brake works. The motor says `held-by` and its name.",
    )
    .inline(),
    Rating::flag(key::PARKING_ONLY, "The brake holds what already stands; it is no part of stopping.")
        .else_no("careful: a brake is taken to be part of stopping"),
    motion::GANGED,
    motion::HARMLESS_MOTION,
    motion::FORCE,
    motion::TORQUE,
    motion::MOTION_POWER,
];
