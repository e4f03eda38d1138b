//! An element that is bent, or shifted, in some lane: sources, loads, diodes.

use super::Lane;
use crate::network::solve::curve::{Curve, EDGE, edge};

const NONE: u32 = u32::MAX;

/// The share of its conductance that a load has while the others are guessed: enough that no rounding moves a rail that
/// only loads hold, and next to nothing beside the load itself.
const FAINTLY: f64 = 1e-2;

/// The curves of an element; see [`Curve`]. A given current is held from both sides.
#[derive(Clone, Copy, Debug)]
pub(super) struct Bent<const W: usize> {
    /// What its law adds before the curve is asked, volt.
    pub(super) shift: Lane<W>,
    low: Lane<W>,
    high: Lane<W>,
    /// How far beyond `low` and `high` the curve still rises, ampere.
    edge: Lane<W>,
    /// The voltage that the curve is asked at, volt.
    pub(super) volts: Lane<W>,
    /// Slope of the current, siemens.
    pub(super) slope: Lane<W>,
    /// Its position among the power loads; none for one that is a power load in no lane.
    power: u32,
}

/// An element that is a power load in some lane.
#[derive(Clone, Copy, Debug)]
pub(super) struct Power<const W: usize> {
    /// Power, watt; 0 where it is something else.
    watts: Lane<W>,
    /// Voltage below which it is a resistance, volt.
    cutoff: Lane<W>,
}

impl<const W: usize> Power<W> {
    /// Makes it in a lane what it is in another one.
    pub(super) fn copy(&mut self, other: usize, lane: usize) {
        (self.watts[lane], self.cutoff[lane]) = (self.watts[other], self.cutoff[other]);
    }
}

impl<const W: usize> Bent<W> {
    /// Straight in every lane.
    pub(super) const STRAIGHT: Self = Self {
        shift: [0.0; W],
        low: [f64::NEG_INFINITY; W],
        high: [f64::INFINITY; W],
        edge: [0.0; W],
        volts: [0.0; W],
        slope: [0.0; W],
        power: NONE,
    };

    /// Gives it in a lane the curve that it has in another one.
    pub(super) fn copy(&mut self, other: usize, lane: usize) {
        for figure in [&mut self.shift, &mut self.low, &mut self.high, &mut self.edge] {
            figure[lane] = figure[other];
        }
    }

    /// Gives it its curve in a lane. Returns the conductance, siemens.
    pub(super) fn set(&mut self, lane: usize, curve: Curve, shift: f64, powers: &mut Vec<Power<W>>) -> f64 {
        self.shift[lane] = shift;
        (self.low[lane], self.high[lane]) = (f64::NEG_INFINITY, f64::INFINITY);
        if let Some(power) = powers.get_mut(self.power as usize) {
            (power.watts[lane], power.cutoff[lane]) = (0.0, 1.0);
        }
        let mut rising = 0.0;
        match curve {
            Curve::Held { conductance, low, high } => {
                (self.low[lane], self.high[lane]) = (low, high);
                rising = conductance;
            }
            Curve::Power { watts, cutoff } => {
                let power = self.power(powers);
                (power.watts[lane], power.cutoff[lane]) = (watts, cutoff);
            }
            Curve::Fixed(amps) if amps != 0.0 => (self.low[lane], self.high[lane]) = (amps, amps),
            Curve::Fixed(_) => {}
        }
        self.edge[lane] = edge(rising, self.high[lane] - self.low[lane]);
        rising
    }

