//! Quantities as people read them, in the unit they were written with.

use std::fmt;

use super::{Dimension, Quantity};
use crate::unit::{base_symbol, by_spelling, nearest_awg, write_scaled};

impl Dimension {
    /// What a number of this dimension is, with its article, for sentences: `a current`, `an inductance`.
    #[must_use]
    pub const fn noun(self) -> &'static str {
        match self {
            Self::Number => "a number",
            Self::Ratio => "a share",
            Self::Voltage => "a voltage",
            Self::Current => "a current",
            Self::Resistance => "a resistance",
            Self::Power => "a power",
            Self::Energy => "an energy",
            Self::Charge => "a capacity",
            Self::ChargeRate => "a C rate",
            Self::Length => "a length",
            Self::Area => "a conductor size",
            Self::Temperature => "a temperature",
            Self::TemperatureDifference => "a temperature difference",
            Self::Time => "a time",
            Self::Capacitance => "a capacitance",
            Self::Inductance => "an inductance",
            Self::Frequency => "a frequency",
            Self::RotationalSpeed => "a rotational speed",
            Self::Speed => "a speed",
            Self::SpeedConstant => "a speed constant",
            Self::ResistancePerLength => "a resistance per length",
            Self::CurrentSquaredTime => "a melting energy",
            Self::Force => "a force",
            Self::Torque => "a torque",
            Self::Mass => "a mass",
            Self::MomentOfInertia => "a moment of inertia",
            Self::Cells => "a number of cells",
            Self::Strings => "a number of strings",
            Self::Ways => "a number of ways",
            Self::Poles => "a number of poles",
        }
    }
}

/// Prints a written quantity in its unit as it was written, up to six digits; a longer or a computed number with at most
/// four, one without a unit scaled with three.
impl fmt::Display for Quantity {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.unit == "AWG"
            && let Some(gauge) = nearest_awg(self.value)
        {
            return write!(f, "{gauge} AWG");
        }
        match by_spelling(self.unit) {
            Some(unit) => write!(f, "{} {}", digits(unit.from_base(self.value)), unit.symbol),
            None if self.dimension == Dimension::Number => f.write_str(&digits(self.value)),
            None => write_scaled(f, self.value, base_symbol(self.dimension)),
        }
    }
}

/// A number that has at most six digits as it is; any other rounded to four. Never `-0`.
fn digits(value: f64) -> String {
    let rounded = |text: String| text.parse::<f64>().unwrap_or(value);
    let written = rounded(format!("{value:.5e}"));
    let is_short = (written - value).abs() <= value.abs() * 1e-9;
    let shown = if is_short { written } else { rounded(format!("{value:.3e}")) };
    if shown == 0.0 { "0".to_owned() } else { shown.to_string() }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn quantities_print_as_they_were_written() {
        for (number, unit, text) in [
            (350.0, "mm", "350 mm"),
            (10.0, "AWG", "10 AWG"),
            (-1.0, "AWG", "2/0 AWG"),
            (70.0, "%", "70 %"),
            (12.6, "V", "12.6 V"),
            (0.1, "mm2", "0.1 mm²"),
            (-0.0, "°C", "0 °C"),
            (12.345, "V", "12.345 V"),
            (1.0 / 3.0, "m", "0.3333 m"),
            (1_234_567.0, "Ω", "1235000 Ω"),
            (-0.25, "°C", "-0.25 °C"),
        ] {
            assert_eq!(by_spelling(unit).unwrap().quantity(number).unwrap().to_string(), text);
        }
        assert_eq!(Quantity::number(2.0).to_string(), "2");
        let computed = Quantity { value: 0.01234, dimension: Dimension::Current, unit: "" };
        assert_eq!(computed.to_string(), "12.3 mA");
    }

    #[test]
    fn dimensions_have_their_article() {
        assert_eq!(Dimension::Current.noun(), "a current");
        assert_eq!(Dimension::Inductance.noun(), "an inductance");
        assert_eq!(Dimension::Ways.noun(), "a number of ways");
    }
}
