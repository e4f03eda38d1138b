//! Quantities as people read them, in the unit they were written with.

use std::fmt;

use super::{Dimension, Quantity};
use crate::{
    kind::doc::dimension_name,
    unit::{base_symbol, by_spelling, nearest_awg, write_scaled},
};

impl Dimension {
    /// The dimension with its article, for sentences: `a current`, `an inductance`.
    #[must_use]
    pub fn noun(self) -> String {
        let name = dimension_name(self);
        match self {
            Self::Cells | Self::Strings | Self::Ways | Self::Poles => name.to_owned(),
            Self::Inductance | Self::Energy => format!("an {name}"),
            _ => format!("a {name}"),
        }
    }
}

/// Prints a written quantity in its unit with up to six digits, a computed one scaled with three.
impl fmt::Display for Quantity {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.unit == "AWG"
            && let Some(gauge) = nearest_awg(self.value)
        {
            return write!(f, "{gauge} AWG");
        }
        match by_spelling(self.unit) {
            Some(unit) => write!(f, "{} {}", six_digits(unit.from_base(self.value)), unit.symbol),
            None if self.dimension == Dimension::Number => f.write_str(&six_digits(self.value)),
            None => write_scaled(f, self.value, base_symbol(self.dimension)),
        }
    }
}

fn six_digits(value: f64) -> String {
    let rounded: f64 = format!("{value:.5e}").parse().unwrap_or(value);
    if rounded == 0.0 { "0".to_owned() } else { rounded.to_string() }
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
        assert_eq!(Dimension::Ways.noun(), "ways");
    }
}
