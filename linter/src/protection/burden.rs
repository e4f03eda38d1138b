//! What a device carries at work: its steady current in every mode, and the pulses of the loads behind it.

use std::collections::{BTreeMap, BTreeSet};

use wattle_grammar::{
    kind::key,
    quantity::{AmpSquaredSeconds, Amps, Farads, Seconds},
};

use super::{
    Device, Devices, Given,
    way::{Chains, ToLoad},
};
use crate::{
    design::ThingId,
    topology::{LinkId, Nature, Owner},
};

/// What a device carries at work.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Burden {
    /// The highest current that lasts, over every mode in which nothing is blocked or turned.
    pub steady: Option<Steady>,
    /// The highest current of any mode, blocked motors included.
    pub highest: Option<Steady>,
    /// The pulse of each load behind it that tells one, in the order of the loads.
    pub pulses: Vec<Pulse>,
    /// Loads behind it that state a peak above what the device carries for long, but not for how long it lasts.
    pub timeless: Vec<ThingId>,
}

/// A current of a working point.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Steady {
    /// The current; with a duty the root mean square.
    pub amps: Amps,
    /// The working point, in [`crate::figures::Figures::points`].
    pub point: usize,
}

/// A current for a short time.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pulse {
    /// The load that draws it.
    pub load: ThingId,
    /// Why.
    pub cause: PulseCause,
    /// How much, at its highest.
    pub amps: Amps,
    /// For how long; of a capacitor the time constant of the loop.
    pub time: Seconds,
    /// Its energy.
    pub energy: AmpSquaredSeconds,
    /// What the device stands for sure at this current, or at this energy; none where its limits do not tell.
    pub holds: Option<Holds>,
}

/// What a device stands for sure.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Holds {
    /// The current for so long.
    For(Seconds),
    /// A pulse of so much energy.
    Energy(AmpSquaredSeconds),
}

/// Why a load draws a pulse.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PulseCause {
    /// Its stated peak.
    Peak,
    /// Its stated in-rush.
    Inrush,
    /// Its capacitance, filled through the resistance of the loop.
    Capacitance,
}

impl Pulse {
    /// Whether the device may open on it.
    #[must_use]
    pub fn may_open(&self) -> bool {
        match self.holds {
            Some(Holds::For(time)) => time < self.time,
            Some(Holds::Energy(energy)) => energy < self.energy,
            None => false,
        }
    }
}

/// The burden of every device, in link order.
pub(super) fn burdens(
    given: &Given<'_>,
    devices: &Devices,
    to_loads: &[ToLoad],
    chains: &Chains,
) -> Vec<Burden> {
    let mut burdens = currents(given, devices);
    let mut told: BTreeSet<(LinkId, LinkId)> = BTreeSet::new();
    let mut wanted: BTreeMap<LinkId, Wants> = BTreeMap::new();
    for to_load in to_loads {
        let wants = wanted.entry(to_load.load).or_insert_with(|| Wants::new(given, to_load.load));
        let filled = wants.farads.and_then(|farads| filled(given, to_load, farads));
        if wants.stated.is_empty() && filled.is_none() && wants.timeless.is_none() {
            continue;
        }
        for device in chains.devices(to_load.chain).filter_map(|link| devices.position(link)) {
            let (Some(known), Some(burden)) = (devices.all().get(device), burdens.get_mut(device)) else {
                continue;
            };
            if !told.insert((known.link, to_load.load)) {
                continue;
            }
            let pulses = wants.stated.iter().chain(&filled);
            burden.pulses.extend(pulses.map(|pulse| Pulse { holds: holds(known, pulse), ..*pulse }));
            let timeless = wants.timeless.filter(|(_, amps)| is_above_band(known, *amps));
            burden.timeless.extend(timeless.map(|(load, _)| load));
        }
    }
    burdens
}

