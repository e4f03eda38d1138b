//! The elements of all lanes, and what they carry where the clusters stand.

use super::{Lane, Problem, bent::Bent};
use crate::network::solve::{Working, curve::Curve, plan::Plan};

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

/// Voltages as unevaluated sums; see [`crate::network::solve::extended`].
#[derive(Clone, Copy, Debug)]
pub(super) struct Level<const W: usize> {
    high: Lane<W>,
    low: Lane<W>,
}

/// How far the currents of each lane are from balance.
#[derive(Clone, Copy, Debug)]
pub(super) struct Balance<const W: usize> {
    /// The largest current, ampere.
    pub(super) largest: Lane<W>,
    /// The largest current left over at a cluster, ampere.
    pub(super) left_over: Lane<W>,
    /// The largest of what is left over at a cluster over what flows there; infinite while it is far from balance.
    pub(super) worst: Lane<W>,
    /// Whether every current is a number: one that is not passes every comparison.
    pub(super) finite: [bool; W],
}

/// All elements and clusters.
#[derive(Clone, Debug, Default)]
pub(super) struct Field<const W: usize> {
    places: Vec<Place>,
    bent: Vec<Bent<W>>,
    /// The conductance of each element, siemens.
    conductance: Vec<Lane<W>>,
    /// The current of each element, ampere.
    amps: Vec<Lane<W>>,
    levels: Vec<Level<W>>,
    left_over: Vec<Lane<W>>,
    flowing: Vec<Lane<W>>,
}

