//! Rows that tell what a load draws.

use super::shared;
use crate::{
    kind::{Rating, key},
    quantity::Dimension::{Current, Power, Resistance, Voltage},
};

/// Rated voltage of a load.
pub(super) const VOLTAGE: Rating = Rating::quantity(
    key::VOLTAGE,
    Voltage,
    "Rated voltage, V: the one that its current and power figures hold for.",
)
.inline();

/// Supply range of a load with a rated voltage.
pub(super) const SUPPLY_FROM_VOLTAGE: Rating = Rating::range(
    key::SUPPLY,
    Voltage,
    "Supply voltage it works with, V: below the lower end it fails or resets, above the upper end it may be destroyed. \
     One value alone means that value ± 10 %.",
)
.else_from("`voltage` ± 10 %, common practice");

/// Supply range of electronics, on the line.
pub(super) const SUPPLY: Rating = Rating::range(
    key::SUPPLY,
    Voltage,
    "Supply voltage it works with, V: below the lower end it fails or resets, above the upper end it may be destroyed. \
     One value alone means that value ± 10 %.",
)
.inline();

/// Current in ordinary work.
pub(super) const TYPICAL: Rating =
    Rating::quantity(key::TYPICAL, Current, "Current it draws in ordinary work, A.").or_zero().inline();

/// Current in ordinary work of a load whose power may be written instead.
pub(super) const TYPICAL_FROM_POWER: Rating =
    TYPICAL.else_from("`power` / `voltage`, or `voltage` / `resistance`, whichever is written");

/// Current when idle.
pub(super) const IDLE: Rating =
    Rating::quantity(key::IDLE, Current, "Current it draws when powered but doing nothing, A.").or_zero();

/// Highest current for a short time.
pub(super) const PEAK: Rating = Rating::quantity(
    key::PEAK,
    Current,
    "Highest current it draws for a short time, A; how long stands under `peak-time`.",
);

/// Power drawn.
pub(super) const POWER: Rating =
    Rating::quantity(key::POWER, Power, "Power it draws in ordinary work, W.").inline();

/// Resistance of a load.
pub(super) const RESISTANCE: Rating =
    Rating::quantity(key::RESISTANCE, Resistance, "Its resistance when warm, Ω, if it behaves as one.")
        .inline();

/// What the current does when the voltage changes.
pub(super) const DRAWS: Rating = Rating::word(
    key::DRAWS,
    &[
        ("current", "the same current whatever the voltage, as electronics with a linear regulator do"),
        (
            "power",
            "the same power: the current rises when the voltage falls, as behind a switching regulator",
        ),
        ("resistance", "in proportion to the voltage, as a heater or coil does"),
    ],
    "What its current does when the voltage changes.",
)
.else_from(
    "what is written tells: `power` alone means power, `resistance` alone means resistance, else current",
);

/// How long the peak lasts.
pub(super) const PEAK_TIME: Rating = shared::PEAK_TIME;
