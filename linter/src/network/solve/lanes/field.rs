//! The elements of all lanes, and what they carry where the clusters stand.

use wattle_grammar::quantity::Ohms;

use super::{
    Lane, Problem,
    awake::Awake,
    bent::{Bent, Power},
    level::{Level, across, difference},
};
use crate::network::{
    Law, Variant,
    solve::{curve::Curve, island::Parts, plan::Plan},
};

const NONE: u32 = u32::MAX;

/// So many clusters or elements are taken lane by lane at once: few enough to stay in the nearest cache.
pub(super) const BLOCK: usize = 32;

/// Where an element lies.
#[derive(Clone, Copy, Debug)]
struct Place {
    element: u32,
    from: u32,
    to: u32,
    slot: u32,
    /// Its position in [`Field::bent`]; none for one that is a resistance or open in every lane.
    bent: u32,
}

/// An element that joins its clusters electrically in some lanes.
#[derive(Clone, Copy, Debug)]
pub(super) struct Joining {
    pub(super) element: u32,
    pub(super) from: u32,
    pub(super) to: u32,
    /// A bit for each lane in which it does.
    pub(super) lanes: u8,
}

/// What resistances join, as long as the same of them carry something.
#[derive(Clone, Debug)]
pub(super) struct Joined {
    /// The clusters that resistances join in every lane.
    pub(super) parts: Parts,
    /// Resistances that are open in some lane.
    pub(super) others: Vec<Joining>,
}

/// What flows at a cluster, ampere.
#[derive(Clone, Copy, Debug)]
struct Sum<const W: usize> {
    /// What is left over.
    left_over: Lane<W>,
    /// The sizes of all currents.
    flowing: Lane<W>,
}

/// What flows in all.
struct Total<const W: usize> {
    largest: Lane<W>,
    sum: Lane<W>,
}

impl Place {
    const fn joining(&self, lanes: u8) -> Joining {
        Joining { element: self.element, from: self.from, to: self.to, lanes }
    }

    /// Adds what it carries to the sums at its ends.
    #[inline]
    fn carry<const W: usize>(&self, amps: &Lane<W>, sums: &mut [Sum<W>], total: &mut Total<W>) {
        let sizes = amps.map(f64::abs);
        for (lane, size) in sizes.iter().enumerate() {
            total.sum[lane] += size;
            total.largest[lane] = if *size > total.largest[lane] { *size } else { total.largest[lane] };
        }
        if self.from == self.to {
            return;
        }
        for (cluster, sign) in [(self.from, 1.0), (self.to, -1.0)] {
            let sum = &mut sums[cluster as usize];
            for lane in 0..W {
                sum.left_over[lane] += sign * amps[lane];
                sum.flowing[lane] += sizes[lane];
            }
        }
    }
}

/// How far the currents of each lane are from balance.
#[derive(Clone, Copy, Debug)]
pub(super) struct Balance<const W: usize> {
    /// The largest current, ampere.
    pub(super) largest: Lane<W>,
    /// The largest current left over at a cluster, ampere.
    pub(super) left_over: Lane<W>,
    /// The largest of what is left over at a cluster over what flows there.
    pub(super) worst: Lane<W>,
    /// Whether every current is a number: one that is not passes every comparison.
    pub(super) finite: [bool; W],
}

impl<const W: usize> Balance<W> {
    /// Nothing flows.
    pub(super) const NONE: Self =
        Self { largest: [0.0; W], left_over: [0.0; W], worst: [0.0; W], finite: [true; W] };
}

/// All elements and clusters.
#[derive(Clone, Debug, Default)]
pub(super) struct Field<const W: usize> {
    places: Vec<Place>,
    /// The places of what is a resistance in some lane, and bent in none.
    plain: Vec<Place>,
    /// The places of what is bent in some lane.
    shifted: Vec<Place>,
    /// The places of what would be plain but carries nothing in any lane, for it is all that a cluster hangs by.
    hanging: Vec<Place>,
    /// What takes part in the search.
    awake: Awake,
    /// Whether all these are to be made anew.
    stale: bool,
    bent: Vec<Bent<W>>,
    powers: Vec<Power<W>>,
    /// The conductance of each element, siemens.
    conductance: Vec<Lane<W>>,
    /// The current of each element, ampere.
    amps: Vec<Lane<W>>,
    levels: Vec<Level<W>>,
    sums: Vec<Sum<W>>,
    joined: Joined,
    prospective: Prospective<W>,
}

/// The largest current that any source of a lane would drive through a short circuit, ampere: the largest so far.
#[derive(Clone, Copy, Debug)]
struct Prospective<const W: usize>(Lane<W>);

impl<const W: usize> Default for Prospective<W> {
    fn default() -> Self {
        Self([0.0; W])
    }
}

