//! What the `robot` can carry.

use super::{
    super::{Rating, RatingShape, colour, key},
    ATTENDED, CONFIRMED, NOTE, VERIFIED, wire,
};
use crate::quantity::Dimension::{Number, Resistance, Temperature, Time};

/// What the `robot` can carry.
pub const ROBOT: &[Rating] = &[
    Rating::range(
        key::AMBIENT,
        Temperature,
        "Air temperature around the robot, °C; the upper end counts for wires.",
    )
    .usually(-40.0, 85.0)
    .else_number(40.0, "careful: an enclosed robot indoors; common practice"),
    Rating::word(
        key::PROFILE,
        &[
            ("boat", "33 CFR 183.425 table 5 for conductors, with its bundle factors"),
            ("aircraft", "AC 43.13-1B chapter 11: device table 11-3 and continuous table 11-9, which is for large bundles in thin air"),
            (
                "still-air",
                "a heat balance of the wire in still air: Churchill and Chu convection and radiation",
            ),
            ("own", "the author's own table in the settings file `wattle.toml`, with its name and source"),
        ],
        "The published basis by which conductors and their protection are judged; every report names it.",
    )
    .else_word(
        "boat",
        "a published rule for small direct-current plants that has a column for low-class insulation",
    ),
    wire::INSULATION_OF_MANY,
    wire::INSULATION_VOLTAGE,
    wire::INSULATION_RESISTS,
    wire::MATERIAL_OF_ALL,
    wire::STRANDS_OF_ALL,
    Rating::of(
        key::POSITIVE_COLOURS,
        RatingShape::Words(colour::WORDS),
        "Colours that mean positive in this robot: `positive-colours red yellow`. Schemes differ between trades, so the \
         builder's own counts.",
    ),
    Rating::of(
        key::NEGATIVE_COLOURS,
        RatingShape::Words(colour::WORDS),
        "Colours that mean negative in this robot: `negative-colours black`.",
    ),
    Rating::word(
        key::STAGE,
        &[
            ("concept", "on paper: lengths and routes are not known yet"),
            ("build", "being built: some of it is measured, some not"),
            ("built", "finished: what is written is what stands there"),
        ],
        "How far the robot has come.",
    )
    .else_word("built", "careful: the file is taken to describe a robot that runs"),
    Rating::flag(
        key::ALL_OFF_ON_FAULT,
        "Any fault may take all power away at once: nothing has to go on working.",
    )
    .else_no("careful: radio, signals and stop are taken to have to outlive a fault elsewhere"),
    Rating::flag(
        key::ALL_OFF_ON_STOP,
        "A stop takes away all power, also that of radio, lights and sound: nothing stores motion that they would have \
         to warn of.",
    )
    .else_no("careful: signals are taken to have to go on when motion stops"),
    Rating::flag(
        key::INSULATION_MONITOR,
        "A monitor watches the insulation of the supply against the frame all the time and reports the first fault.",
    )
    .else_no("few small robots have one"),
    Rating::quantity(
        key::INSULATION_RESISTANCE,
        Resistance,
        "Insulation of the supply against the frame, Ω, as measured: `insulation-resistance 2 Mohm measured 2026-05-01`.",
    )
    .between(1.0, 1e13)
    .usually(1e3, 1e12),
    Rating::flag(
        key::FENCED,
        "Nobody can come within reach of it while it is powered: a fence, a wall or the edge of a stage keeps people \
         away.",
    )
    .else_no("careful: people are taken to stand beside it"),
    ATTENDED.else_no("careful: nobody is taken to stand by"),
    Rating::quantity(
        key::ATTENDANTS,
        Number,
        "How many people stand by whenever it is powered, each of whom reaches a disconnect and knows it.",
    )
    .between(1.0, 100.0),
    Rating::quantity(
        key::DEAD_WITHIN,
        Time,
        "Time within which somebody has to be able to make it dead, s, by the rules of the place where it runs. What it takes \
         stands on the disconnect, under the same key.",
    )
    .usually(0.1, 600.0),
    Rating::flag(
        key::WITHOUT_SPARES,
        "Its joints have no spare contacts and conductors on purpose, as in a small robot.",
    )
    .else_no("the first change to a joint without spares needs a new harness"),
    VERIFIED,
    CONFIRMED,
    NOTE,
];
