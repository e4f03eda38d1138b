//! Sums and products of quantities, dimensions checked.

use wattle_grammar::{
    quantity::{Dimension, Quantity},
    syntax::Operator,
};

/// Seconds in an hour, for the base units that count hours (Ah, Wh).
const HOUR: f64 = 3600.0;

/// Why two quantities cannot be put together.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Refusal {
    /// Their dimensions give nothing that has a meaning here.
    Meaningless,
    /// The divisor is zero.
    DivisionByZero,
    /// The result is no finite number.
    Overflow,
}

/// The result of an operation on two quantities, in the base unit.
pub(super) fn combine(operator: Operator, left: Quantity, right: Quantity) -> Result<Quantity, Refusal> {
    let found = match operator {
        Operator::Add => add(left, right),
        Operator::Subtract => subtract(left, right),
        Operator::Multiply => multiply(left, right).or_else(|| multiply(right, left)),
        Operator::Divide if right.value == 0.0 => return Err(Refusal::DivisionByZero),
        Operator::Divide => divide(left, right),
    };
    let (value, dimension) = found.ok_or(Refusal::Meaningless)?;
    finite(Quantity { value, dimension, unit: "" })
}

/// The quantity, when it is a number at all.
pub(super) fn finite(quantity: Quantity) -> Result<Quantity, Refusal> {
    if quantity.value.is_finite() { Ok(quantity) } else { Err(Refusal::Overflow) }
}

type Found = Option<(f64, Dimension)>;

fn add(left: Quantity, right: Quantity) -> Found {
    use Dimension::{Temperature, TemperatureDifference};
    let dimension = match (left.dimension, right.dimension) {
        (Temperature, Temperature) => return None,
        (Temperature, TemperatureDifference) | (TemperatureDifference, Temperature) => Temperature,
        (one, other) if one == other => one,
        _ => return None,
    };
    Some((left.value + right.value, dimension))
}

fn subtract(left: Quantity, right: Quantity) -> Found {
    use Dimension::{Temperature, TemperatureDifference};
    let dimension = match (left.dimension, right.dimension) {
        (Temperature, Temperature) => TemperatureDifference,
        (Temperature, TemperatureDifference) => Temperature,
        (one, other) if one == other => one,
        _ => return None,
    };
    Some((left.value - right.value, dimension))
}

/// The product where `right` is the plainer factor; the caller tries both ways round.
fn multiply(left: Quantity, right: Quantity) -> Found {
    use Dimension as D;
    let product = left.value * right.value;
    let scales = matches!(right.dimension, D::Number | D::Ratio | D::Cells | D::Strings | D::Ways | D::Poles);
    // Twice 20 °C is not 40 °C: a point on a scale has no multiple.
    if scales && left.dimension != D::Temperature {
        return Some((product, left.dimension));
    }
    Some(match (left.dimension, right.dimension) {
        (D::Voltage, D::Current) => (product, D::Power),
        (D::Current, D::Resistance) => (product, D::Voltage),
        (D::Charge, D::ChargeRate) => (product, D::Current),
        (D::Charge, D::Voltage) => (product, D::Energy),
        (D::Current, D::Time) => (product / HOUR, D::Charge),
        (D::Power, D::Time) => (product / HOUR, D::Energy),
        (D::ResistancePerLength, D::Length) => (product, D::Resistance),
        (D::SpeedConstant, D::Voltage) => (product, D::RotationalSpeed),
        (D::Speed, D::Time) => (product, D::Length),
        _ => return None,
    })
}

