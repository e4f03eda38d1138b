//! Sums carried in two parts, so that the millivolts across a good joint survive beside the volts of the rail.
//!
//! A wire of 1 µΩ at 48 V drops less than the last place of the rail's voltage for small currents. Node voltages are
//! therefore kept as an unevaluated sum of two `f64`; differences are exact before they are rounded. Formulas: D. E.
//! Knuth, The Art of Computer Programming vol. 2, section 4.2.2 (error of a floating-point sum).

/// A number as the unevaluated sum `high + low`.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(super) struct Extended {
    high: f64,
    low: f64,
}

impl Extended {
    /// A plain number.
    pub(super) fn new(value: f64) -> Self {
        Self { high: value, low: 0.0 }
    }

    /// The sum with a plain number.
    pub(super) fn plus(self, value: f64) -> Self {
        let (sum, error) = two_sum(self.high, value);
        let (high, low) = two_sum(sum, self.low + error);
        Self { high, low }
    }

    /// `self - other + shift`, rounded once.
    pub(super) fn minus_plus(self, other: Self, shift: f64) -> f64 {
        let (difference, first) = two_sum(self.high, -other.high);
        let (sum, second) = two_sum(difference, shift);
        sum + (first + second + (self.low - other.low))
    }
}

/// The rounded sum and its rounding error.
fn two_sum(a: f64, b: f64) -> (f64, f64) {
    let sum = a + b;
    let of_b = sum - a;
    (sum, (a - (sum - of_b)) + (b - of_b))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_small_part_survives_beside_a_large_one() {
        let rail = Extended::new(48.0);
        let beyond = rail.plus(-1e-17);
        assert_eq!(beyond.minus_plus(Extended::default(), 0.0), 48.0);
        assert_eq!(rail.minus_plus(beyond, 0.0), 1e-17);
    }

    #[test]
    fn the_shift_is_added_before_rounding() {
        let rail = Extended::new(24.0).plus(1e-18);
        assert_eq!(rail.minus_plus(Extended::default(), -24.0), 1e-18);
    }
}
