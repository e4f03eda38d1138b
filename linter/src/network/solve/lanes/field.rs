//! The elements of all lanes, and what they carry where the clusters stand.

use super::{Lane, Problem, WIDTH, ZERO};
use crate::network::solve::{
    Working,
    curve::{Curve, edge},
    plan::Plan,
};

const NONE: u32 = u32::MAX;

/// Where an element lies.
#[derive(Clone, Copy, Debug)]
struct Place {
    from: u32,
    to: u32,
    slot: u32,
    /// Its position in [`Field::bent`]; none for one that is a resistance or open in every lane.
    bent: u32,
}

/// The curves of an element that is bent, or shifted, in some lane.
#[derive(Clone, Copy, Debug)]
struct Bent {
    shift: Lane,
    low: Lane,
    high: Lane,
    watts: Lane,
    cutoff: Lane,
    fixed: Lane,
    /// The voltage that the curves are asked at, volt.
    volts: Lane,
}

const STRAIGHT: Bent = Bent {
    shift: ZERO,
    low: [f64::NEG_INFINITY; WIDTH],
    high: [f64::INFINITY; WIDTH],
    watts: ZERO,
    cutoff: [1.0; WIDTH],
    fixed: ZERO,
    volts: ZERO,
};

/// Voltages as unevaluated sums; see [`crate::network::solve::extended`].
#[derive(Clone, Copy, Debug)]
pub(super) struct Level {
    high: Lane,
    low: Lane,
}

/// How far the currents of each lane are from balance.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Balance {
    pub(super) largest: Lane,
    pub(super) left_over: Lane,
    pub(super) worst: Lane,
}

/// All elements and clusters.
#[derive(Clone, Debug, Default)]
pub(super) struct Field {
    places: Vec<Place>,
    bent: Vec<Bent>,
    /// The conductance of each element, siemens.
    conductance: Vec<Lane>,
    /// The current of each element, ampere.
    amps: Vec<Lane>,
    /// The slope of each bent element, siemens; of the others it is their conductance.
    slopes: Vec<Lane>,
    levels: Vec<Level>,
    left_over: Vec<Lane>,
    flowing: Vec<Lane>,
}