/// What each device carries for long, point by point.
fn currents(given: &Given<'_>, devices: &Devices) -> Vec<Burden> {
    let mut burdens = vec![Burden::default(); devices.all().len()];
    for (at, point) in given.figures.points.iter().enumerate() {
        // Heating goes with the square of the current: with a duty d the root mean square is I √d.
        let duty = point.duty.0.clamp(0.0, 1.0).sqrt();
        for (device, burden) in devices.all().iter().zip(&mut burdens) {
            let amps = point.amps(device.link).map(Amps::abs).filter(|amps| amps.0.is_finite());
            let Some(amps) = amps else { continue };
            let steady = Steady { amps: amps * duty, point: at };
            if point.ordinary && burden.steady.is_none_or(|held| steady.amps > held.amps) {
                burden.steady = Some(steady);
            }
            if burden.highest.is_none_or(|held| amps > held.amps) {
                burden.highest = Some(Steady { amps, point: at });
            }
        }
    }
    burdens
}

/// What a load wants for a short time.
#[derive(Default)]
struct Wants {
    /// The pulses that are written.
    stated: Vec<Pulse>,
    /// A capacitance that is filled without a soft start.
    farads: Option<(ThingId, Farads)>,
    /// A peak without a time.
    timeless: Option<(ThingId, Amps)>,
}

impl Wants {
    fn new(given: &Given<'_>, load: LinkId) -> Self {
        let Some(link) = given.topology.link(load) else { return Self::default() };
        let Owner::Thing(load, _) = link.owner else { return Self::default() };
        let (thing, nature) = (given.design.thing(load), link.nature);
        let mut wants = Self::default();
        if draws_its_own(nature) {
            let (peak, time) = (thing.get(key::PEAK), thing.get::<Seconds>(key::PEAK_TIME));
            wants.stated.extend(stated(load, PulseCause::Peak, peak, time));
            wants.timeless = peak.filter(|_| time.is_none()).map(|peak| (load, peak));
        }
        if thing.flag(key::SOFT_START) == Some(true) {
            return wants;
        }
        let inrush = stated(load, PulseCause::Inrush, thing.get(key::INRUSH), thing.get(key::INRUSH_TIME));
        wants.stated.extend(inrush);
        let capacitance = thing.get::<Farads>(key::CAPACITANCE).filter(|farads| farads.0 > 0.0);
        // A capacitor that is joined without a switch is filled once, when the pack is plugged in: it counts all the same.
        wants.farads = capacitance.filter(|_| nature != Nature::Winding).map(|farads| (load, farads));
        wants
    }
}

/// Whether the ratings of a thing are those of its supply input: a driver's peak is that of its motors, a regulator's
/// that of its output.
const fn draws_its_own(nature: Nature) -> bool {
    matches!(nature, Nature::Load | Nature::Winding)
}

/// A stated current for a stated time.
fn stated(load: ThingId, cause: PulseCause, amps: Option<Amps>, time: Option<Seconds>) -> Option<Pulse> {
    let (amps, time) = amps.zip(time).filter(|(amps, time)| amps.0 > 0.0 && time.0 > 0.0)?;
    let energy = AmpSquaredSeconds(amps.0 * amps.0 * time.0);
    Some(Pulse { load, cause, amps, time, energy, holds: None })
}

/// The pulse that fills a capacitance over the loop; none from what limits itself.
fn filled(given: &Given<'_>, to_load: &ToLoad, (load, farads): (ThingId, Farads)) -> Option<Pulse> {
    let feed = given.trace.feeds.get(to_load.feed).filter(|feed| feed.limit.is_none())?;
    let ohms = to_load.ohms.0.max(1e-6);
    Some(Pulse {
        load,
        cause: PulseCause::Capacitance,
        amps: Amps(feed.volts.0 / ohms),
        time: Seconds(ohms * farads.0),
        energy: AmpSquaredSeconds(feed.volts.0 * feed.volts.0 * farads.0 / (2.0 * ohms)),
        holds: None,
    })
}

fn is_above_band(device: &Device, amps: Amps) -> bool {
    device.band().is_some_and(|(carries, _)| amps > carries)
}

/// What the device stands for sure of a pulse.
fn holds(device: &Device, pulse: &Pulse) -> Option<Holds> {
    let (style, rated) = (device.style?, device.rated?);
    if pulse.cause == PulseCause::Capacitance {
        return style.least_energy(rated).map(Holds::Energy);
    }
    let times = style.times(rated, pulse.amps)?;
    if times.fast.is_some() {
        return Some(Holds::For(times.earliest));
    }
    style.least_energy(rated).map(Holds::Energy)
}
