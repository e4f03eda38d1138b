//! The voltage of a cluster in each lane, as an unevaluated sum; see [`crate::network::solve::extended`].

use super::Lane;

/// The voltages of a cluster, volt.
#[derive(Clone, Copy, Debug)]
pub(super) struct Level<const W: usize> {
    high: Lane<W>,
    low: Lane<W>,
}

impl<const W: usize> Level<W> {
    /// At these voltages.
    pub(super) const fn new(volts: Lane<W>) -> Self {
        Self { high: volts, low: [0.0; W] }
    }

    /// Puts it at a voltage in a lane.
    pub(super) fn set(&mut self, lane: usize, volts: f64) {
        (self.high[lane], self.low[lane]) = (volts, 0.0);
    }

    /// Moves it by a step.
    pub(super) fn advance(&mut self, step: &Lane<W>) {
        for (lane, step) in step.iter().enumerate() {
            let sum = self.high[lane] + step;
            let low = self.low[lane] + sum_error(self.high[lane], *step, sum);
            self.high[lane] = sum + low;
            self.low[lane] = sum_error(sum, low, self.high[lane]);
        }
    }

    /// The voltage over another cluster in a lane. Near ones are subtracted without rounding, so nothing is lost.
    pub(super) fn over(&self, other: &Self, lane: usize) -> f64 {
        (self.high[lane] - other.high[lane]) + (self.low[lane] - other.low[lane])
    }
}

/// The voltage from one cluster to another.
pub(super) fn difference<const W: usize>(from: &Level<W>, to: &Level<W>) -> Lane<W> {
    let mut volts = [0.0; W];
    for (lane, volts) in volts.iter_mut().enumerate() {
        *volts = from.over(to, lane);
    }
    volts
}

/// The voltage from one cluster to another, and a shift.
pub(super) fn across<const W: usize>(from: &Level<W>, to: &Level<W>, shift: &Lane<W>) -> Lane<W> {
    let mut volts = [0.0; W];
    for lane in 0..W {
        let difference = from.high[lane] - to.high[lane];
        let first = difference_error(from.high[lane], to.high[lane], difference);
        let sum = difference + shift[lane];
        let second = sum_error(difference, shift[lane], sum);
        volts[lane] = sum + (first + second + (from.low[lane] - to.low[lane]));
    }
    volts
}

/// What `a + b` lost when it was rounded to `sum`.
fn sum_error(a: f64, b: f64, sum: f64) -> f64 {
    let of_b = sum - a;
    (a - (sum - of_b)) + (b - of_b)
}

/// What `a - b` lost when it was rounded to `difference`.
fn difference_error(a: f64, b: f64, difference: f64) -> f64 {
    sum_error(a, -b, difference)
}
