//! Rows that tell what a load draws.

use super::shared;
use crate::{
    kind::{Rating, key},
    quantity::Dimension::{Current, Power, Ratio, Resistance, Time, Voltage},
};

/// Rated voltage of a load.
pub(super) const VOLTAGE: Rating = Rating::quantity(
    key::VOLTAGE,
    Voltage,
    "Rated voltage, V: the one that its current and power figures hold for.",
)
.inline()
.usually(1.0, 120.0);

/// Supply range of a load with a rated voltage.
pub(super) const SUPPLY_FROM_VOLTAGE: Rating = Rating::range(
    key::SUPPLY,
    Voltage,
    "Supply voltage it works with, V: below the lower end it fails or resets, above the upper end it may be destroyed. \
     One value alone means that value ± 10 %.",
)
.usually(0.8, 300.0)
.else_from("`voltage` ± 10 %, common practice");

/// Supply range of electronics, on the line.
pub(super) const SUPPLY: Rating = SUPPLY_IN_BLOCK.inline();

/// Supply range where a voltage on the line means something else.
pub(super) const SUPPLY_IN_BLOCK: Rating = Rating::range(
    key::SUPPLY,
    Voltage,
    "Supply voltage it works with, V: below the lower end it fails or resets, above the upper end it may be destroyed. \
     One value alone means that value ± 10 %.",
)
.usually(0.8, 300.0);

/// Current in ordinary work.
pub(super) const TYPICAL: Rating = TYPICAL_IN_BLOCK.inline();

/// Current in ordinary work where a current on the line means something else.
pub(super) const TYPICAL_IN_BLOCK: Rating =
    Rating::quantity(key::TYPICAL, Current, "Current it draws in ordinary work, A.")
        .or_zero()
        .usually(1e-5, 100.0);

/// Current in ordinary work of a load whose power may be written instead.
pub(super) const TYPICAL_FROM_POWER: Rating =
    TYPICAL.else_from("`power` / `voltage`, or `voltage` / `resistance`, whichever is written");

/// Current when idle.
pub(super) const IDLE: Rating =
    Rating::quantity(key::IDLE, Current, "Current it draws when powered but doing nothing, A.")
        .or_zero()
        .usually(1e-7, 20.0);

/// Highest current for a short time.
pub(super) const PEAK: Rating = Rating::quantity(
    key::PEAK,
    Current,
    "Highest current it draws for a short time, A; how long stands under `peak-time`.",
)
.usually(1e-4, 500.0);

/// Power drawn.
pub(super) const POWER: Rating =
    Rating::quantity(key::POWER, Power, "Power it draws in ordinary work, W.").inline().usually(1e-3, 2e4);

/// Resistance of a load.
pub(super) const RESISTANCE: Rating =
    Rating::quantity(key::RESISTANCE, Resistance, "Its resistance when warm, Ω, if it behaves as one.")
        .inline()
        .usually(0.02, 1e5);

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

/// Current at the moment of closing.
pub(super) const INRUSH: Rating = Rating::quantity(
    key::INRUSH,
    Current,
    "Highest current for the moment in which its supply is closed, A: of a cold lamp, a solenoid, a converter; capacitors \
     may stand under `capacitance` instead.",
)
.usually(1e-3, 2000.0);

/// How long that lasts.
pub(super) const INRUSH_TIME: Rating =
    Rating::quantity(key::INRUSH_TIME, Time, "How long the in-rush lasts, s.").usually(1e-6, 5.0);

/// Slow start.
pub(super) const SOFT_START: Rating = Rating::flag(
    key::SOFT_START,
    "It fills its capacitors or starts what it drives slowly by itself, so that there is next to no in-rush.",
)
.else_no("careful: full in-rush is taken");

/// Share of the time.
pub(super) const DUTY: Rating = Rating::quantity(
    key::DUTY,
    Ratio,
    "Share of the time that it draws its `typical` figure, `10 %`; for sound about 12 %, common practice.",
)
.else_from("the `duty` of the mode");

/// Longest time on at a stretch.
pub(super) const ON_TIME: Rating = Rating::quantity(
    key::ON_TIME,
    Time,
    "Longest time that it draws its `typical` figure at a stretch, s; then it rests.",
)
.usually(1e-3, 1e5);

/// Share of the voltage that may be lost.
pub(super) const ALLOWED_DROP: Rating = Rating::quantity(
    key::ALLOWED_DROP,
    Ratio,
    "Share of the source's voltage that may be lost on the way to it and back, `10 %`, as a heater stands more than a \
     radio.",
)
.else_from("down to the lower end of `supply`");

/// Not off when the robot is off.
pub(super) const ALWAYS_ON: Rating = Rating::flag(
    key::ALWAYS_ON,
    "It stays on when the robot is off, on purpose: a clock, a memory, a keep-alive supply, a sensor that wakes it.",
)
.else_no("off is taken to mean that nothing is drawn");

/// Current in pulses.
pub(super) const PULSED: Rating = Rating::flag(
    key::PULSED,
    "Its supply current is switched on and off quickly all the time, as by pulse-width modulation.",
);

/// Supply the wrong way round.
pub(super) const TAKES_REVERSAL: Rating =
    Rating::flag(key::TAKES_REVERSAL, "It takes no harm from a supply that is joined the wrong way round.")
        .else_no("careful: harm is assumed unless the maker says otherwise");

/// Voltage below which it resets.
pub(super) const RESET_VOLTAGE: Rating = Rating::quantity(
    key::RESET_VOLTAGE,
    Voltage,
    "Supply voltage below which it resets or loses what it was doing, V; may be below the lower end of `supply`.",
)
.usually(0.8, 60.0)
.else_from("the lower end of `supply`");
