//! Units in reports: the symbol a builder reads and the code a machine reads.
//!
//! The codes follow the Unified Code for Units of Measure, case-sensitive form (`Ohm`, `Cel`, `A.h`). What that code
//! has no unit for is a count, with the counted thing in braces as an annotation.

use std::fmt;

use wattle_grammar::{quantity::Dimension, unit};

use crate::quantity_text::Figure;

/// The code of the base unit of a dimension.
pub(crate) const fn code(dimension: Dimension) -> &'static str {
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
        Dimension::Force => "N",
        Dimension::Torque => "N.m",
        Dimension::Mass => "kg",
        Dimension::MomentOfInertia => "kg.m2",
        Dimension::Cells => "{cell}",
        Dimension::Strings => "{string}",
        Dimension::Ways => "{way}",
        Dimension::Poles => "{pole}",
    }
}

/// The code of what the energies of short events are told in.
pub(crate) const JOULE: &str = "J";

/// A figure's value as a builder reads it: three significant digits and the unit.
pub(super) struct Shown<'a>(pub(super) &'a Figure);

impl fmt::Display for Shown<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        unit::write_scaled(f, self.0.value, unit::base_symbol(self.0.dimension))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn figures_are_shown_with_a_unit_that_fits() {
        let shown = |value, dimension| {
            Shown(&Figure { what: String::new(), value, dimension, basis: String::new() }).to_string()
        };
        assert_eq!(shown(0.0125, Dimension::Current), "12.5 mA");
        assert_eq!(shown(0.7, Dimension::Ratio), "70 %");
        assert_eq!(shown(3.0, Dimension::Number), "3");
    }

    #[test]
    fn codes_have_no_blank_and_only_ascii() {
        for dimension in [Dimension::Resistance, Dimension::Temperature, Dimension::Area, Dimension::Cells] {
            assert!(code(dimension).bytes().all(|byte| byte.is_ascii_graphic()));
        }
    }
}
