//! The overvoltage clamp.

use super::shared;
use crate::{
    kind::{Family, Kind, KindId, Rating, Role, Terminal, key},
    quantity::Dimension::{Power, Resistance, Voltage},
};

pub(super) const KIND: Kind = Kind {
    id: KindId::Clamp,
    word: "clamp",
    family: Family::Protection,
    doc: "An overvoltage clamp or brake resistor with its switch: conducts above a voltage and turns the excess into \
          heat. It takes what braking or pushed motors give when no battery can.",
    terminals: &[
        Terminal::once("pos", &[], Role::SupplyPositive, "The side towards positive."),
        Terminal::once("neg", &[], Role::SupplyNegative, "The side towards negative."),
    ],
    ratings: RATINGS,
    example: "clamp BRAKE 29 V 100 W brake-resistor",
};

const RATINGS: &[Rating] = &[
    Rating::quantity(key::CLAMPS_AT, Voltage, "Voltage at which it begins to conduct, V.")
        .inline()
        .usually(1.5, 300.0),
    Rating::quantity(key::POWER, Power, "Power it can take for long, W.").inline().usually(0.05, 1e4),
    Rating::quantity(key::RESISTANCE, Resistance, "Its resistance while it conducts, Ω.")
        .inline()
        .usually(1e-3, 200.0),
    shared::PEAK,
    shared::PEAK_TIME,
    Rating::word(
        key::STYLE,
        &[
            ("brake-resistor", "a switch puts a resistor across the supply"),
            ("transient-diode", "an avalanche diode for short spikes; conducts as a diode when reversed"),
            ("varistor", "a varistor for short spikes, both ways; wears with each"),
            ("crowbar", "shorts the supply until its fuse opens"),
        ],
        "How it is built.",
    )
    .inline(),
];
