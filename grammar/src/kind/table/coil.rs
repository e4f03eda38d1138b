//! Rows and terminals of parts that a coil moves: relay and contactor.

use crate::{
    kind::{Rating, Role, Terminal, key},
    quantity::Dimension::{Current, Resistance, Temperature, Voltage},
};

/// First coil end.
pub(super) const A1: Terminal = Terminal::once(
    "A1",
    &["86"],
    Role::CoilPositive,
    "Coil, the end towards positive (EN 50005 A1, DIN 72552 86); of a polarised coil it has to be.",
);

/// Second coil end.
pub(super) const A2: Terminal = Terminal::once(
    "A2",
    &["85"],
    Role::CoilNegative,
    "Coil, the end towards negative (EN 50005 A2, DIN 72552 85).",
);

/// Rated coil voltage.
pub(super) const COIL_VOLTAGE: Rating = Rating::quantity(
    key::COIL_VOLTAGE,
    Voltage,
    "Rated voltage of the coil, V. A voltage on the line means this one.",
)
.inline()
.usually(1.0, 130.0);

/// Coil current.
pub(super) const COIL: Rating =
    Rating::quantity(key::COIL, Current, "Current the coil draws at its rated voltage and 20 °C, A.")
        .usually(1e-3, 10.0);

/// Coil resistance.
pub(super) const COIL_RESISTANCE: Rating =
    Rating::quantity(key::COIL_RESISTANCE, Resistance, "Resistance of the coil at 20 °C, Ω.")
        .usually(0.5, 2e4)
        .else_from("`coil-voltage` / `coil`");

/// Voltage at which the contacts have operated.
pub(super) const OPERATE: Rating = Rating::quantity(
    key::OPERATE,
    Voltage,
    "Coil voltage at which the contacts are sure to have operated, V, at `operate-temperature`; a warmer coil needs more.",
)
.usually(0.5, 120.0)
.else_from("75 % of `coil-voltage`: must-operate is usually 70 % to 80 %, common practice");

/// Voltage below which the contacts have released.
pub(super) const RELEASE: Rating = Rating::quantity(
    key::RELEASE,
    Voltage,
    "Coil voltage below which the contacts are sure to have released, V. Above it a relay that has operated may stay in.",
)
.usually(0.02, 100.0)
.else_from("10 % of `coil-voltage`: must-release is usually about 10 %, common practice");

/// Highest coil voltage.
pub(super) const COIL_MAX: Rating =
    Rating::quantity(key::COIL_MAX, Voltage, "Highest voltage the coil may see for long, V.")
        .usually(1.0, 200.0)
        .else_from("110 % of `coil-voltage`, common practice");

/// Coil suppression.
pub(super) const SUPPRESSION: Rating = Rating::word(
    key::SUPPRESSION,
    &[
        ("absent", "nothing: opening the coil gives a spike of some hundred volts"),
        ("diode", "a diode across the coil, cathode to A1; the contacts release several times more slowly"),
        ("diode-zener", "a diode and a zener diode in series; little spike, quick release"),
        ("clamp", "a clamp that works both ways; some spike, quick release"),
        ("resistor", "a resistor across the coil; draws current all the time"),
    ],
    "What takes up the coil's energy when it is switched off, if it is part of the device.",
);

/// Temperature at which the operate voltage is stated.
pub(super) const OPERATE_TEMPERATURE: Rating = Rating::quantity(
    key::OPERATE_TEMPERATURE,
    Temperature,
    "Temperature of the coil at which the `operate` and `release` figures hold, °C.",
)
.usually(15.0, 130.0)
.else_number(20.0, "makers state coils at 20 °C or 23 °C, common practice");

/// Saves coil current.
pub(super) const ECONOMISER: Rating = Rating::flag(
    key::ECONOMISER,
    "Electronics in it lower the coil current once it has operated, and take a wide range of coil voltage.",
)
.else_no("a plain coil");

/// Coil current once operated.
pub(super) const HOLD_CURRENT: Rating = Rating::quantity(
    key::HOLD_CURRENT,
    Current,
    "Current the coil draws once the contacts have operated, A, where an economiser lowers it.",
)
.usually(1e-3, 5.0);

/// Held in on purpose.
pub(super) const SELF_HOLDING: Rating = Rating::flag(
    key::SELF_HOLDING,
    "Its coil is fed through its own contact on purpose: a start button pulls it in, a break contact in that feed drops it.",
)
.else_no("a coil that feeds itself is usually a mistake: it never starts or never stops");
