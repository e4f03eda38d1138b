//! Values of ratings as people read them.

use std::fmt;

use wattle_grammar::{
    quantity::{Dimension, Quantity},
    unit::{base_symbol, write_scaled},
};

use super::{Port, RatedValue};

impl fmt::Display for RatedValue {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Quantity(quantity) => Printed(quantity).fmt(f),
            Self::Range(low, high) => write!(f, "{} .. {}", Printed(low), Printed(high)),
            Self::Word(word) => f.write_str(word),
            Self::Flag(flag) => f.write_str(if *flag { "yes" } else { "no" }),
            Self::Text(text) => write!(f, "\"{text}\""),
            Self::Reference(name) => write!(f, "`{name}`"),
            Self::Terminals(names) | Self::Words(names) => f.write_str(&names.join(", ")),
            Self::Date(date) => date.fmt(f),
            Self::Ports(ports) => {
                let ports: Vec<String> = ports.iter().map(Port::to_string).collect();
                f.write_str(&ports.join("; "))
            }
        }
    }
}

/// The terminals of a port and what they are.
impl fmt::Display for Port {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let names: Vec<&str> = self.terminals.iter().map(|(name, _)| name.as_str()).collect();
        f.write_str(&names.join(", "))?;
        self.rated.iter().try_for_each(|rated| write!(f, " {}", rated.value))
    }
}

/// Joules in one watt-hour.
const JOULES_IN_WATT_HOUR: f64 = 3600.0;

/// A quantity in the unit that its dimension is read in.
struct Printed<'a>(&'a Quantity);

impl fmt::Display for Printed<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let symbol = base_symbol(self.0.dimension);
        match self.0.dimension {
            // `6S` and `2P` are written without a blank.
            Dimension::Cells | Dimension::Strings => write!(f, "{}{symbol}", self.0.value),
            // Who writes an energy in joules thinks of a pulse, and who writes a gauge buys by it.
            Dimension::Energy if matches!(self.0.unit, "mJ" | "J" | "kJ") => {
                write_scaled(f, self.0.value * JOULES_IN_WATT_HOUR, "J")
            }
            Dimension::Area if self.0.unit == "AWG" => self.0.fmt(f),
            _ => write_scaled(f, self.0.value, symbol),
        }
    }
}
