//! Quantities: numbers with a dimension, and the typed units that the physics is written in.
//!
//! A [`Quantity`] is what the text holds: a value in the dimension's base unit. A typed unit such as [`Volts`]
//! is what a formula takes: it cannot be mixed up with another. Base units are the ones a builder reads off a
//! label, so a stored value never surprises: volt, ampere, ohm, watt, ampere-hour, metre, square millimetre, degree
//! Celsius.

mod arithmetic;
mod written;

use std::fmt;

pub use arithmetic::Unfit;

/// What a number measures. The doc of each variant names the base unit that values are stored in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Dimension {
    /// A bare number or a count of things, base unit 1.
    Number,
    /// A share of a whole, base unit 1; `70 %` is 0.7.
    Ratio,
    /// Volt.
    Voltage,
    /// Ampere.
    Current,
    /// Ohm.
    Resistance,
    /// Watt.
    Power,
    /// Watt-hour.
    Energy,
    /// Ampere-hour.
    Charge,
    /// Multiple of the capacity per hour, `25 C`.
    ChargeRate,
    /// Metre.
    Length,
    /// Square millimetre; an AWG number is stored as the area it stands for.
    Area,
    /// Degree Celsius, a point on the scale.
    Temperature,
    /// Kelvin, a difference.
    TemperatureDifference,
    /// Second.
    Time,
    /// Farad.
    Capacitance,
    /// Henry.
    Inductance,
    /// Hertz.
    Frequency,
    /// Revolution per minute.
    RotationalSpeed,
    /// Metre per second.
    Speed,
    /// Revolution per minute per volt: the speed constant of a motor.
    SpeedConstant,
    /// Ohm per metre.
    ResistancePerLength,
    /// Ampere squared second: melting energy of a fuse.
    CurrentSquaredTime,
    /// Newton.
    Force,
    /// Newton metre.
    Torque,
    /// Kilogram.
    Mass,
    /// Kilogram square metre: what a turning mass sets against being turned faster or slower.
    MomentOfInertia,
    /// Cells in series, `6S`.
    Cells,
    /// Strings in parallel, `2P`.
    Strings,
    /// Ways of a connector or a block, `4 way`.
    Ways,
    /// Poles of a switch or relay, `2 pole`.
    Poles,
}

/// A number with its dimension, in the dimension's base unit, and the unit symbol it was written with.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Quantity {
    /// The value in the base unit of `dimension`. Always finite.
    pub value: f64,
    /// What it measures.
    pub dimension: Dimension,
    /// The written unit's canonical symbol (`mA`, `AWG`, `mm²`), empty for a bare number or a computed value.
    pub unit: &'static str,
}

/// A typed unit: a plain number that cannot be mixed up with another unit.
pub trait Unit: Copy + PartialOrd + fmt::Debug {
    /// The dimension of the unit.
    const DIMENSION: Dimension;
    /// The unit's symbol as printed.
    const SYMBOL: &'static str;
    /// Wraps a value given in the base unit.
    fn from_base(value: f64) -> Self;
    /// The value in the base unit.
    fn base(self) -> f64;
}