impl<const W: usize> Field<W> {
    /// Lays the elements of the problems.
    pub(super) fn lay(&mut self, plan: &Plan, problems: &[Problem<'_>]) {
        let Some(first) = problems.first() else { return };
        self.places.clear();
        self.bent.clear();
        self.powers.clear();
        self.conductance.clear();
        self.amps.clear();
        for (number, &(from, to)) in plan.ends.iter().enumerate() {
            let slot = plan.slot(number).map_or(NONE, |slot| slot as u32);
            self.places.push(Place { element: number as u32, from, to, slot, bent: NONE });
        }
        self.stale = true;
        self.conductance.resize(plan.ends.len(), [0.0; W]);
        self.amps.resize(plan.ends.len(), [0.0; W]);
        let variants: [Variant<'_>; W] =
            std::array::from_fn(|lane| problems.get(lane).unwrap_or(first).variant);
        for (lane, variant) in variants.iter().enumerate() {
            if let Some(other) = variants.iter().take(lane).position(|other| other.has_laws_of(variant)) {
                self.copy(other, lane);
                continue;
            }
            for (number, element) in variant.network.elements.iter().enumerate() {
                match variant.law(number, element) {
                    Law::Resistor(Ohms(ohms)) => self.warm(number, lane, 1.0 / ohms),
                    Law::Open if self.places[number].bent == NONE => {}
                    law => self.set_law(number, lane, &law),
                }
            }
        }
    }

    /// Lays a lane as another one is laid.
    fn copy(&mut self, other: usize, lane: usize) {
        self.conductance.iter_mut().for_each(|conductance| conductance[lane] = conductance[other]);
        self.bent.iter_mut().for_each(|bent| bent.copy(other, lane));
        self.powers.iter_mut().for_each(|power| power.copy(other, lane));
    }

    /// Begins with the clusters where solutions have them, or at 0 V. Every node is a cluster of its own.
    pub(super) fn stand(&mut self, plan: &Plan, problems: &[Problem<'_>]) {
        let nears: [&[f64]; W] = std::array::from_fn(|lane| {
            problems.get(lane).and_then(|problem| problem.near).map_or(&[][..], |near| &near.volts)
        });
        self.levels.clear();
        self.levels.resize(plan.clusters.roots.len(), Level::new([0.0; W]));
        for (at, block) in self.levels.chunks_mut(BLOCK).enumerate() {
            for (lane, near) in nears.iter().enumerate() {
                let volts = near.get(at * BLOCK..).unwrap_or_default();
                block.iter_mut().zip(volts).for_each(|(level, volts)| level.set(lane, *volts));
            }
        }
        self.prospective = Prospective::default();
        for place in self.places.iter().filter(|place| place.bent != NONE) {
            let bent = &self.bent[place.bent as usize];
            let found = bent.prospective(&self.conductance[place.element as usize]);
            for (largest, found) in self.prospective.0.iter_mut().zip(found) {
                *largest = if found > *largest { found } else { *largest };
            }
        }
    }

    /// Gives an element its law in a lane.
    pub(super) fn set_law(&mut self, element: usize, lane: usize, law: &Law) {
        self.set(element, lane, Curve::new(law), Curve::shift(law));
    }

    /// Gives an element its curve in a lane; `shift` is that of its law, volt.
    pub(super) fn set(&mut self, element: usize, lane: usize, curve: Curve, shift: f64) {
        let Some(place) = self.places.get_mut(element) else { return };
        let is_plain = matches!(curve, Curve::Held { low: f64::NEG_INFINITY, high: f64::INFINITY, .. })
            || curve == Curve::OPEN;
        if place.bent == NONE {
            if is_plain && shift == 0.0 {
                let conductance = if let Curve::Held { conductance, .. } = curve { conductance } else { 0.0 };
                let old = std::mem::replace(&mut self.conductance[element][lane], conductance);
                self.stale |= (old == 0.0) != (conductance == 0.0);
                return;
            }
            place.bent = self.bent.len() as u32;
            self.bent.push(Bent::STRAIGHT);
            self.stale = true;
        }
        if let Some(bent) = self.bent.get_mut(place.bent as usize) {
            let conductance = bent.set(lane, curve, shift, &mut self.powers);
            self.conductance[element][lane] = conductance;
            let largest = &mut self.prospective.0[lane];
            *largest = largest.max(bent.prospective(&self.conductance[element])[lane]);
        }
    }

    /// Gives an element that is a resistance its conductance in a lane, siemens.
    pub(super) fn warm(&mut self, element: usize, lane: usize, conductance: f64) {
        match (self.places.get(element), self.conductance.get_mut(element)) {
            (Some(Place { bent: NONE, .. }), Some(held)) => {
                self.stale |= (held[lane] == 0.0) != (conductance == 0.0);
                held[lane] = conductance;
            }
            _ => {
                let (low, high) = (f64::NEG_INFINITY, f64::INFINITY);
                self.set(element, lane, Curve::Held { conductance, low, high }, 0.0);
            }
        }
    }

    /// Computes all currents and slopes, and what is left over at each cluster; `guessing` as in [`Bent::guess`], `faint`
    /// as in [`crate::network::solve::engine`].
    pub(super) fn evaluate(&mut self, plan: &Plan, guessing: &[bool; W], faint: f64) -> Balance<W> {
        self.sweep(plan);
        let (largest, total) = self.flow(guessing);
        self.balance(faint, largest, total)
    }

    /// Computes all currents, and adds up what flows at each cluster. Returns the largest current and the sum of them all.
    fn flow(&mut self, guessing: &[bool; W]) -> (Lane<W>, Lane<W>) {
        for awake in &self.awake.clusters {
            self.sums[awake.cluster as usize] = Sum::NOTHING;
        }
        let mut total = Total { largest: [0.0; W], sum: [0.0; W] };
        for place in &self.plain {
            let element = place.element as usize;
            let volts = difference(&self.levels[place.from as usize], &self.levels[place.to as usize]);
            let conductance = &self.conductance[element];
            let amps = std::array::from_fn(|lane| conductance[lane] * volts[lane]);
            self.amps[element] = amps;
            place.carry(&amps, &mut self.sums, &mut total);
        }
        let is_guessing = guessing.contains(&true);
        for place in &self.shifted {
            let element = place.element as usize;
            let Some(bent) = self.bent.get_mut(place.bent as usize) else { continue };
            let (conductance, amps) = (&self.conductance[element], &mut self.amps[element]);
            let (from, to) = (&self.levels[place.from as usize], &self.levels[place.to as usize]);
            bent.volts = across(from, to, &bent.shift);
            bent.look(conductance, &self.powers, amps);
            if is_guessing {
                bent.guess(conductance, &self.powers, guessing, amps);
            }
            place.carry(amps, &mut self.sums, &mut total);
        }
        (total.largest, total.sum)
    }

    /// Finds out what may carry something in some lane.
    fn sweep(&mut self, plan: &Plan) {
        if !std::mem::take(&mut self.stale) {
            return;
        }
        self.plain.clear();
        self.shifted.clear();
        self.hanging.clear();
        for place in &self.places {
            let element = place.element as usize;
            if place.bent != NONE {
                self.shifted.push(*place);
            } else if self.conductance[element] == [0.0; W] {
                self.amps[element] = [0.0; W];
            } else {
                self.plain.push(*place);
            }
        }
        self.awake = Awake::new(plan, &self.plain, &self.shifted, |place| (place.from, place.to));
        let mut hangs = self.awake.hangs.iter();
        self.plain.retain(|place| {
            let hangs = hangs.next() == Some(&true);
            if hangs {
                self.amps[place.element as usize] = [0.0; W];
                self.hanging.push(*place);
            }
            !hangs
        });
        self.sums.resize(self.levels.len(), Sum::NOTHING);
        self.join_plain();
        self.let_hang();
    }

    /// Finds out what resistances join.
    fn join_plain(&mut self) {
        let mut parts = Parts::new(self.levels.len());
        self.joined.others.clear();
        for place in self.plain.iter().chain(&self.hanging).filter(|place| place.from != place.to) {
            let lanes = mask::<W>(|lane| self.conductance[place.element as usize][lane] != 0.0);
            if lanes == mask::<W>(|_| true) {
                parts.join(place.from, place.to);
            } else {
                self.joined.others.push(place.joining(lanes));
            }
        }
        self.joined.parts = parts;
    }

    /// Puts clusters that hang by one resistance where its other end is.
    fn let_hang(&mut self) {
        for (cluster, by) in &self.awake.hanging {
            self.levels[*cluster as usize] = self.levels[*by as usize];
        }
    }

    fn balance(&self, faint: f64, largest: Lane<W>, total: Lane<W>) -> Balance<W> {
        let (mut left_over, mut worst) = ([0.0f64; W], [0.0f64; W]);
        let faint = largest.map(|largest| faint * largest);
        for awake in &self.awake.clusters {
            let sum = &self.sums[awake.cluster as usize];
            let mut is_worse = false;
            let (mut left, mut scale) = ([0.0; W], [0.0; W]);
            for lane in 0..W {
                left[lane] = sum.left_over[lane].abs();
                left_over[lane] = if left[lane] > left_over[lane] { left[lane] } else { left_over[lane] };
                let flowing = sum.flowing[lane] + faint[lane];
                scale[lane] = if flowing < largest[lane] { flowing } else { largest[lane] };
                is_worse |= left[lane] > worst[lane] * scale[lane];
            }
            if is_worse {
                for lane in 0..W {
                    if left[lane] > worst[lane] * scale[lane] {
                        worst[lane] = left[lane] / scale[lane];
                    }
                }
            }
        }
        Balance { largest, left_over, worst, finite: total.map(f64::is_finite) }
    }

    /// The largest current that any source of a lane would drive through a short circuit, ampere.
    pub(super) const fn prospective(&self) -> Lane<W> {
        self.prospective.0
    }

    /// The slope of an element in each lane, siemens, with its slot; none for one within a cluster, or that carries nothing
    /// in any lane.
    pub(super) fn slopes(&self) -> impl Iterator<Item = (usize, &Lane<W>)> {
        let of = |place: &Place| {
            let bent = self.bent.get(place.bent as usize);
            bent.map_or(&self.conductance[place.element as usize], |bent| &bent.slope)
        };
        let live = self.plain.iter().chain(&self.shifted).filter(|place| place.slot != NONE);
        live.map(move |place| (place.slot as usize, of(place)))
    }

    /// The slopes of the bent elements, siemens.
    pub(super) fn bent_slopes(&self) -> impl ExactSizeIterator<Item = &Lane<W>> {
        self.bent.iter().map(|bent| &bent.slope)
    }

    /// Whether any power load of a lane is below its cut-off.
    pub(super) fn is_any_sagging(&self, lane: usize) -> bool {
        self.bent.iter().any(|bent| bent.is_sagging(lane, &self.powers))
    }

    /// What takes part in the search.
    pub(super) const fn awake(&self) -> &Awake {
        &self.awake
    }

    /// Writes what each cluster lacks, ampere, in elimination order; nothing in lanes that stay as they are.
    pub(super) fn lacking(&self, stays: &[bool; W], step: &mut [Lane<W>]) {
        let wanted = stays.map(|stays| if stays { 0.0 } else { -1.0 });
        for awake in &self.awake.clusters {
            let sum = &self.sums[awake.cluster as usize];
            step[awake.position as usize] = std::array::from_fn(|lane| wanted[lane] * sum.left_over[lane]);
        }
    }

    /// Moves the clusters by a step in elimination order.
    pub(super) fn advance(&mut self, step: &[Lane<W>]) {
        for awake in &self.awake.clusters {
            self.levels[awake.cluster as usize].advance(&step[awake.position as usize]);
        }
        self.let_hang();
    }

    /// The voltage across an element in a lane, volt.
    pub(super) fn volts(&self, element: usize, lane: usize) -> f64 {
        self.places.get(element).map_or(0.0, |place| self.between(place.from, place.to, lane))
    }

    /// The voltage from one cluster to another in a lane, volt.
    pub(super) fn between(&self, from: u32, to: u32, lane: usize) -> f64 {
        self.levels[from as usize].over(&self.levels[to as usize], lane)
    }

    /// The current of an element in a lane, ampere.
    pub(super) fn amps(&self, element: usize, lane: usize) -> f64 {
        self.amps.get(element).map_or(0.0, |amps| amps[lane])
    }

    /// The current of each element in each lane, ampere.
    pub(super) fn all_amps(&self) -> &[Lane<W>] {
        &self.amps
    }

    /// The voltage of each cluster in each lane.
    pub(super) fn levels(&self) -> &[Level<W>] {
        &self.levels
    }

    /// The curve of an element in a lane.
    pub(super) fn curve(&self, element: usize, lane: usize) -> Curve {
        let Some(place) = self.places.get(element) else { return Curve::OPEN };
        let conductance = self.conductance[element][lane];
        let straight = Bent::STRAIGHT;
        self.bent.get(place.bent as usize).unwrap_or(&straight).curve(lane, conductance, &self.powers)
    }

    /// What resistances join.
    pub(super) const fn joined(&self) -> &Joined {
        &self.joined
    }

    /// What is bent in some lane and lies between two clusters, with the lanes in which it conducts.
    pub(super) fn bent_joining(&self) -> Vec<Joining> {
        let between = self.shifted.iter().filter(|place| place.from != place.to);
        let conducting = |place: &Place| {
            let bent = self.bent.get(place.bent as usize)?;
            let conductance = &self.conductance[place.element as usize];
            Some(place.joining(bent.conducting(conductance, &self.powers)))
        };
        between.filter_map(conducting).collect()
    }
}

impl Default for Joined {
    fn default() -> Self {
        Self { parts: Parts::new(0), others: Vec::new() }
    }
}

/// A bit for each lane of which something is true.
fn mask<const W: usize>(is_true: impl Fn(usize) -> bool) -> u8 {
    (0..W).fold(0, |mask, lane| mask | u8::from(is_true(lane)) << lane)
}

impl<const W: usize> Sum<W> {
    const NOTHING: Self = Self { left_over: [0.0; W], flowing: [0.0; W] };
}
