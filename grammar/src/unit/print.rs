//! Numbers as people read them: three significant digits and a prefix that fits.

use std::fmt;

use crate::quantity::Dimension;

/// A prefixed symbol and how many base units it stands for, small to large.
type Steps = &'static [(f64, &'static str)];

/// The symbol that values of a dimension are printed with when nothing was written.
#[must_use]
pub const fn base_symbol(dimension: Dimension) -> &'static str {
    match dimension {
        Dimension::Number => "",
        Dimension::Ratio => "%",
        Dimension::Voltage => "V",
        Dimension::Current => "A",
        Dimension::Resistance => "Ω",
        Dimension::Power => "W",
        Dimension::Energy => "Wh",
        Dimension::Charge => "Ah",
        Dimension::ChargeRate => "C",
        Dimension::Length => "m",
        Dimension::Area => "mm²",
        Dimension::Temperature => "°C",
        Dimension::TemperatureDifference => "K",
        Dimension::Time => "s",
        Dimension::Capacitance => "F",
        Dimension::Inductance => "H",
        Dimension::Frequency => "Hz",
        Dimension::RotationalSpeed => "rpm",
        Dimension::Speed => "m/s",
        Dimension::SpeedConstant => "rpm/V",
        Dimension::ResistancePerLength => "Ω/m",
        Dimension::CurrentSquaredTime => "A²s",
        Dimension::Force => "N",
        Dimension::Torque => "N·m",
        Dimension::Mass => "kg",
        Dimension::MomentOfInertia => "kg·m²",
        Dimension::Cells => "S",
        Dimension::Strings => "P",
        Dimension::Ways => "way",
        Dimension::Poles => "pole",
    }
}

/// The prefixed symbols a unit is printed with; empty for those that take no prefix.
fn steps(symbol: &str) -> Steps {
    match symbol {
        "V" => &[(1e-6, "µV"), (1e-3, "mV"), (1.0, "V"), (1e3, "kV")],
        "A" => &[(1e-9, "nA"), (1e-6, "µA"), (1e-3, "mA"), (1.0, "A"), (1e3, "kA")],
        "Ω" => &[(1e-6, "µΩ"), (1e-3, "mΩ"), (1.0, "Ω"), (1e3, "kΩ"), (1e6, "MΩ")],
        "W" => &[(1e-6, "µW"), (1e-3, "mW"), (1.0, "W"), (1e3, "kW")],
        "Wh" => &[(1e-3, "mWh"), (1.0, "Wh"), (1e3, "kWh")],
        "J" => &[(1e-3, "mJ"), (1.0, "J"), (1e3, "kJ"), (1e6, "MJ")],
        "Ah" => &[(1e-3, "mAh"), (1.0, "Ah")],
        "m" => &[(1e-6, "µm"), (1e-3, "mm"), (1.0, "m")],
        "s" => &[(1e-9, "ns"), (1e-6, "µs"), (1e-3, "ms"), (1.0, "s"), (60.0, "min"), (3600.0, "h")],
        "F" => &[(1e-12, "pF"), (1e-9, "nF"), (1e-6, "µF"), (1e-3, "mF"), (1.0, "F")],
        "H" => &[(1e-9, "nH"), (1e-6, "µH"), (1e-3, "mH"), (1.0, "H")],
        "Hz" => &[(1.0, "Hz"), (1e3, "kHz"), (1e6, "MHz"), (1e9, "GHz")],
        "Ω/m" => &[(1e-3, "mΩ/m"), (1.0, "Ω/m")],
        "N·m" => &[(1e-3, "mN·m"), (1.0, "N·m")],
        "kg" => &[(1e-3, "g"), (1.0, "kg")],
        _ => &[],
    }
}

/// Less than this share of the smallest prefixed unit is printed as 0.
const NOTHING: f64 = 0.0005;

/// Digits that figures are printed with.
const DIGITS: usize = 3;

/// Digits beyond which two figures count as one.
const MOST_DIGITS: usize = 9;

/// Writes a value of the base unit `symbol` with a prefix that fits and three significant digits, without zeros at the
/// end: `0.0123` of `A` as `12.3 mA`, `40.0` as `40 A`. A share (`%`) is printed in hundredths. Never writes `-0`.
///
/// # Errors
/// Those of the formatter.
pub fn write_scaled(f: &mut fmt::Formatter<'_>, value: f64, symbol: &str) -> fmt::Result {
    f.write_str(&scaled(value, symbol, DIGITS))
}