impl<const W: usize> Field<W> {
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
        self.conductance.resize(first.variant.network.elements.len(), [0.0; W]);
        self.amps.clear();
        self.amps.resize(self.conductance.len(), [0.0; W]);
        self.levels.clear();
        self.levels.resize(plan.clusters.roots.len(), Level { high: [0.0; W], low: [0.0; W] });
        for lane in 0..W {
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
            self.bent.push(Bent::STRAIGHT);
        }
        let mut all = Bent::STRAIGHT;
        let bent = self.bent.get_mut(place.bent as usize).unwrap_or(&mut all);
        self.conductance[element][lane] = bent.set(lane, curve, shift);
    }

    /// Puts the clusters of a lane where a solution has them.
    pub(super) fn stand(&mut self, plan: &Plan, lane: usize, near: &Working) {
        for (level, &root) in self.levels.iter_mut().zip(&plan.clusters.roots) {
            level.high[lane] = near.volts.get(root as usize).copied().unwrap_or(0.0);
            level.low[lane] = 0.0;
        }
    }

    /// Computes all currents and slopes, and what is left over at each cluster; `guessing` as in [`Bent::look`].
    pub(super) fn evaluate(&mut self, guessing: &[bool; W]) {
        self.left_over.resize(self.levels.len(), [0.0; W]);
        self.left_over.as_flattened_mut().fill(0.0);
        let elements = self.places.iter().zip(&self.conductance).zip(&mut self.amps);
        for ((place, conductance), amps) in elements {
            let (from, to) = (&self.levels[place.from as usize], &self.levels[place.to as usize]);
            if place.bent == NONE {
                let volts = difference(from, to);
                for lane in 0..W {
                    amps[lane] = conductance[lane] * volts[lane];
                }
            } else {
                let bent = &mut self.bent[place.bent as usize];
                bent.volts = across(from, to, &bent.shift);
                bent.look(conductance, guessing, amps);
            }
            let left = &mut self.left_over[place.from as usize];
            for lane in 0..W {
                left[lane] += amps[lane];
            }
            let left = &mut self.left_over[place.to as usize];
            for lane in 0..W {
                left[lane] -= amps[lane];
            }
        }
    }

    /// How far from balance it is; `faint` as in [`crate::network::solve::engine`]. What flows at each cluster is added up
    /// only where a lane has come so near, as a share of the largest current, that it matters.
    pub(super) fn balance(&mut self, faint: f64, near: f64) -> Balance<W> {
        let (mut largest, mut left_over, mut total) = ([0.0f64; W], [0.0f64; W], [0.0; W]);
        for amps in &self.amps {
            for lane in 0..W {
                let size = amps[lane].abs();
                total[lane] += size;
                largest[lane] = if size > largest[lane] { size } else { largest[lane] };
            }
        }
        for left in &self.left_over {
            for lane in 0..W {
                let size = left[lane].abs();
                left_over[lane] = if size > left_over[lane] { size } else { left_over[lane] };
            }
        }
        let is_near = (0..W).any(|lane| left_over[lane] <= near * largest[lane]);
        let worst = if is_near { self.worst(faint, &largest) } else { [f64::INFINITY; W] };
        let finite = total.map(f64::is_finite);
        Balance { largest, left_over, worst, finite }
    }

    /// The largest of what is left over at a cluster over what flows there, for each lane.
    fn worst(&mut self, faint: f64, largest: &Lane<W>) -> Lane<W> {
        self.flowing.resize(self.levels.len(), [0.0; W]);
        self.flowing.as_flattened_mut().fill(0.0);
        for (place, amps) in self.places.iter().zip(&self.amps).filter(|(place, _)| place.from != place.to) {
            for cluster in [place.from, place.to] {
                let flows = &mut self.flowing[cluster as usize];
                for lane in 0..W {
                    flows[lane] += amps[lane].abs();
                }
            }
        }
        let mut worst = [0.0; W];
        for (left, flowing) in self.left_over.iter().zip(&self.flowing) {
            for lane in 0..W {
                let scale = (flowing[lane] + faint * largest[lane]).min(largest[lane]);
                let left = left[lane].abs();
                if left > worst[lane] * scale {
                    worst[lane] = left / scale;
                }
            }
        }
        worst
    }

    /// The largest current that any source of a lane would drive through a short circuit, ampere.
    pub(super) fn prospective(&self) -> Lane<W> {
        let mut largest = [0.0f64; W];
        for (number, place) in self.places.iter().enumerate().filter(|(_, place)| place.bent != NONE) {
            let bent = &self.bent[place.bent as usize];
            for (lane, largest) in largest.iter_mut().enumerate() {
                let source = (self.conductance[number][lane] * bent.shift[lane]).abs();
                *largest = largest.max(source).max(bent.fixed(lane).abs());
            }
        }
        largest
    }

    /// The slope of an element in each lane, siemens, with its slot; none for one within a cluster.
    pub(super) fn slopes(&self) -> impl Iterator<Item = (usize, &Lane<W>)> {
        let elements = self.places.iter().zip(&self.conductance).filter(|(place, _)| place.slot != NONE);
        elements.map(|(place, conductance)| {
            let bent = self.bent.get(place.bent as usize);
            (place.slot as usize, bent.map_or(conductance, |bent| &bent.slope))
        })
    }

    /// The slopes of the bent elements, siemens.
    pub(super) fn bent_slopes(&self) -> impl ExactSizeIterator<Item = &Lane<W>> {
        self.bent.iter().map(|bent| &bent.slope)
    }

    /// Power, cut-off and voltage of each element that is a power load in some lane.
    pub(super) fn powers(&self, lane: usize) -> impl Iterator<Item = (f64, f64, f64)> {
        self.bent.iter().map(move |bent| (bent.watts[lane], bent.cutoff[lane], bent.volts[lane]))
    }

    /// What is left over at each cluster, ampere.
    pub(super) fn left_over(&self) -> &[Lane<W>] {
        &self.left_over
    }

    /// Moves the clusters by a step in elimination order.
    pub(super) fn advance(&mut self, position: &[u32], step: &[Lane<W>]) {
        for (level, &position) in self.levels.iter_mut().zip(position) {
            let step = &step[position as usize];
            for (lane, step) in step.iter().enumerate() {
                let sum = level.high[lane] + step;
                let low = level.low[lane] + sum_error(level.high[lane], *step, sum);
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
        difference(&self.levels[from as usize], &self.levels[to as usize])[lane]
    }

    /// The current of an element in a lane, ampere.
    pub(super) fn amps(&self, element: usize, lane: usize) -> f64 {
        self.amps.get(element).map_or(0.0, |amps| amps[lane])
    }

    /// The curve of an element in a lane.
    pub(super) fn curve(&self, element: usize, lane: usize) -> Curve {
        let Some(place) = self.places.get(element) else { return Curve::OPEN };
        let conductance = self.conductance[element][lane];
        let straight = Bent::STRAIGHT;
        self.bent.get(place.bent as usize).unwrap_or(&straight).curve(lane, conductance)
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

/// The voltage from one cluster to another.
fn difference<const W: usize>(from: &Level<W>, to: &Level<W>) -> Lane<W> {
    let mut volts = [0.0; W];
    for (lane, volts) in volts.iter_mut().enumerate() {
        let difference = from.high[lane] - to.high[lane];
        let error = difference_error(from.high[lane], to.high[lane], difference);
        *volts = difference + (error + (from.low[lane] - to.low[lane]));
    }
    volts
}

/// The voltage from one cluster to another, and a shift.
fn across<const W: usize>(from: &Level<W>, to: &Level<W>, shift: &Lane<W>) -> Lane<W> {
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