fn divide(left: Quantity, right: Quantity) -> Found {
    use Dimension as D;
    let quotient = left.value / right.value;
    if left.dimension == D::Temperature || right.dimension == D::Temperature {
        return None;
    }
    if left.dimension == right.dimension {
        return Some((quotient, D::Number));
    }
    if matches!(right.dimension, D::Number | D::Ratio | D::Cells | D::Strings | D::Ways | D::Poles) {
        return Some((quotient, left.dimension));
    }
    Some(match (left.dimension, right.dimension) {
        (D::Voltage, D::Current) => (quotient, D::Resistance),
        (D::Voltage, D::Resistance) => (quotient, D::Current),
        (D::Power, D::Voltage) => (quotient, D::Current),
        (D::Power, D::Current) => (quotient, D::Voltage),
        (D::Energy, D::Voltage) => (quotient, D::Charge),
        (D::Energy, D::Charge) => (quotient, D::Voltage),
        (D::Energy, D::Time) => (quotient * HOUR, D::Power),
        (D::Energy, D::Power) => (quotient * HOUR, D::Time),
        (D::Charge, D::Time) => (quotient * HOUR, D::Current),
        (D::Charge, D::Current) => (quotient * HOUR, D::Time),
        (D::Current, D::Charge) => (quotient, D::ChargeRate),
        (D::Resistance, D::Length) => (quotient, D::ResistancePerLength),
        (D::Resistance, D::ResistancePerLength) => (quotient, D::Length),
        (D::RotationalSpeed, D::Voltage) => (quotient, D::SpeedConstant),
        (D::RotationalSpeed, D::SpeedConstant) => (quotient, D::Voltage),
        (D::Length, D::Time) => (quotient, D::Speed),
        (D::Length, D::Speed) => (quotient, D::Time),
        _ => return None,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn of(value: f64, dimension: Dimension) -> Quantity {
        Quantity { value, dimension, unit: "" }
    }

    fn combined(
        operator: Operator,
        left: (f64, Dimension),
        right: (f64, Dimension),
    ) -> Result<(f64, Dimension), Refusal> {
        combine(operator, of(left.0, left.1), of(right.0, right.1))
            .map(|found| (found.value, found.dimension))
    }

    #[test]
    fn products_and_quotients_have_the_dimension_of_the_law() {
        use Dimension as D;
        for (operator, left, right, expected) in [
            (Operator::Multiply, (24.0, D::Voltage), (5.0, D::Current), (120.0, D::Power)),
            (Operator::Multiply, (2.0, D::Number), (5.0, D::Current), (10.0, D::Current)),
            (Operator::Multiply, (5.0, D::Charge), (25.0, D::ChargeRate), (125.0, D::Current)),
            (Operator::Multiply, (6.0, D::Cells), (3.5, D::Voltage), (21.0, D::Voltage)),
            (Operator::Multiply, (2.0, D::Current), (1800.0, D::Time), (1.0, D::Charge)),
            (Operator::Divide, (120.0, D::Power), (24.0, D::Voltage), (5.0, D::Current)),
            (Operator::Divide, (10.0, D::Charge), (5.0, D::Current), (7200.0, D::Time)),
            (Operator::Divide, (3.0, D::Length), (2.0, D::Length), (1.5, D::Number)),
            (
                Operator::Subtract,
                (85.0, D::Temperature),
                (25.0, D::Temperature),
                (60.0, D::TemperatureDifference),
            ),
        ] {
            assert_eq!(combined(operator, left, right), Ok(expected), "{left:?} {operator:?} {right:?}");
        }
    }

    #[test]
    fn what_has_no_meaning_is_refused() {
        use Dimension as D;
        for (operator, left, right, refusal) in [
            (Operator::Add, (1.0, D::Voltage), (1.0, D::Current), Refusal::Meaningless),
            (Operator::Add, (20.0, D::Temperature), (20.0, D::Temperature), Refusal::Meaningless),
            (Operator::Multiply, (20.0, D::Temperature), (2.0, D::Number), Refusal::Meaningless),
            (Operator::Multiply, (1.0, D::Voltage), (1.0, D::Voltage), Refusal::Meaningless),
            (Operator::Divide, (1.0, D::Voltage), (0.0, D::Number), Refusal::DivisionByZero),
            (Operator::Multiply, (1e300, D::Voltage), (1e300, D::Number), Refusal::Overflow),
        ] {
            assert_eq!(combined(operator, left, right), Err(refusal), "{left:?} {operator:?} {right:?}");
        }
    }
}
