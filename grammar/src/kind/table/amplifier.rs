//! The audio amplifier.

use super::{draw, shared};
use crate::{
    kind::{Family, Kind, KindId, Rating, Role, Terminal, key},
    quantity::Dimension::{Power, Ratio, Resistance},
};

pub(super) const KIND: Kind = Kind {
    id: KindId::Amplifier,
    word: "amplifier",
    family: Family::Conversion,
    doc: "An audio amplifier. The resistance on the line is the lowest speaker that a channel may drive, the power is \
          its highest output for each channel.",
    terminals: &[
        Terminal::once("pos", &[], Role::SupplyPositive, "Positive supply."),
        Terminal::once("neg", &[], Role::SupplyNegative, "Negative supply."),
        Terminal::once("in", &[], Role::Signal, "Sound input."),
        Terminal::once("in-neg", &[], Role::Signal, "Return of the sound input; not a power return."),
        Terminal::per(key::CHANNELS, "out{}-pos", &[], Role::SpeakerLead, "Speaker lead, positive."),
        Terminal::per(
            key::CHANNELS,
            "out{}-neg",
            &[],
            Role::SpeakerLead,
            "Speaker lead, negative; driven too when the outputs are bridged.",
        ),
    ],
    ratings: RATINGS,
    example: "amplifier AMP 10 V .. 26 V 1.2 A 4 ohm 50 W { channels 2 }",
};

const RATINGS: &[Rating] = &[
    draw::SUPPLY,
    shared::ABSOLUTE_MAX,
    draw::TYPICAL,
    draw::IDLE,
    draw::PEAK,
    draw::PEAK_TIME,
    Rating::quantity(key::POWER, Power, "Highest output power of each channel, W.")
        .inline()
        .usually(0.05, 3000.0),
    Rating::quantity(
        key::RESISTANCE,
        Resistance,
        "Lowest speaker resistance that each channel may drive, Ω.",
    )
    .inline()
    .usually(1.0, 600.0),
    shared::CHANNELS.else_number(1.0, "the simplest one"),
    Rating::quantity(key::EFFICIENCY, Ratio, "Output power / input power.")
        .else_number(0.85, "common practice for switching amplifiers near full output"),
    shared::CAPACITANCE,
    Rating::flag(
        key::BRIDGED,
        "Both leads of a speaker are driven, so that neither may touch negative or the frame.",
    )
    .else_flag(true, "careful: most amplifiers for low voltage are bridged"),
    draw::DUTY,
    draw::ON_TIME,
    draw::INRUSH,
    draw::INRUSH_TIME,
    draw::SOFT_START,
    draw::ALLOWED_DROP,
    draw::ALWAYS_ON,
    draw::TAKES_REVERSAL,
];