/// Two values of the base unit `symbol` with as many digits as it takes to tell them apart, three at least: 80 and 79.97 of
/// `A` as `80 A` and `79.97 A`. Values that differ by next to nothing print alike.
#[must_use]
pub fn told_apart(one: f64, other: f64, symbol: &str) -> (String, String) {
    let printed = |digits| (scaled(one, symbol, digits), scaled(other, symbol, digits));
    (DIGITS..MOST_DIGITS).map(printed).find(|(one, other)| one != other).unwrap_or_else(|| printed(DIGITS))
}

fn scaled(value: f64, symbol: &str, digits: usize) -> String {
    let value = if symbol == "%" { value * 100.0 } else { value };
    // What is left over by rounding is nothing.
    let value = if steps(symbol).first().is_some_and(|(least, _)| value.abs() < least * NOTHING) {
        0.0
    } else {
        value
    };
    let (number, symbol) = steps(symbol)
        .iter()
        .rev()
        .find(|(size, _)| rounded(value / size, digits).abs() >= 1.0)
        .or_else(|| steps(symbol).first().filter(|_| value != 0.0))
        .map_or((value, symbol), |(size, prefixed)| (value / size, *prefixed));
    let number = significant(number, digits);
    if symbol.is_empty() { number } else { format!("{number} {symbol}") }
}

/// `value` to so many significant digits.
fn rounded(value: f64, digits: usize) -> f64 {
    format!("{value:.*e}", digits.saturating_sub(1)).parse().unwrap_or(value)
}

/// Significant digits in plain notation; every whole digit is kept in place (`12300`).
fn significant(value: f64, digits: usize) -> String {
    if !value.is_finite() {
        return format!("{value}");
    }
    let value = rounded(value, digits);
    if value == 0.0 { "0".to_owned() } else { format!("{value}") }
}

#[cfg(test)]
mod tests {
    use crate::quantity::*;

    #[test]
    fn three_digits_and_a_prefix_that_fits() {
        for (amps, text) in [
            (0.0123, "12.3 mA"),
            (40.0, "40 A"),
            (7.96, "7.96 A"),
            (7.999, "8 A"),
            (0.9996, "1 A"),
            (999.6, "1 kA"),
            (1234.0, "1.23 kA"),
            (-0.5, "-500 mA"),
            (0.0, "0 A"),
            (-0.0, "0 A"),
            (4.56e-7, "456 nA"),
            (1e-12, "0.001 nA"),
            (-1e-30, "0 A"),
            (123_456.0, "123 kA"),
        ] {
            assert_eq!(Amps(amps).to_string(), text);
        }
    }

    #[test]
    fn values_that_round_alike_are_told_apart() {
        let text = |one: f64, other: f64| super::told_apart(one, other, "A");
        assert_eq!(text(80.0, 79.97), ("80 A".to_owned(), "79.97 A".to_owned()));
        assert_eq!(text(80.0, 60.0), ("80 A".to_owned(), "60 A".to_owned()));
        assert_eq!(text(0.999_96, 1.0), ("999.96 mA".to_owned(), "1 A".to_owned()));
        assert_eq!(text(80.0, 80.0 - 1e-12), ("80 A".to_owned(), "80 A".to_owned()));
    }

    #[test]
    fn degrees_and_areas_and_shares_take_no_prefix() {
        assert_eq!(Celsius(0.05).to_string(), "0.05 °C");
        assert_eq!(Celsius(1234.0).to_string(), "1230 °C");
        assert_eq!(SquareMm(0.205).to_string(), "0.205 mm²");
        assert_eq!(SquareMm(5260.0).to_string(), "5260 mm²");
        assert_eq!(Share(0.7).to_string(), "70 %");
        assert_eq!(Share(0.001).to_string(), "0.1 %");
        assert_eq!(Share(-0.0).to_string(), "0 %");
    }

    #[test]
    fn times_are_read_in_hours_and_minutes() {
        assert_eq!(Seconds(7200.0).to_string(), "2 h");
        assert_eq!(Seconds(90.0).to_string(), "1.5 min");
        assert_eq!(Seconds(0.0045).to_string(), "4.5 ms");
    }

    #[test]
    fn values_that_are_no_number_are_still_printed() {
        assert_eq!(Volts(f64::INFINITY).to_string(), "inf kV");
        assert_eq!(Volts(f64::NAN).to_string(), "NaN µV");
    }
}
