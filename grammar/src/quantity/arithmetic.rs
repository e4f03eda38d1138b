//! Arithmetic on quantities: dimensions are checked, and a result that is no number is an error.

use std::fmt;

use super::{Dimension, Quantity};
use Dimension as D;

/// Why two quantities cannot be computed with.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Unfit {
    /// Their dimensions do not go together in this operation.
    Dimensions {
        /// What was to be done, as in "a current plus a voltage".
        operation: &'static str,
        /// The dimension on the left.
        left: Dimension,
        /// The dimension on the right.
        right: Dimension,
    },
    /// The divisor is zero.
    DivisionByZero,
    /// The result is too large.
    NotFinite,
}

impl fmt::Display for Unfit {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Dimensions { operation, left, right } => {
                write!(f, "{} {operation} {} means nothing", left.noun(), right.noun())
            }
            Self::DivisionByZero => f.write_str("a division by zero has no result"),
            Self::NotFinite => f.write_str("the result is not a finite number"),
        }
    }
}

impl std::error::Error for Unfit {}

/// Left dimension, right dimension, dimension of the product, and the factor that the base units ask for.
type Product = (D, D, D, f64);

/// Seconds in an hour: charges and energies are counted by the hour, times in seconds.
const HOUR: f64 = 3600.0;

/// The products of different dimensions. Each also gives its two quotients: product / left = right, product / right =
/// left.
const PRODUCTS: [Product; 10] = [
    (D::Voltage, D::Current, D::Power, 1.0),
    (D::Current, D::Resistance, D::Voltage, 1.0),
    (D::Current, D::Time, D::Charge, 1.0 / HOUR),
    (D::Power, D::Time, D::Energy, 1.0 / HOUR),
    (D::Voltage, D::Charge, D::Energy, 1.0),
    (D::Charge, D::ChargeRate, D::Current, 1.0),
    (D::Length, D::ResistancePerLength, D::Resistance, 1.0),
    (D::Voltage, D::SpeedConstant, D::RotationalSpeed, 1.0),
    (D::Speed, D::Time, D::Length, 1.0),
    (D::Resistance, D::Capacitance, D::Time, 1.0),
];

// Not the operator traits: an operator that gives a `Result` surprises.
#[allow(clippy::should_implement_trait)]
impl Quantity {
    /// A bare number.
    #[must_use]
    pub const fn number(value: f64) -> Self {
        Self { value, dimension: D::Number, unit: "" }
    }

    /// `self + other`: of one dimension; a temperature and a difference give a temperature.
    ///
    /// # Errors
    /// [`Unfit`] when the dimensions differ or the sum overflows.
    pub fn add(self, other: Self) -> Result<Self, Unfit> {
        let dimension = match (self.dimension, other.dimension) {
            (D::Temperature, D::Temperature) => return Err(self.unfit("plus", other)),
            (D::Temperature, D::TemperatureDifference) | (D::TemperatureDifference, D::Temperature) => {
                D::Temperature
            }
            (left, right) if left == right => left,
            _ => return Err(self.unfit("plus", other)),
        };
        self.result(self.value + other.value, dimension, other)
    }

    /// `self - other`: of one dimension; two temperatures give a difference, a temperature less a difference a
    /// temperature.
    ///
    /// # Errors
    /// [`Unfit`] when the dimensions differ or the difference overflows.
    pub fn sub(self, other: Self) -> Result<Self, Unfit> {
        let dimension = match (self.dimension, other.dimension) {
            (D::Temperature, D::Temperature) => D::TemperatureDifference,
            (D::Temperature, D::TemperatureDifference) => D::Temperature,
            (left, right) if left == right => left,
            _ => return Err(self.unfit("minus", other)),
        };
        self.result(self.value - other.value, dimension, other)
    }

    /// `self × other`: anything by a number, a share or a count, or two dimensions with a known product. A temperature is a
    /// point on a scale and has no multiple.
    ///
    /// # Errors
    /// [`Unfit`] when the product has no dimension that is used here, or overflows.
    pub fn mul(self, other: Self) -> Result<Self, Unfit> {
        let (left, right) = (self.dimension, other.dimension);
        if let Some(dimension) = scaled(left, right) {
            return if dimension == D::Temperature {
                Err(self.unfit("times", other))
            } else {
                self.result(self.value * other.value, dimension, other)
            };
        }
        let known = PRODUCTS
            .iter()
            .find(|(one, two, ..)| (*one, *two) == (left, right) || (*two, *one) == (left, right));
        let Some((.., product, factor)) = known else { return Err(self.unfit("times", other)) };
        self.result(self.value * other.value * factor, *product, other)
    }

