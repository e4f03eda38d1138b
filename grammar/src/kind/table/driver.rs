//! The motor driver.

use super::{draw, motion, shared, signal};
use crate::{
    kind::{Family, Kind, KindId, Rating, RatingShape, Role, Terminal, key},
    quantity::Dimension::{Current, Length, Number, Voltage},
};

pub(super) const KIND: Kind = Kind {
    id: KindId::Driver,
    word: "driver",
    family: Family::Conversion,
    doc: "A motor driver. Its transistors' body diodes join every motor lead to both supply rails at all times, powered \
          or not: a motor that is turned by hand feeds its supply side. The current on the line is for each channel. One for \
          brushless motors (an electronic speed controller, a three-phase inverter) says `brushless` and has three leads.",
    terminals: &[
        Terminal::once("pos", &[], Role::SupplyPositive, "Positive supply."),
        Terminal::once("neg", &[], Role::SupplyNegative, "Negative supply."),
        Terminal::per(key::CHANNELS, "m{}a", &[], Role::MotorLead, "First motor lead of a channel."),
        Terminal::per(key::CHANNELS, "m{}b", &[], Role::MotorLead, "Second motor lead of a channel."),
        Terminal::per(
            key::CHANNELS,
            "m{}c",
            &[],
            Role::MotorLead,
            "Third motor lead of a channel, phase W; there only with `brushless`.",
        )
        .only_if(key::BRUSHLESS),
        Terminal::once("enable", &[], Role::Signal, "Enable input: without it the outputs are off."),
        Terminal::once("signal", &[], Role::Signal, "Command input."),
        Terminal::per(
            key::SIGNALS,
            "s{}",
            &[],
            Role::Signal,
            "One of several further commands: of a second channel, of a bus of two wires.",
        ),
    ],
    ratings: RATINGS,
    example: "driver D-LEGS 6 V .. 30 V 25 A { channels 2; current-limit 30 A; capacitance 1000 uF; takes-back-feed }",
};

const RATINGS: &[Rating] = &[
    draw::SUPPLY,
    shared::ABSOLUTE_MAX,
    Rating::quantity(key::CURRENT, Current, "Highest continuous motor current of each channel, A.")
        .inline()
        .usually(0.05, 600.0),
    shared::BASIS,
    shared::PEAK,
    shared::PEAK_TIME,
    Rating::quantity(key::CURRENT_LIMIT, Current, "Motor current that each channel limits itself to, A.")
        .usually(0.05, 1500.0),
    shared::CHANNELS.else_number(1.0, "the simplest one"),
    motion::BRUSHLESS,
    Rating::quantity(
        key::SIGNALS,
        Number,
        "How many command terminals it has besides `signal`: `s1`, `s2`, … . Drivers without it have the one.",
    )
    .between(1.0, 50.0),
    shared::CAPACITANCE,
    Rating::quantity(key::QUIESCENT, Current, "Current its supply draws with the motors off, A.")
        .or_zero()
        .usually(1e-6, 2.0),
    Rating::quantity(key::STANDBY, Current, "Current its supply draws while `enable` is off, A.")
        .or_zero()
        .usually(1e-7, 1.0)
        .else_from("`quiescent`"),
    Rating::flag(key::REVERSING, "It turns its motor both ways; no diode may stand across such a motor.")
        .else_flag(true, "most drivers are full bridges"),
    Rating::flag(key::REGENERATES, "A braking motor's energy comes back to its supply terminals.")
        .else_flag(true, "careful: bridges give it back unless built against it"),
    shared::TAKES_BACK_FEED,
    signal::FAILSAFE,
    signal::FAILSAFE_TIME,
    signal::FAILSAFE_TESTED,
    signal::ON_RESET,
    Rating::flag(
        key::ARMS_AT_NEUTRAL,
        "After it has started it moves only once it has seen a valid command for standstill.",
    )
    .else_no("careful: it is taken to follow whatever its input says"),
    Rating::of(
        key::SAFE_TORQUE_OFF,
        RatingShape::Text,
        "The standard and level to which its enable input is certified to take the torque away: `safe-torque-off \"IEC \
         61800-5-2, SIL 3\"`.",
    ),
    Rating::flag(
        key::PARALLEL_CHANNELS,
        "Its channels are joined to drive one motor, in a mode that its maker provides.",
    )
    .else_no("channels that are joined push current into each other"),
    Rating::quantity(
        key::LONGEST_LEAD,
        Length,
        "Longest supply lead that its maker allows without further capacitors, m, one way.",
    )
    .usually(0.02, 20.0),
    Rating::quantity(
        key::CUTOFF,
        Voltage,
        "Supply voltage below which it switches its outputs off by itself, V.",
    )
    .usually(1.0, 120.0),
    draw::PULSED.else_flag(true, "nearly all drivers chop"),
    draw::INRUSH,
    draw::INRUSH_TIME,
    draw::SOFT_START,
    draw::RESET_VOLTAGE,
    draw::ALLOWED_DROP,
    draw::TAKES_REVERSAL,
    signal::SERVO_RAIL,
    signal::PORT,
    signal::LOGIC,
    signal::SIGNAL_MAX,
    signal::INPUT_HIGH,
    signal::INPUT_LOW,
    signal::TAKES_SIGNAL_UNPOWERED,
    signal::ADDRESS,
    signal::ADDRESSED_IN_TURN,
];
