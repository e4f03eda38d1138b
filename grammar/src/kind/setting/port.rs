//! What a signal terminal can be, on a line with the key `port`.

use super::super::{Rating, RatingShape, key};
use crate::quantity::Dimension::{Frequency, Resistance, Voltage};

/// What a signal terminal can be, on a line with the key `port`.
pub const PORT: &[Rating] = &[
    Rating::word(
        key::DIRECTION,
        &[
            ("input", "the part listens here"),
            ("output", "the part drives here"),
            ("both", "now one, now the other, as on a bus"),
        ],
        "Whether the signal comes in or goes out.",
    )
    .inline(),
    Rating::word(
        key::SIGNAL_TYPE,
        &[
            ("push-pull", "drives its signal both high and low"),
            ("open-drain", "only pulls its signal low; needs a pull-up to the level of the receiver"),
            ("tri-state", "drives both high and low, but lets go while another one on the line has its turn"),
            ("passive", "a contact or resistance that drives nothing"),
            ("analog", "a voltage that means a measured value"),
            ("differential", "one of a pair whose difference counts"),
        ],
        "What drives the line.",
    )
    .inline(),
    Rating::word(
        key::PULL,
        &[
            ("pull-up", "a resistor holds the line high while nothing drives it"),
            ("pull-down", "a resistor holds the line low while nothing drives it"),
            ("terminated", "a resistor ends the line, as at both ends of a bus"),
            ("floating", "nothing holds the line while nothing drives it"),
        ],
        "What holds the line inside the part.",
    )
    .inline(),
    Rating::quantity(key::RESISTANCE, Resistance, "The resistor that holds or ends the line, Ω.")
        .inline()
        .usually(30.0, 1e6),
    Rating::quantity(key::LOGIC, Voltage, "Voltage of the signal when it is high, V.")
        .inline()
        .usually(0.5, 60.0),
    Rating::quantity(
        key::BUS_SPEED,
        Frequency,
        "Clock or bit rate of the bus, Hz; a bit rate counts as 1 Hz for 1 bit/s.",
    )
    .between(1.0, 1e10)
    .inline()
    .usually(50.0, 1e9),
    Rating::flag(
        key::ISOLATED,
        "A barrier insulates the terminal from the supply of the part, as an optocoupler does.",
    )
    .inline()
    .else_no("signals are taken to share the negative of their part"),
    Rating::flag(key::BUFFERED, "A bus buffer, extender or line driver stands here, made for long lines.")
        .inline()
        .else_no("an ordinary terminal is made for short lines"),
    Rating::flag(
        key::FROM_RESET,
        "What holds the line is there from reset on, before any program has set it up.",
    )
    .inline()
    .else_no("careful: what a program sets up is missing while the part starts"),
    Rating::flag(key::EITHER_POLARITY, "It finds out by itself which conductor of a pair is which.")
        .inline()
        .else_no("a pair has its order"),
    Rating::flag(key::LOSS_HARMLESS, "Nothing bad follows when this line breaks, as with a signal lamp.")
        .inline()
        .else_no("careful: a broken wire is taken to matter"),
    Rating::of(key::NOTE, RatingShape::Text, "What the signal is for.").inline(),
];