    /// `self ÷ other`: anything by a number, a share or a count, two of one dimension, or a known product by one of its
    /// factors.
    ///
    /// # Errors
    /// [`Unfit`] when the quotient has no dimension that is used here, or is not finite.
    pub fn div(self, other: Self) -> Result<Self, Unfit> {
        let (left, right) = (self.dimension, other.dimension);
        if [left, right].contains(&D::Temperature) {
            return Err(self.unfit("divided by", other));
        }
        let (dimension, factor) = quotient(left, right).ok_or_else(|| self.unfit("divided by", other))?;
        if other.value == 0.0 {
            return Err(Unfit::DivisionByZero);
        }
        self.result(self.value / other.value / factor, dimension, other)
    }

    /// `-self`.
    #[must_use]
    pub const fn negated(self) -> Self {
        Self { value: -self.value, ..self }
    }

    /// A computed value. It keeps the written unit where it still measures the same; a gauge that was computed with is
    /// no gauge any more, it is an area.
    fn result(self, value: f64, dimension: Dimension, other: Self) -> Result<Self, Unfit> {
        if !value.is_finite() {
            return Err(Unfit::NotFinite);
        }
        let keeps = |operand: &Self| operand.dimension == dimension && operand.unit != "AWG";
        let unit = [self, other].into_iter().find(keeps).map_or("", |operand| operand.unit);
        Ok(Self { value, dimension, unit })
    }

    const fn unfit(self, operation: &'static str, other: Self) -> Unfit {
        Unfit::Dimensions { operation, left: self.dimension, right: other.dimension }
    }
}

/// The dimension of a product in which one side only counts or scales the other.
fn scaled(left: Dimension, right: Dimension) -> Option<Dimension> {
    match (left, right) {
        (other, D::Number) | (D::Number, other) => Some(other),
        (other, D::Ratio) | (D::Ratio, other) => Some(other),
        (other, count) if is_count(count) => Some(other),
        (count, other) if is_count(count) => Some(other),
        _ => None,
    }
}

/// The dimension of a quotient, and the factor that its base units ask for.
fn quotient(left: Dimension, right: Dimension) -> Option<(Dimension, f64)> {
    if left == right {
        return Some((D::Number, 1.0));
    }
    if matches!(right, D::Number | D::Ratio) || is_count(right) {
        return Some((left, 1.0));
    }
    PRODUCTS.iter().find_map(|(one, two, product, factor)| match (*product == left, right) {
        (true, right) if right == *one => Some((*two, *factor)),
        (true, right) if right == *two => Some((*one, *factor)),
        _ => None,
    })
}

