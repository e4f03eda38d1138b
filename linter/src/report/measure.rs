//! Units in reports: the symbol a builder reads and the code a machine reads.
//!
//! The codes follow the Unified Code for Units of Measure, case-sensitive form (`Ohm`, `Cel`, `A.h`). What that code
//! has no unit for is a count, with the counted thing in braces as an annotation.

use std::fmt;

use wattle_grammar::{quantity::Dimension, unit};

use crate::quantity_text::Figure;

/// The code of the base unit of a dimension.
pub(super) const fn code(dimension: Dimension) -> &'static str {
    match dimension {
        Dimension::Number | Dimension::Ratio => "1",
        Dimension::Voltage => "V",
        Dimension::Current => "A",
        Dimension::Resistance => "Ohm",
        Dimension::Power => "W",
        Dimension::Energy => "W.h",
        Dimension::Charge => "A.h",
        Dimension::ChargeRate => "h-1",
        Dimension::Length => "m",
        Dimension::Area => "mm2",
        Dimension::Temperature => "Cel",
        Dimension::TemperatureDifference => "K",
        Dimension::Time => "s",
        Dimension::Capacitance => "F",
        Dimension::Inductance => "H",
        Dimension::Frequency => "Hz",
        Dimension::RotationalSpeed => "{revolution}/min",
        Dimension::Speed => "m/s",
        Dimension::SpeedConstant => "{revolution}/min/V",
        Dimension::ResistancePerLength => "Ohm/m",
        Dimension::CurrentSquaredTime => "A2.s",
        Dimension::Torque => "N.m",
        Dimension::Mass => "kg",
        Dimension::Cells => "{cell}",
        Dimension::Strings => "{string}",
        Dimension::Ways => "{way}",
        Dimension::Poles => "{pole}",
    }
}

/// The symbol of the base unit of a dimension as it is printed; empty for bare numbers.
const fn symbol(dimension: Dimension) -> &'static str {
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
        Dimension::Torque => "Nm",
        Dimension::Mass => "kg",
        Dimension::Cells => "cells",
        Dimension::Strings => "strings",
        Dimension::Ways => "ways",
        Dimension::Poles => "poles",
    }
}

/// Whether a prefix (`m`, `k`) may stand before the unit.
const fn takes_prefix(dimension: Dimension) -> bool {
    matches!(
        dimension,
        Dimension::Voltage
            | Dimension::Current
            | Dimension::Resistance
            | Dimension::Power
            | Dimension::Energy
            | Dimension::Charge
            | Dimension::Length
            | Dimension::Time
            | Dimension::Capacitance
            | Dimension::Inductance
            | Dimension::Frequency
            | Dimension::ResistancePerLength
            | Dimension::Torque
    )
}

/// A figure's value as a builder reads it: three significant digits and the unit.
pub(super) struct Shown<'a>(pub(super) &'a Figure);

impl fmt::Display for Shown<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Figure { value, dimension, .. } = self.0;
        if takes_prefix(*dimension) {
            return unit::write_scaled(f, *value, symbol(*dimension));
        }
        let value = if *dimension == Dimension::Ratio { value * 100.0 } else { *value };
        f.write_str(&three_digits(value))?;
        match symbol(*dimension) {
            "" => Ok(()),
            symbol => write!(f, " {symbol}"),
        }
    }
}

/// Three significant digits without trailing zeros behind the point; whole numbers stay whole.
fn three_digits(value: f64) -> String {
    if value == 0.0 {
        return "0".to_owned();
    }
    let above_the_point = value.abs().log10().floor() + 1.0;
    let behind = (3.0 - above_the_point).clamp(0.0, 12.0);
    let text = format!("{value:.*}", behind as usize);
    if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.').to_owned() } else { text }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn shown(value: f64, dimension: Dimension) -> String {
        Shown(&Figure { what: String::new(), value, dimension, basis: String::new() }).to_string()
    }

    #[test]
    fn units_without_a_prefix_keep_their_scale() {
        assert_eq!(shown(0.205, Dimension::Area), "0.205 mm²");
        assert_eq!(shown(-40.0, Dimension::Temperature), "-40 °C");
        assert_eq!(shown(1234.0, Dimension::RotationalSpeed), "1234 rpm");
        assert_eq!(shown(6.0, Dimension::Cells), "6 cells");
        assert_eq!(shown(0.7, Dimension::Ratio), "70 %");
        assert_eq!(shown(-0.0, Dimension::Number), "0");
        assert_eq!(shown(1.0 / 3.0, Dimension::Number), "0.333");
    }

    #[test]
    fn electrical_units_go_through_the_one_writer() {
        assert!(shown(12.5, Dimension::Current).ends_with("12.5 A"));
        assert!(shown(12.5, Dimension::Resistance).ends_with(" Ω"));
    }

    #[test]
    fn codes_have_no_blank_and_only_ascii() {
        for dimension in [Dimension::Resistance, Dimension::Temperature, Dimension::Area, Dimension::Cells] {
            assert!(code(dimension).bytes().all(|byte| byte.is_ascii_graphic()));
        }
    }
}
