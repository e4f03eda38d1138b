//! The lamp, LED or strip.

use super::{draw, shared};
use crate::kind::{Family, Kind, KindId, Rating, Role, Terminal};

pub(super) const KIND: Kind = Kind {
    id: KindId::Light,
    word: "light",
    family: Family::Load,
    doc: "A lamp, a LED with its resistor or driver, or a strip.",
    terminals: &[
        Terminal::once("pos", &[], Role::SupplyPositive, "Positive supply."),
        Terminal::once("neg", &[], Role::SupplyNegative, "Negative supply."),
    ],
    ratings: RATINGS,
    example: "light EYES 12 V 0.4 A",
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
