//! An element that is bent, or shifted, in some lane: sources, loads, diodes.

use super::Lane;
use crate::network::solve::curve::{Curve, edge};

/// The share of its conductance that a load has while the others are guessed: enough that no rounding moves a rail that
/// only loads hold, and next to nothing beside the load itself.
const FAINTLY: f64 = 1e-2;

/// The curves of an element; see [`Curve`].
#[derive(Clone, Copy, Debug)]
pub(super) struct Bent<const W: usize> {
    /// What its law adds before the curve is asked, volt.
    pub(super) shift: Lane<W>,
    low: Lane<W>,
    high: Lane<W>,
    /// The bounds of the voltages, a little beyond `low` and `high`, between which the curve rises.
    rises: (Lane<W>, Lane<W>),
    fixed: Lane<W>,
    pub(super) watts: Lane<W>,
    pub(super) cutoff: Lane<W>,
    has_power: bool,
    /// The voltage that the curve is asked at, volt.
    pub(super) volts: Lane<W>,
    /// Slope of the current, siemens.
    pub(super) slope: Lane<W>,
}

impl<const W: usize> Bent<W> {
    /// Straight in every lane.
    pub(super) const STRAIGHT: Self = Self {
        shift: [0.0; W],
        low: [f64::NEG_INFINITY; W],
        high: [f64::INFINITY; W],
        rises: ([f64::NEG_INFINITY; W], [f64::INFINITY; W]),
        fixed: [0.0; W],
        watts: [0.0; W],
        cutoff: [1.0; W],
        has_power: false,
        volts: [0.0; W],
        slope: [0.0; W],
    };

    /// Gives it its curve in a lane. Returns the conductance, siemens.
    pub(super) fn set(&mut self, lane: usize, curve: Curve, shift: f64) -> f64 {
        self.shift[lane] = shift;
        (self.low[lane], self.high[lane]) = (f64::NEG_INFINITY, f64::INFINITY);
        (self.watts[lane], self.cutoff[lane], self.fixed[lane]) = (0.0, 1.0, 0.0);
        let mut rising = 0.0;
        match curve {
            Curve::Held { conductance, low, high } => {
                (self.low[lane], self.high[lane]) = (low, high);
                rising = conductance;
            }
            Curve::Power { watts, cutoff } => {
                self.has_power = true;
                (self.watts[lane], self.cutoff[lane]) = (watts, cutoff);
            }
            Curve::Fixed(amps) => self.fixed[lane] = amps,
        }
        let edge = edge(rising, self.high[lane] - self.low[lane]);
        (self.rises.0[lane], self.rises.1[lane]) = (self.low[lane] - edge, self.high[lane] + edge);
        rising
    }

    /// The current that it is given in a lane, ampere.
    pub(super) const fn fixed(&self, lane: usize) -> f64 {
        self.fixed[lane]
    }

    /// Its curve in a lane.
    pub(super) fn curve(&self, lane: usize, conductance: f64) -> Curve {
        if self.watts[lane] != 0.0 {
            Curve::Power { watts: self.watts[lane], cutoff: self.cutoff[lane] }
        } else if conductance == 0.0 {
            Curve::Fixed(self.fixed[lane])
        } else {
            Curve::Held { conductance, low: self.low[lane], high: self.high[lane] }
        }
    }

    /// Finds the current and the slope of each lane at the voltages it has. While `guessing`, sources hold their voltage
    /// without limit, diodes are away, and loads only leak, so that a rail that nothing feeds yet stands at its negative.
    pub(super) fn look(&mut self, conductance: &Lane<W>, guessing: &[bool; W], amps: &mut Lane<W>) {
        for lane in 0..W {
            let free = conductance[lane] * self.volts[lane];
            let capped = if free < self.high[lane] { free } else { self.high[lane] };
            let held = if capped > self.low[lane] { capped } else { self.low[lane] };
            let is_rising = free > self.rises.0[lane] && free < self.rises.1[lane];
            amps[lane] = held + self.fixed[lane];
            self.slope[lane] = if is_rising { conductance[lane] } else { 0.0 };
        }
        if self.has_power {
            self.look_at_powers(amps);
        }
        if guessing.contains(&true) {
            self.guess(conductance, guessing, amps);
        }
    }

    fn look_at_powers(&mut self, amps: &mut Lane<W>) {
        for (lane, amps) in amps.iter_mut().enumerate() {
            if self.watts[lane] != 0.0 {
                let power = Curve::Power { watts: self.watts[lane], cutoff: self.cutoff[lane] };
                *amps = power.amps(self.volts[lane]);
                self.slope[lane] = power.slope(self.volts[lane]);
            }
        }
    }

    fn guess(&mut self, conductance: &Lane<W>, guessing: &[bool; W], amps: &mut Lane<W>) {
        for lane in (0..W).filter(|lane| guessing[*lane]) {
            let slope = if self.low[lane] < 0.0 {
                conductance[lane]
            } else if self.high[lane].is_finite() {
                FAINTLY * conductance[lane]
            } else {
                0.0
            };
            let slope = slope + FAINTLY * self.watts[lane] / (self.cutoff[lane] * self.cutoff[lane]);
            amps[lane] = slope * self.volts[lane] + self.fixed[lane];
            self.slope[lane] = slope;
        }
    }
}
