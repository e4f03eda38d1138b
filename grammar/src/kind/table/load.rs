//! Any other load.

use super::{draw, shared};
use crate::kind::{Family, Kind, KindId, Rating, Role, Terminal};

pub(super) const KIND: Kind = Kind {
    id: KindId::Load,
    word: "load",
    family: Family::Load,
    doc: "Anything else that uses energy: heater, fan, smoke machine, horn, solenoid, camera.",
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
];
