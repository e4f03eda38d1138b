//! The steady temperatures of one cable in one air, tabulated once for many currents.
//!
//! The heat balance gives current and conductor temperature straight from the temperature of the surface; only the way
//! back, from a current to a temperature, has to be searched. Robots have few sizes of wire and many wires, so the curve
//! is laid once and read by interpolation. Temperature over current is convex, so the chord between two points lies
//! above it: what is read is never too cool.
//!
//! It is there for speed alone. [`super::heat::steady_temperature`] searches, a whole balance at each step: one to two
//! microseconds. The working points ask for each wire in each mode, ten thousand times in a robot of 2,000 wires, and take
//! some twenty milliseconds in all. Where single wires are told of, the exact one is asked.

use wattle_grammar::quantity::{Amps, Celsius};

use super::heat::Cable;

/// Points of the curve.
const POINTS: usize = 96;

/// The first and the last rise of the surface over the air, K.
const RISES: (f64, f64) = (0.05, 600.0);

/// Current and conductor temperature, both rising.
#[derive(Clone, Debug)]
pub struct HeatCurve {
    air: Celsius,
    points: Vec<(Amps, Celsius)>,
}

impl HeatCurve {
    /// Lays the curve of a cable in still air.
    #[must_use]
    pub fn new(cable: Cable, air: Celsius) -> Self {
        let step = (RISES.1 / RISES.0).ln() / (POINTS - 1) as f64;
        let point = |at: usize| {
            let surface = air + Celsius(RISES.0 * (step * at as f64).exp());
            (cable.current_under(surface, air), cable.conductor_under(surface, air))
        };
        Self { air, points: (0..POINTS).map(point).collect() }
    }

    /// The temperature that the conductor settles at, carrying a current; `None` beyond the end of the curve, where it
    /// is past all that insulation bears.
    #[must_use]
    pub fn temperature(&self, current: Amps) -> Option<Celsius> {
        let amps = current.abs();
        let after = self.points.partition_point(|(at, _)| *at < amps);
        let high = self.points.get(after)?;
        let low = after.checked_sub(1).and_then(|at| self.points.get(at));
        let (from, cool) = low.copied().unwrap_or((Amps(0.0), self.air));
        let share = if high.0 > from { (amps - from) / (high.0 - from) } else { 1.0 };
        Some(cool + (high.1 - cool) * share)
    }
}

#[cfg(test)]
mod tests {
    use wattle_grammar::quantity::SquareMm;

    use super::*;
    use crate::physics::heat::{ampacity, steady_temperature};

    #[test]
    fn it_reads_what_the_balance_gives_and_never_cooler() {
        for area in [0.129, 0.823, 3.31, 33.6] {
            let (cable, air) = (Cable::thin_walled(SquareMm(area)), Celsius(35.0));
            let (curve, most) = (HeatCurve::new(cable, air), ampacity(cable, Celsius(150.0), air));
            for percent in 1..=100 {
                let amps = most * (f64::from(percent) / 100.0);
                let (read, true_one) =
                    (curve.temperature(amps).unwrap(), steady_temperature(cable, amps, air).unwrap());
                let above = (read - true_one).0;
                assert!((-1e-6..0.3).contains(&above), "{area} {percent} {read:?} {true_one:?}");
            }
        }
    }

    #[test]
    fn no_current_is_the_air_and_too_much_has_no_temperature() {
        let curve = HeatCurve::new(Cable::thin_walled(SquareMm(0.5)), Celsius(20.0));
        assert_eq!(curve.temperature(Amps(0.0)), Some(Celsius(20.0)));
        assert_eq!(curve.temperature(Amps(1e4)), None);
    }
}
