//! Rows and terminals of parts that a coil moves: relay and contactor.

use crate::{
    kind::{Rating, Role, Terminal, key},
    quantity::Dimension::{Current, Resistance, Voltage},
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
.inline();

/// Coil current.
pub(super) const COIL: Rating =
    Rating::quantity(key::COIL, Current, "Current the coil draws at its rated voltage and 20 °C, A.");

/// Coil resistance.
pub(super) const COIL_RESISTANCE: Rating =
    Rating::quantity(key::COIL_RESISTANCE, Resistance, "Resistance of the coil at 20 °C, Ω.")
        .else_from("`coil-voltage` / `coil`");

/// Voltage at which the contacts have operated.
pub(super) const OPERATE: Rating = Rating::quantity(
    key::OPERATE,
    Voltage,
    "Coil voltage at which the contacts are sure to have operated, V, at 20 °C; a warm coil needs more.",
)
.else_from("75 % of `coil-voltage`: must-operate is usually 70 % to 80 %, common practice");

/// Voltage below which the contacts have released.
pub(super) const RELEASE: Rating = Rating::quantity(
    key::RELEASE,
    Voltage,
    "Coil voltage below which the contacts are sure to have released, V. Above it a relay that has operated may stay in.",
)
.else_from("10 % of `coil-voltage`: must-release is usually about 10 %, common practice");

/// Highest coil voltage.
pub(super) const COIL_MAX: Rating =
    Rating::quantity(key::COIL_MAX, Voltage, "Highest voltage the coil may see for long, V.")
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