/// Declares the typed units; each is a newtype over `f64` with the arithmetic that keeps its dimension.
macro_rules! units {
    ($($(#[$doc:meta])* $name:ident, $dimension:ident, $symbol:literal;)*) => {$(
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, Default, PartialEq, PartialOrd)]
        pub struct $name(pub f64);

        impl Unit for $name {
            const DIMENSION: Dimension = Dimension::$dimension;
            const SYMBOL: &'static str = $symbol;
            fn from_base(value: f64) -> Self { Self(value) }
            fn base(self) -> f64 { self.0 }
        }

        impl $name {
            /// The larger of two; a NaN loses.
            #[must_use]
            pub fn max(self, other: Self) -> Self { Self(self.0.max(other.0)) }
            /// The smaller of two; a NaN loses.
            #[must_use]
            pub fn min(self, other: Self) -> Self { Self(self.0.min(other.0)) }
            /// The magnitude.
            #[must_use]
            pub fn abs(self) -> Self { Self(self.0.abs()) }
        }

        impl std::ops::Add for $name { type Output = Self; fn add(self, other: Self) -> Self { Self(self.0 + other.0) } }
        impl std::ops::Sub for $name { type Output = Self; fn sub(self, other: Self) -> Self { Self(self.0 - other.0) } }
        impl std::ops::Neg for $name { type Output = Self; fn neg(self) -> Self { Self(-self.0) } }
        impl std::ops::Mul<f64> for $name { type Output = Self; fn mul(self, factor: f64) -> Self { Self(self.0 * factor) } }
        impl std::ops::Div<f64> for $name { type Output = Self; fn div(self, divisor: f64) -> Self { Self(self.0 / divisor) } }
        impl std::ops::Div for $name { type Output = f64; fn div(self, other: Self) -> f64 { self.0 / other.0 } }
        impl std::iter::Sum for $name { fn sum<I: Iterator<Item = Self>>(parts: I) -> Self { Self(parts.map(|part| part.0).sum()) } }

        impl fmt::Display for $name {
            fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                crate::unit::write_scaled(f, self.0, $symbol)
            }
        }
    )*};
}

units! {
    /// Electric potential difference, volt.
    Volts, Voltage, "V";
    /// Electric current, ampere.
    Amps, Current, "A";
    /// Resistance, ohm.
    Ohms, Resistance, "Ω";
    /// Power, watt.
    Watts, Power, "W";
    /// Energy, watt-hour.
    WattHours, Energy, "Wh";
    /// Charge, ampere-hour.
    AmpHours, Charge, "Ah";
    /// Discharge or charge rate, multiple of the capacity per hour.
    CRate, ChargeRate, "C";
    /// Length, metre.
    Metres, Length, "m";
    /// Cross-section, square millimetre.
    SquareMm, Area, "mm²";
    /// Temperature, degree Celsius.
    Celsius, Temperature, "°C";
    /// Temperature difference, kelvin.
    Kelvins, TemperatureDifference, "K";
    /// Time, second.
    Seconds, Time, "s";
    /// Capacitance, farad.
    Farads, Capacitance, "F";
    /// Inductance, henry.
    Henries, Inductance, "H";
    /// Rotational speed, revolution per minute.
    Rpm, RotationalSpeed, "rpm";
    /// Motor speed constant, revolution per minute per volt.
    RpmPerVolt, SpeedConstant, "rpm/V";
    /// A share of a whole, 1 = all; printed in percent.
    Share, Ratio, "%";
    /// Speed along a line, metre per second.
    MetresPerSecond, Speed, "m/s";
    /// Mass, kilogram.
    Kilograms, Mass, "kg";
    /// Moment of inertia, kilogram square metre.
    KilogramSquareMetres, MomentOfInertia, "kg·m²";
    /// Melting energy of a fuse, ampere squared second.
    AmpSquaredSeconds, CurrentSquaredTime, "A²s";
}

impl std::ops::Div<Ohms> for Volts {
    type Output = Amps;
    fn div(self, resistance: Ohms) -> Amps {
        Amps(self.0 / resistance.0)
    }
}

impl std::ops::Div<Amps> for Volts {
    type Output = Ohms;
    fn div(self, current: Amps) -> Ohms {
        Ohms(self.0 / current.0)
    }
}

impl std::ops::Mul<Ohms> for Amps {
    type Output = Volts;
    fn mul(self, resistance: Ohms) -> Volts {
        Volts(self.0 * resistance.0)
    }
}

impl std::ops::Mul<Amps> for Volts {
    type Output = Watts;
    fn mul(self, current: Amps) -> Watts {
        Watts(self.0 * current.0)
    }
}

impl std::ops::Div<Volts> for Watts {
    type Output = Amps;
    fn div(self, voltage: Volts) -> Amps {
        Amps(self.0 / voltage.0)
    }
}

impl std::ops::Mul<CRate> for AmpHours {
    type Output = Amps;
    fn mul(self, rate: CRate) -> Amps {
        Amps(self.0 * rate.0)
    }
}
