//! The motor driver.

use super::{draw, shared};
use crate::{
    kind::{Family, Kind, KindId, Rating, Role, Terminal, key},
    quantity::Dimension::Current,
};

pub(super) const KIND: Kind = Kind {
    id: KindId::Driver,
    word: "driver",
    family: Family::Conversion,
    doc: "A motor driver. Its transistors' body diodes join every motor lead to both supply rails at all times, powered \
          or not: a motor that is turned by hand feeds its supply side. The current on the line is for each channel.",
    terminals: &[
        Terminal::once("pos", &[], Role::SupplyPositive, "Positive supply."),
        Terminal::once("neg", &[], Role::SupplyNegative, "Negative supply."),
        Terminal::per(key::CHANNELS, "m{}a", &[], Role::MotorLead, "First motor lead of a channel."),
        Terminal::per(key::CHANNELS, "m{}b", &[], Role::MotorLead, "Second motor lead of a channel."),
        Terminal::once("enable", &[], Role::Signal, "Enable input: without it the outputs are off."),
        Terminal::once("signal", &[], Role::Signal, "Command input."),
    ],
    ratings: RATINGS,
    example: "driver D-LEGS 6 V .. 30 V 25 A { channels 2; current-limit 30 A; capacitance 1000 uF }",
};

const RATINGS: &[Rating] = &[
    draw::SUPPLY,
    shared::ABSOLUTE_MAX,
    Rating::quantity(key::CURRENT, Current, "Highest continuous motor current of each channel, A.").inline(),
    shared::BASIS,
    shared::PEAK,
    shared::PEAK_TIME,
    Rating::quantity(key::CURRENT_LIMIT, Current, "Motor current that each channel limits itself to, A."),
    shared::CHANNELS.else_number(1.0, "the simplest one"),
    shared::CAPACITANCE,
    Rating::quantity(key::QUIESCENT, Current, "Current its supply draws with the motors off, A.").or_zero(),
    Rating::flag(key::REVERSING, "It turns its motor both ways; no diode may stand across such a motor.")
        .else_flag(true, "most drivers are full bridges"),
    Rating::flag(key::REGENERATES, "A braking motor's energy comes back to its supply terminals.")
        .else_flag(true, "careful: bridges give it back unless built against it"),
    shared::TAKES_BACK_FEED,
    shared::FAILSAFE,
    shared::FAILSAFE_TIME,
    shared::PORT,
    shared::LOGIC,
    shared::SIGNAL_MAX,
];