/// Whether it counts things.
const fn is_count(dimension: Dimension) -> bool {
    matches!(dimension, D::Cells | D::Strings | D::Ways | D::Poles)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::unit::by_spelling;

    fn q(number: f64, unit: &str) -> Quantity {
        if unit.is_empty() {
            Quantity::number(number)
        } else {
            by_spelling(unit).unwrap().quantity(number).unwrap()
        }
    }

    /// Value and dimension equal, the value to a rounding error.
    fn assert_is(found: Result<Quantity, Unfit>, number: f64, unit: &str) {
        let (found, wanted) = (found.unwrap(), q(number, unit));
        assert_eq!(found.dimension, wanted.dimension);
        assert!(
            (found.value - wanted.value).abs() <= 1e-12 * wanted.value.abs(),
            "{found:?} against {wanted:?}"
        );
    }

    #[test]
    fn sums_keep_the_dimension_and_temperatures_are_points() {
        assert_is(q(1.0, "m").add(q(20.0, "cm")), 1.2, "m");
        assert_is(q(85.0, "°C").sub(q(25.0, "°C")), 60.0, "K");
        assert_is(q(25.0, "°C").add(q(60.0, "K")), 85.0, "°C");
        assert_is(q(60.0, "K").add(q(25.0, "°C")), 85.0, "°C");
        assert_is(q(25.0, "°C").sub(q(5.0, "K")), 20.0, "°C");
        assert!(q(1.0, "V").add(q(1.0, "A")).is_err());
        assert!(q(1.0, "°C").add(q(1.0, "°C")).is_err());
        assert!(q(1.0, "K").sub(q(1.0, "°C")).is_err());
        assert!(q(12.0, "V").add(q(5.0, "%")).is_err());
    }

    #[test]
    fn products_and_quotients_of_the_trade() {
        assert_is(q(24.0, "V").mul(q(2.0, "A")), 48.0, "W");
        assert_is(q(24.0, "V").div(q(2.0, "A")), 12.0, "Ω");
        assert_is(q(24.0, "V").div(q(12.0, "ohm")), 2.0, "A");
        assert_is(q(48.0, "W").div(q(24.0, "V")), 2.0, "A");
        assert_is(q(48.0, "W").div(q(2.0, "A")), 24.0, "V");
        assert_is(q(2.0, "A").mul(q(12.0, "Ω")), 24.0, "V");
        assert_is(q(2.0, "A").mul(q(30.0, "min")), 1.0, "Ah");
        assert_is(q(10.0, "W").mul(q(2.0, "h")), 20.0, "Wh");
        assert_is(q(5.0, "Ah").div(q(2.0, "A")), 2.5, "h");
        assert_is(q(5000.0, "mAh").mul(q(25.0, "C")), 125.0, "A");
        assert_is(q(22.2, "V").mul(q(5.0, "Ah")), 111.0, "Wh");
        assert_is(q(2.0, "m").mul(q(3.3, "mΩ/m")), 6.6, "mΩ");
        assert_is(q(6.6, "mΩ").div(q(2.0, "m")), 3.3, "mΩ/m");
        assert_is(q(6.0, "S").mul(q(4.2, "V")), 25.2, "V");
        assert_is(q(25.2, "V").div(q(6.0, "S")), 4.2, "V");
        assert_is(q(2.0, "P").mul(q(2.5, "Ah")), 5.0, "Ah");
        assert_is(q(920.0, "rpm/V").mul(q(10.0, "V")), 9200.0, "rpm");
    }

    #[test]
    fn a_temperature_has_no_multiple_and_a_gauge_that_was_computed_with_is_an_area() {
        assert!(q(20.0, "°C").mul(Quantity::number(2.0)).is_err());
        assert!(Quantity::number(2.0).mul(q(20.0, "°C")).is_err());
        assert!(q(20.0, "°C").div(Quantity::number(2.0)).is_err());
        assert_is(q(20.0, "K").mul(Quantity::number(2.0)), 40.0, "K");
        let doubled = q(12.0, "AWG").mul(Quantity::number(2.0)).unwrap();
        assert_eq!(doubled.to_string(), "6.62 mm²");
    }

    #[test]
    fn numbers_and_shares_scale_anything() {
        assert_is(Quantity::number(2.0).mul(q(3.0, "A")), 6.0, "A");
        assert_is(q(3.0, "A").mul(q(50.0, "%")), 1.5, "A");
        assert_is(q(3.0, "A").div(q(2.0, "")), 1.5, "A");
        assert_is(q(2.0, "").mul(q(50.0, "%")), 100.0, "%");
        assert_is(q(3.0, "A").div(q(1500.0, "mA")), 2.0, "");
        assert!(q(2.0, "").div(q(3.0, "A")).is_err());
        assert!(q(2.0, "A").mul(q(3.0, "A")).is_err());
    }

    #[test]
    fn what_is_no_number_is_refused() {
        assert_eq!(q(1.0, "A").div(q(0.0, "")), Err(Unfit::DivisionByZero));
        assert_eq!(q(1e300, "V").mul(q(1e300, "A")), Err(Unfit::NotFinite));
        assert_eq!(q(0.0, "V").div(q(0.0, "A")), Err(Unfit::DivisionByZero));
        assert_eq!(q(1e300, "A").div(q(1e-300, "")), Err(Unfit::NotFinite));
        assert_eq!(q(1e308, "V").add(q(1e308, "V")), Err(Unfit::NotFinite));
    }

    #[test]
    fn the_message_names_both_dimensions() {
        let unfit = q(1.0, "V").add(q(1.0, "A")).unwrap_err();
        assert_eq!(unfit.to_string(), "a voltage plus a current means nothing");
    }
}
