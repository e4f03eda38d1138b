//! The lamp, LED or strip.

use super::{draw, shared, signal};
use crate::{
    kind::{Family, Kind, KindId, Rating, Role, Terminal, key},
    quantity::Dimension::{Current, Length, Number, ResistancePerLength, Voltage},
};

pub(super) const KIND: Kind = Kind {
    id: KindId::Light,
    word: "light",
    family: Family::Load,
    doc: "A lamp, a LED with its resistor or driver, or a strip.",
    terminals: &[
        Terminal::once("pos", &[], Role::SupplyPositive, "Positive supply."),
        Terminal::once("neg", &[], Role::SupplyNegative, "Negative supply."),
        Terminal::per(key::DATA_LINES, "d{}", &["data"], Role::Signal, "Data into an addressable strip."),
        Terminal::per(key::DATA_LINES, "o{}", &["data-out"], Role::Signal, "Data on to the next strip."),
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
    Rating::flag(key::LIMITS_ITSELF, "A resistor or driver inside it limits its current; it may be joined to its voltage.")
        .else_flag(true, "a light is taken to be sold for its voltage; a bare LED says `not limits-itself`"),
    Rating::quantity(key::FORWARD, Voltage, "Voltage across a bare LED or string of LEDs while it shines, V.")
        .usually(1.0, 120.0),
    Rating::quantity(
        key::DATA_LINES,
        Number,
        "How many data lines an addressable strip has: 1, or 2 where a clock runs beside the data. Lights without it have \
         none.",
    )
    .between(1.0, 4.0),
    signal::LOGIC,
    signal::SIGNAL_MAX,
    signal::INPUT_HIGH,
    Rating::quantity(
        key::CURRENT_LIMIT,
        Current,
        "Current above which its program or driver never lets it go, A, as a cap on the brightness of a strip does.",
    )
    .usually(1e-3, 100.0),
    Rating::quantity(
        key::RESISTANCE_PER_LENGTH,
        ResistancePerLength,
        "Resistance of the copper of a strip, both conductors together, Ω/m. The far end of a strip is not computed.",
    )
    .usually(1e-3, 5.0),
    Rating::quantity(key::LENGTH, Length, "Length of a strip, m.").usually(0.01, 50.0),
    draw::DUTY,
    draw::ON_TIME,
    draw::INRUSH,
    draw::INRUSH_TIME,
    draw::SOFT_START,
    draw::PULSED.else_no("a steady current is taken"),
    draw::ALLOWED_DROP,
    draw::ALWAYS_ON,
    draw::TAKES_REVERSAL,
];
