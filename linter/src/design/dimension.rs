//! Words for dimensions in messages.

use wattle_grammar::{quantity::Dimension, unit::base_symbol};

/// What a number of this dimension is, with its article.
pub(super) const fn noun(dimension: Dimension) -> &'static str {
    match dimension {
        Dimension::Number => "a number",
        Dimension::Ratio => "a share",
        Dimension::Voltage => "a voltage",
        Dimension::Current => "a current",
        Dimension::Resistance => "a resistance",
        Dimension::Power => "a power",
        Dimension::Energy => "an energy",
        Dimension::Charge => "a capacity",
        Dimension::ChargeRate => "a C rate",
        Dimension::Length => "a length",
        Dimension::Area => "a conductor size",
        Dimension::Temperature => "a temperature",
        Dimension::TemperatureDifference => "a temperature difference",
        Dimension::Time => "a time",
        Dimension::Capacitance => "a capacitance",
        Dimension::Inductance => "an inductance",
        Dimension::Frequency => "a frequency",
        Dimension::RotationalSpeed => "a rotational speed",
        Dimension::Speed => "a speed",
        Dimension::SpeedConstant => "a speed constant",
        Dimension::ResistancePerLength => "a resistance per length",
        Dimension::CurrentSquaredTime => "a melting energy",
        Dimension::Force => "a force",
        Dimension::Torque => "a torque",
        Dimension::Mass => "a mass",
        Dimension::Cells => "a number of cells",
        Dimension::Strings => "a number of strings",
        Dimension::Ways => "a number of ways",
        Dimension::Poles => "a number of poles",
    }
}

/// A bare number with the unit that is due; of lengths and sizes the small one that robots are built in.
pub(super) fn example(dimension: Dimension, number: &str) -> Option<String> {
    match dimension {
        Dimension::Number => None,
        Dimension::Ratio => Some(format!("{number} %")),
        Dimension::Length => Some(format!("{number} mm")),
        Dimension::Charge => Some(format!("{number} mAh")),
        Dimension::Cells | Dimension::Strings => Some(format!("{number}{}", base_symbol(dimension))),
        _ => Some(format!("{number} {}", base_symbol(dimension))),
    }
}
