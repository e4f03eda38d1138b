//! A quick search for where a law of heat reaches its due: such laws are nearly straight lines in logarithms.

/// Below this share of the most, a rise counts as none.
const LEAST_SHARE: f64 = 1e-13;
/// Steps at most. A straight line needs two, the laws of heat four to six; halving alone would end the rest.
const MOST_STEPS: usize = 60;
/// A step of the logarithm that changes nothing any more.
const SMALLEST_STEP: f64 = 1e-13;

/// The argument between 0 and `most` at which `share` is 1. `share` rises, and is at least 1 at `most`.
///
/// The secant of the logarithms, held in a bracket: a step that would leave it halves it instead.
pub(super) fn rising(most: f64, share: impl Fn(f64) -> f64) -> f64 {
    let miss = |log: f64| share(log.exp()).ln();
    let (mut low, mut high) = ((most * LEAST_SHARE).ln(), most.ln());
    let (mut last, mut last_miss) = (high, miss(high));
    // The first guess: as if the share went with the argument.
    let mut at = inside(low, high, high - last_miss);
    for _ in 0..MOST_STEPS {
        let off = miss(at);
        if off == 0.0 {
            break;
        }
        if off < 0.0 {
            low = at
        } else {
            high = at
        }
        let slope = (off - last_miss) / (at - last);
        (last, last_miss) = (at, off);
        let next = inside(low, high, at - off / slope);
        if (next - at).abs() <= SMALLEST_STEP || high - low <= SMALLEST_STEP {
            return next.exp();
        }
        at = next;
    }
    at.exp()
}

/// A guess that lies in the bracket, else its middle; a guess that is no number is in none.
fn inside(low: f64, high: f64, guess: f64) -> f64 {
    if guess >= low && guess <= high { guess } else { f64::midpoint(low, high) }
}

#[cfg(test)]
mod tests {
    use std::cell::Cell;

    use super::*;

    #[test]
    fn a_power_is_found_in_few_steps() {
        for power in [0.5, 1.0, 1.7, 4.0] {
            let asked = Cell::new(0);
            let found = rising(1000.0, |rise: f64| {
                asked.set(asked.get() + 1);
                (rise / 37.0).powf(power)
            });
            assert!((found / 37.0 - 1.0).abs() < 1e-12, "{power} {found}");
            assert!(asked.get() <= 6, "{power} {}", asked.get());
        }
    }

    #[test]
    fn one_that_is_reached_at_the_very_end_is_found_there() {
        // A bare wire: its surface is as warm as its copper.
        let found = rising(40.0, |rise| rise / 40.0);
        assert!((found - 40.0).abs() < 1e-9, "{found}");
    }

    #[test]
    fn what_is_far_from_a_straight_line_is_found_all_the_same() {
        let found = rising(10.0, |rise: f64| if rise < 3.0 { 1e-9 * rise } else { 1.0 + rise });
        assert!((found - 3.0).abs() < 1e-6, "{found}");
        let nothing = rising(10.0, |_| f64::INFINITY);
        assert!(nothing < 1e-9, "{nothing}");
        let nowhere = rising(10.0, |_| f64::NAN);
        assert!(nowhere.is_finite());
    }
}