    fn power<'a>(&mut self, powers: &'a mut Vec<Power<W>>) -> &'a mut Power<W> {
        if self.power == NONE {
            self.power = powers.len() as u32;
            powers.push(Power { watts: [0.0; W], cutoff: [1.0; W] });
        }
        &mut powers[self.power as usize]
    }

    /// The current that it would drive through a short circuit in each lane, ampere.
    pub(super) fn prospective(&self, conductance: &Lane<W>) -> Lane<W> {
        let mut amps = [0.0; W];
        for (lane, amps) in amps.iter_mut().enumerate() {
            let (driven, fixed) = ((conductance[lane] * self.shift[lane]).abs(), self.fixed(lane).abs());
            *amps = if driven > fixed { driven } else { fixed };
        }
        amps
    }

    /// The lanes in which it conducts at the voltages it has, a bit for each.
    pub(super) fn conducting(&self, conductance: &Lane<W>, powers: &[Power<W>]) -> u8 {
        (0..W).fold(0, |lanes, lane| {
            let rises = self.slope[lane] != 0.0 && !self.is_diode(lane);
            let conducts = rises || self.curve(lane, conductance[lane], powers).conducts(self.volts[lane]);
            lanes | u8::from(conducts) << lane
        })
    }

    /// The current that it is given in a lane, ampere.
    fn fixed(&self, lane: usize) -> f64 {
        if self.low[lane] == self.high[lane] { self.low[lane] } else { 0.0 }
    }

    /// Its curve in a lane.
    pub(super) fn curve(&self, lane: usize, conductance: f64, powers: &[Power<W>]) -> Curve {
        match powers.get(self.power as usize).map(|power| (power.watts[lane], power.cutoff[lane])) {
            Some((watts, cutoff)) if watts != 0.0 => Curve::Power { watts, cutoff },
            _ if conductance == 0.0 => Curve::Fixed(self.fixed(lane)),
            _ => Curve::Held { conductance, low: self.low[lane], high: self.high[lane] },
        }
    }

    /// Whether it blocks one way and has no limit the other.
    pub(super) fn is_diode(&self, lane: usize) -> bool {
        self.low[lane] == 0.0 && self.high[lane] == f64::INFINITY
    }

    /// Whether it is a power load below its cut-off in a lane. Voltages far below it are rounding.
    pub(super) fn is_sagging(&self, lane: usize, powers: &[Power<W>]) -> bool {
        powers.get(self.power as usize).is_some_and(|power| {
            let (volts, cutoff) = (self.volts[lane], power.cutoff[lane]);
            power.watts[lane] > 0.0 && volts < cutoff && volts > 1e-6 * cutoff
        })
    }

    /// Finds the current and the slope of each lane at the voltages it has.
    pub(super) fn look(&mut self, conductance: &Lane<W>, powers: &[Power<W>], amps: &mut Lane<W>) {
        for lane in 0..W {
            let free = conductance[lane] * self.volts[lane];
            let capped = if free < self.high[lane] { free } else { self.high[lane] };
            amps[lane] = if capped > self.low[lane] { capped } else { self.low[lane] };
            let (low, high) = (self.low[lane] - self.edge[lane], self.high[lane] + self.edge[lane]);
            self.slope[lane] = if free > low && free < high { conductance[lane] } else { 0.0 };
        }
        if let Some(power) = powers.get(self.power as usize) {
            self.look_at_power(power, amps);
        }
    }

    /// [`Curve::Power`] in the lanes that are one; written so that all lanes go together.
    fn look_at_power(&mut self, power: &Power<W>, amps: &mut Lane<W>) {
        for (lane, amps) in amps.iter_mut().enumerate() {
            let (watts, cutoff, volts) = (power.watts[lane], power.cutoff[lane], self.volts[lane]);
            let works = volts >= cutoff;
            let below = watts / (cutoff * cutoff);
            let (at_work, sagging) = (watts / volts, below * volts);
            let drawn = if sagging > 0.0 { sagging } else { 0.0 };
            let drawn = if works { at_work } else { drawn };
            let rising = if volts > -EDGE * cutoff { below } else { 0.0 };
            let slope = if works { -at_work / volts } else { rising };
            let is_power = watts != 0.0;
            *amps = if is_power { drawn } else { *amps };
            self.slope[lane] = if is_power { slope } else { self.slope[lane] };
        }
    }

    /// The same in the lanes that are `guessing`: sources hold their voltage without limit, diodes are away, and loads only
    /// leak, so that a rail that nothing feeds yet stands at its negative.
    pub(super) fn guess(
        &mut self,
        conductance: &Lane<W>,
        powers: &[Power<W>],
        guessing: &[bool; W],
        amps: &mut Lane<W>,
    ) {
        let power = powers.get(self.power as usize);
        for lane in (0..W).filter(|lane| guessing[*lane]) {
            let slope = if self.low[lane] < 0.0 {
                conductance[lane]
            } else if self.high[lane].is_finite() {
                FAINTLY * conductance[lane]
            } else {
                0.0
            };
            let faintly = |power: &Power<W>| FAINTLY * power.watts[lane] / power.cutoff[lane].powi(2);
            let slope = slope + power.map_or(0.0, faintly);
            amps[lane] = slope * self.volts[lane] + self.fixed(lane);
            self.slope[lane] = slope;
        }
    }
}