impl Field {
    /// Lays the elements of the problems, all clusters at 0 V.
    pub(super) fn lay(&mut self, plan: &Plan, problems: &[Problem<'_>]) {
        let Some(first) = problems.first() else { return };
        self.places.clear();
        self.bent.clear();
        self.conductance.clear();
        for (number, &(from, to)) in plan.ends.iter().enumerate() {
            let slot = plan.slot(number).map_or(NONE, |slot| slot as u32);
            self.places.push(Place { from, to, slot, bent: NONE });
        }
        self.conductance.resize(first.variant.network.elements.len(), ZERO);
        self.amps.clear();
        self.amps.resize(self.conductance.len(), ZERO);
        self.levels.clear();
        self.levels.resize(plan.clusters.roots.len(), Level { high: ZERO, low: ZERO });
        for lane in 0..WIDTH {
            let variant = problems.get(lane).unwrap_or(first).variant;
            for (number, element) in variant.network.elements.iter().enumerate() {
                let law = variant.law(number, element);
                self.set(number, lane, Curve::new(&law), Curve::shift(&law));
            }
        }
    }

    /// Gives an element its curve in a lane; `shift` is that of its law, volt.
    pub(super) fn set(&mut self, element: usize, lane: usize, curve: Curve, shift: f64) {
        let Some(place) = self.places.get_mut(element) else { return };
        let is_plain = matches!(curve, Curve::Held { low: f64::NEG_INFINITY, high: f64::INFINITY, .. })
            || curve == Curve::OPEN;
        if place.bent == NONE && !(is_plain && shift == 0.0) {
            place.bent = self.bent.len() as u32;
            self.bent.push(STRAIGHT);
        }
        let mut all = STRAIGHT;
        let bent = self.bent.get_mut(place.bent as usize).unwrap_or(&mut all);
        (bent.low[lane], bent.high[lane]) = (f64::NEG_INFINITY, f64::INFINITY);
        (bent.watts[lane], bent.cutoff[lane], bent.fixed[lane]) = (0.0, 1.0, 0.0);
        bent.shift[lane] = shift;
        self.conductance[element][lane] = match curve {
            Curve::Held { conductance, low, high } => {
                (bent.low[lane], bent.high[lane]) = (low, high);
                conductance
            }
            Curve::Power { watts, cutoff } => {
                (bent.watts[lane], bent.cutoff[lane]) = (watts, cutoff);
                0.0
            }
            Curve::Fixed(amps) => {
                bent.fixed[lane] = amps;
                0.0
            }
        };
    }

    /// Puts the clusters of a lane where a solution has them.
    pub(super) fn stand(&mut self, plan: &Plan, lane: usize, near: &Working) {
        for (level, &root) in self.levels.iter_mut().zip(&plan.clusters.roots) {
            level.high[lane] = near.volts.get(root as usize).copied().unwrap_or(0.0);
            level.low[lane] = 0.0;
        }
    }

    /// Computes all currents and slopes, and what is left over at each cluster. While `guessing`, sources hold their
    /// voltage without limit and loads and diodes are away.
    pub(super) fn evaluate(&mut self, guessing: &[bool; WIDTH]) {
        let count = self.levels.len();
        self.left_over.clear();
        self.left_over.resize(count, ZERO);
        self.flowing.clear();
        self.flowing.resize(count, ZERO);
        self.slopes.resize(self.bent.len(), ZERO);
        for (number, place) in self.places.iter().enumerate() {
            let (from, to) = (&self.levels[place.from as usize], &self.levels[place.to as usize]);
            let conductance = &self.conductance[number];
            let amps = &mut self.amps[number];
            if place.bent == NONE {
                for lane in 0..WIDTH {
                    let difference = from.high[lane] - to.high[lane];
                    let error = difference_error(from.high[lane], to.high[lane], difference);
                    let volts = difference + (error + (from.low[lane] - to.low[lane]));
                    amps[lane] = conductance[lane] * volts;
                }
            } else {
                let bent = &mut self.bent[place.bent as usize];
                bent.volts = across(from, to, &bent.shift);
                let slope = &mut self.slopes[place.bent as usize];
                for lane in 0..WIDTH {
                    (amps[lane], slope[lane]) = bent.look(lane, conductance[lane], guessing[lane]);
                }
            }
            if place.from != place.to {
                let (left, flows) = (&mut self.left_over, &mut self.flowing);
                add(&mut left[place.from as usize], &mut flows[place.from as usize], amps, 1.0);
                add(&mut left[place.to as usize], &mut flows[place.to as usize], amps, -1.0);
            }
        }
    }

    /// How far from balance it is; `faint` as in [`crate::network::solve::engine`].
    pub(super) fn balance(&self, faint: f64) -> Balance {
        let mut balance = Balance::default();
        for amps in &self.amps {
            for lane in 0..WIDTH {
                let size = amps[lane].abs();
                // A number that is not finite must not be lost: it makes the comparison false.
                balance.largest[lane] =
                    if size <= balance.largest[lane] { balance.largest[lane] } else { size };
            }
        }
        for (left, flowing) in self.left_over.iter().zip(&self.flowing) {
            for lane in 0..WIDTH {
                let largest = balance.largest[lane];
                let scale = (flowing[lane] + faint * largest).min(largest);
                let left = left[lane].abs();
                balance.left_over[lane] = balance.left_over[lane].max(left);
                let bound = balance.worst[lane] * scale;
                if left > bound {
                    balance.worst[lane] = left / scale;
                }
            }
        }
        balance
    }

    /// The largest current that any source of a lane would drive through a short circuit, ampere.
    pub(super) fn prospective(&self) -> Lane {
        let mut largest = ZERO;
        for (number, place) in self.places.iter().enumerate().filter(|(_, place)| place.bent != NONE) {
            let bent = &self.bent[place.bent as usize];
            for lane in 0..WIDTH {
                let source = (self.conductance[number][lane] * bent.shift[lane]).abs();
                largest[lane] = largest[lane].max(source).max(bent.fixed[lane].abs());
            }
        }
        largest
    }

    /// The slope of an element in each lane, siemens, with its slot; none for one within a cluster.
    pub(super) fn slopes(&self) -> impl Iterator<Item = (usize, &Lane)> {
        self.places.iter().zip(&self.conductance).filter(|(place, _)| place.slot != NONE).map(
            |(place, conductance)| {
                let bent = self.slopes.get(place.bent as usize);
                (place.slot as usize, bent.unwrap_or(conductance))
            },
        )
    }

    /// The slopes of the bent elements, siemens.
    pub(super) fn bent_slopes(&self) -> &[Lane] {
        &self.slopes
    }

    /// Power, cut-off and voltage of each element that is a power load in some lane.
    pub(super) fn powers(&self, lane: usize) -> impl Iterator<Item = (f64, f64, f64)> {
        self.bent.iter().map(move |bent| (bent.watts[lane], bent.cutoff[lane], bent.volts[lane]))
    }

    /// What is left over at each cluster, ampere.
    pub(super) fn left_over(&self) -> &[Lane] {
        &self.left_over
    }

    /// Moves the clusters by a step in elimination order.
    pub(super) fn advance(&mut self, position: &[u32], step: &[Lane]) {
        for (level, &position) in self.levels.iter_mut().zip(position) {
            let step = &step[position as usize];
            for lane in 0..WIDTH {
                let sum = level.high[lane] + step[lane];
                let low = level.low[lane] + sum_error(level.high[lane], step[lane], sum);
                level.high[lane] = sum + low;
                level.low[lane] = sum_error(sum, low, level.high[lane]);
            }
        }
    }

    /// The voltage across an element in a lane, volt.
    pub(super) fn volts(&self, element: usize, lane: usize) -> f64 {
        self.places.get(element).map_or(0.0, |place| self.between(place.from, place.to, lane))
    }

    /// The voltage from one cluster to another in a lane, volt.
    pub(super) fn between(&self, from: u32, to: u32, lane: usize) -> f64 {
        let (from, to) = (&self.levels[from as usize], &self.levels[to as usize]);
        let difference = from.high[lane] - to.high[lane];
        let error = difference_error(from.high[lane], to.high[lane], difference);
        difference + (error + (from.low[lane] - to.low[lane]))
    }

    /// The current of an element in a lane, ampere.
    pub(super) fn amps(&self, element: usize, lane: usize) -> f64 {
        self.amps.get(element).map_or(0.0, |amps| amps[lane])
    }

    /// The curve of an element in a lane.
    pub(super) fn curve(&self, element: usize, lane: usize) -> Curve {
        let Some(place) = self.places.get(element) else { return Curve::OPEN };
        let conductance = self.conductance[element][lane];
        let Some(bent) = self.bent.get(place.bent as usize) else {
            let (low, high) = (f64::NEG_INFINITY, f64::INFINITY);
            return if conductance == 0.0 { Curve::OPEN } else { Curve::Held { conductance, low, high } };
        };
        if bent.watts[lane] != 0.0 {
            Curve::Power { watts: bent.watts[lane], cutoff: bent.cutoff[lane] }
        } else if conductance == 0.0 {
            Curve::Fixed(bent.fixed[lane])
        } else {
            Curve::Held { conductance, low: bent.low[lane], high: bent.high[lane] }
        }
    }

    /// Whether an element joins its nodes electrically in a lane.
    pub(super) fn conducts(&self, element: usize, lane: usize) -> bool {
        let Some(place) = self.places.get(element) else { return false };
        match self.bent.get(place.bent as usize) {
            None => self.conductance[element][lane] != 0.0,
            Some(bent) => self.curve(element, lane).conducts(bent.volts[lane]),
        }
    }
}

impl Bent {
    /// Current and slope of a lane.
    fn look(&self, lane: usize, conductance: f64, guessing: bool) -> (f64, f64) {
        let volts = self.volts[lane];
        let free = conductance * volts;
        let (low, high) = (self.low[lane], self.high[lane]);
        if guessing {
            let holds = low < 0.0;
            return if holds { (free + self.fixed[lane], conductance) } else { (self.fixed[lane], 0.0) };
        }
        let width = high - low;
        let edge = edge(conductance, width);
        let held = free.max(low).min(high);
        let slope = if free > low - edge && free < high + edge { conductance } else { 0.0 };
        let watts = self.watts[lane];
        if watts == 0.0 {
            return (held + self.fixed[lane], slope);
        }
        let power = Curve::Power { watts, cutoff: self.cutoff[lane] };
        (power.amps(volts), power.slope(volts))
    }
}

fn across(from: &Level, to: &Level, shift: &Lane) -> Lane {
    let mut volts = ZERO;
    for lane in 0..WIDTH {
        let difference = from.high[lane] - to.high[lane];
        let first = difference_error(from.high[lane], to.high[lane], difference);
        let sum = difference + shift[lane];
        let second = sum_error(difference, shift[lane], sum);
        volts[lane] = sum + (first + second + (from.low[lane] - to.low[lane]));
    }
    volts
}

/// Adds a current, signed, to what is left over at a cluster, and its size to what flows there.
fn add(left: &mut Lane, flows: &mut Lane, amps: &Lane, sign: f64) {
    for lane in 0..WIDTH {
        left[lane] += sign * amps[lane];
        flows[lane] += amps[lane].abs();
    }
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
