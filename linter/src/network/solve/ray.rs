//! How far to go along a step: the point where the step stops to pay.
//!
//! Kirchhoff's current law is the condition that the network's content (W. Millar, Philosophical Magazine 42 (1951)
//! 1150) is least; the currents left over, times the step, are its slope along the step. Where all elements rise with
//! voltage the content is convex and the slope has one zero.

use super::curve::Curve;

/// A slope this much smaller than at the start is small enough.
const NEAR: f64 = 0.1;

/// Doublings or quarterings before the search gives up.
const REACH: u32 = 60;

/// How far past the beginning of a rise a step goes, volt. What is nearer than that has been reached.
const PAST: f64 = 1e-9;

/// An element that is not straight, along the step.
#[derive(Clone, Copy, Debug)]
pub(super) struct Bent {
    /// Its curve.
    pub curve: Curve,
    /// Its voltage at the start, volt.
    pub volts: f64,
    /// The change of its voltage over the whole step, volt.
    pub change: f64,
}

impl Bent {
    /// The share of the step after which the element leaves a flat piece of its curve and begins to rise.
    fn rise(&self) -> Option<f64> {
        let way = self.curve.beginning(self.volts)? - self.volts;
        let is_ahead = way.abs() > PAST && way * self.change > 0.0;
        is_ahead.then(|| (way.abs() + PAST) / self.change.abs())
    }
}

/// The slope of the content along a step.
#[derive(Clone, Debug, Default)]
pub(super) struct Ray {
    /// Whether the step is a firm one: it leads out of a place that is no minimum.
    pub firm: bool,
    /// Slope of all straight elements at the start, watt.
    pub base: f64,
    /// Its growth over the whole step, watt.
    pub growth: f64,
    /// The elements that are not straight.
    pub bent: Vec<Bent>,
}

impl Ray {
    /// The slope after the share `t` of the step.
    fn at(&self, t: f64) -> f64 {
        let bent = self.bent.iter().map(|b| b.curve.amps(b.volts + t * b.change) * b.change);
        self.base + t * self.growth + bent.sum::<f64>()
    }

    /// The share of the step to go: 1 for a good step, less where it overshoots, more where it falls short by far.
    ///
    /// Between power loads and the sources that catch them the content has narrow valleys. A firm or a stretched step
    /// stops where the first source or diode begins to conduct, lest it jumps over one.
    pub(super) fn length(&self) -> f64 {
        let length = self.first_flat();
        let known = if self.firm { 0.0 } else { 1.0 };
        if length <= known {
            return length;
        }
        let rises = self.bent.iter().filter_map(Bent::rise).filter(|rise| *rise > known);
        rises.fold(length, f64::min)
    }

    /// Where the slope is about zero.
    fn first_flat(&self) -> f64 {
        let (start, full) = (self.at(0.0), self.at(1.0));
        if start >= 0.0 || full.abs() <= 0.5 * -start {
            return 1.0;
        }
        let near = NEAR * -start;
        if full < 0.0 { self.beyond(full, near) } else { self.within(start, full, near) }
    }

    fn beyond(&self, full: f64, near: f64) -> f64 {
        let (mut low, mut at_low) = (1.0, full);
        for _ in 0..REACH {
            let high = 2.0 * low;
            let at_high = self.at(high);
            if at_high >= 0.0 {
                return self.between((low, at_low), (high, at_high), near);
            }
            (low, at_low) = (high, at_high);
        }
        low
    }

    fn within(&self, start: f64, full: f64, near: f64) -> f64 {
        let (mut high, mut at_high) = (1.0, full);
        for _ in 0..REACH {
            let low = 0.25 * high;
            let at_low = self.at(low);
            if at_low <= 0.0 {
                return self.between((low, at_low), (high, at_high), near);
            }
            (high, at_high) = (low, at_low);
        }
        self.between((0.0, start), (high, at_high), near)
    }

    /// A point between two of opposite slope where it is small. Method: false position with the standing end halved
    /// (the Illinois variant; M. Dowell, P. Jarratt, BIT 11 (1971) 168).
    fn between(&self, mut low: (f64, f64), mut high: (f64, f64), near: f64) -> f64 {
        let mut side = 0;
        for _ in 0..REACH {
            let t = if high.1 > low.1 {
                (low.0 * high.1 - high.0 * low.1) / (high.1 - low.1)
            } else {
                0.5 * (low.0 + high.0)
            };
            let slope = self.at(t);
            if slope.abs() <= near {
                return t;
            }
            if slope < 0.0 {
                low = (t, slope);
                if side < 0 {
                    high.1 *= 0.5;
                }
                side = -1;
            } else {
                high = (t, slope);
                if side > 0 {
                    low.1 *= 0.5;
                }
                side = 1;
            }
        }
        if low.0 > 0.0 { low.0 } else { high.0 }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn diode_from(volts: f64, change: f64) -> Bent {
        Bent { curve: Curve::Held { conductance: 100.0, low: 0.0, high: f64::INFINITY }, volts, change }
    }

    #[test]
    fn a_straight_step_is_taken_whole() {
        assert_eq!(Ray { base: -4.0, growth: 4.0, ..Ray::default() }.length(), 1.0);
    }

    #[test]
    fn a_step_over_a_diode_stops_there() {
        // 1 A pushed into a diode that begins to conduct 2 V up; the step would go 100 V.
        let ray = Ray { base: -100.0, bent: vec![diode_from(-2.0, 100.0)], ..Ray::default() };
        let t = ray.length();
        assert!((100.0 * t - 2.01).abs() < 0.002, "{t}");
    }

    #[test]
    fn a_step_that_falls_short_is_stretched() {
        let ray = Ray { base: -1.0, growth: 0.01, ..Ray::default() };
        assert!((ray.length() - 100.0).abs() < 11.0);
    }

    #[test]
    fn a_stretched_step_stops_where_a_source_begins_to_give() {
        // The source holds 0.1 A only, and the step would go on.
        let curve = Curve::Held { conductance: 100.0, low: -0.1, high: 0.0 };
        let source = Bent { curve, volts: 3.0, change: -1.0 };
        let t = Ray { base: -1.0, growth: 1e-3, bent: vec![source], ..Ray::default() }.length();
        assert!((t - 3.0).abs() < 1e-6, "{t}");
    }
}
