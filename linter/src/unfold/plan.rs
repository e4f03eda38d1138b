//! Which channels drive which motors, with what current, and what that draws from their supplies.

use std::collections::BTreeMap;

use wattle_grammar::quantity::{Amps, Volts, Watts};

use super::{
    drive::{Drives, passes},
    skeleton::{Skeleton, links},
    usual,
};
use crate::{
    design::{Design, State},
    network::{Law, Network, NodeId, Working},
    topology::{Nature, Topology, sets::Sets},
};

/// What every driver does.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct Plan {
    /// Channels that drive, in order.
    pub(super) channels: Vec<Driven>,
    /// Motors that are driven, in order.
    pub(super) windings: Vec<DrivenWinding>,
}

/// A channel that drives.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Driven {
    pub(super) channel: usize,
    driver: usize,
    /// Current out of lead a.
    pub(super) amps: Amps,
    /// Power of its motors over its efficiency.
    watts: Watts,
    /// Whether it passes the supply straight through.
    through: bool,
}

/// A motor that is driven.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct DrivenWinding {
    pub(super) winding: usize,
    /// Back-EMF, plus at its lead a.
    pub(super) emf: Volts,
}

/// What a driver draws for its channels.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(super) struct Supply {
    /// As currents.
    pub(super) amps: Amps,
    watts: Watts,
    watts_amps: Amps,
}

impl Supply {
    /// As a power, down to the voltage at which it draws its motors' current; `None` when it draws no power.
    pub(super) fn power_load(self) -> Option<Law> {
        let cutoff = over(self.watts, self.watts_amps);
        (self.watts > Watts(0.0)).then_some(Law::PowerLoad { watts: self.watts, cutoff })
    }
}

/// What a solution says that a plan depends on.
pub(crate) struct Seen<'a> {
    pub(crate) design: &'a Design,
    pub(crate) topology: &'a Topology,
    pub(crate) skeleton: &'a Skeleton,
    pub(crate) states: &'a [State],
    /// The network of the mode.
    pub(crate) network: &'a Network,
    /// The solution with nothing driving: it says which drivers have power.
    pub(crate) idle: &'a Working,
    /// The latest solution: it says how contacts stand and how far supplies sag.
    pub(crate) now: &'a Working,
}

impl Plan {
    /// Whether nothing drives.
    pub(crate) fn is_empty(&self) -> bool {
        self.channels.is_empty()
    }

    /// Plans for what a solution says. A channel that passed its supply straight through in an `earlier` plan keeps
    /// doing so: it draws at least as much that way, so plans come to rest.
    pub(crate) fn new(seen: &Seen<'_>, hitched: &Hitched, earlier: &Self) -> Self {
        let mut plan = Self::default();
        for (channel, motors) in &hitched.0 {
            plan.drive(seen, *channel, motors, earlier);
        }
        plan.windings.sort_by_key(|driven| driven.winding);
        plan
    }

    /// Adds a channel with its motors, unless it has no power or they are to draw nothing.
    fn drive(&mut self, seen: &Seen<'_>, channel: usize, motors: &[(usize, bool)], earlier: &Self) {
        let drives = seen.skeleton.drives();
        let driver = drives.channels[channel].driver;
        let supply = volts_between(seen.idle, drives.drivers[driver].supply);
        if supply < drives.drivers[driver].lowest {
            return;
        }
        let share = limited_share(seen, channel, motors);
        let (mut amps, mut watts, mut windings) = (Amps(0.0), Watts(0.0), Vec::new());
        for &(at, reversed) in motors {
            let winding = &drives.windings[at];
            let state = seen.state(at);
            let current = winding.motor.current(seen.design.thing(winding.thing), state) * share;
            let volts = winding.motor.volts(state, current, supply);
            let emf = winding.motor.emf(volts, current);
            amps = amps + current;
            watts = watts + volts * current;
            windings.push(DrivenWinding { winding: at, emf: if reversed { -emf } else { emf } });
        }
        if amps > Amps(0.0) {
            let watts = watts / usual::DRIVER_EFFICIENCY.0;
            let was_through =
                earlier.channels.iter().any(|driven| driven.channel == channel && driven.through);
            let sagged = volts_between(seen.now, drives.drivers[driver].supply);
            let through = was_through || over(watts, amps) >= sagged;
            self.windings.extend(windings);
            self.channels.push(Driven { channel, driver, amps, watts, through });
        }
    }

    /// What each driver draws, in driver order.
    pub(super) fn supply(&self, drives: &Drives) -> Vec<Supply> {
        let mut supplies = vec![Supply::default(); drives.drivers.len()];
        for driven in &self.channels {
            let supply = &mut supplies[driven.driver];
            if driven.through {
                supply.amps = supply.amps + driven.amps;
            } else {
                supply.watts = supply.watts + driven.watts;
                supply.watts_amps = supply.watts_amps + driven.amps;
            }
        }
        supplies
    }
}

/// The motors on each channel that has any, each with whether it is connected the other way round.
#[derive(Clone, Debug, Default)]
pub(crate) struct Hitched(BTreeMap<usize, Vec<(usize, bool)>>);

impl Hitched {
    /// Follows the wiring of a mode as contacts stand. A motor on two channels counts for the first.
    pub(crate) fn new(seen: &Seen<'_>) -> Self {
        Self(motors_by_channel(seen.skeleton.drives(), &mut seen.nets()))
    }
}

/// The share of their currents that the motors of a channel get: 1, or less where the channel limits itself.
fn limited_share(seen: &Seen<'_>, channel: usize, motors: &[(usize, bool)]) -> f64 {
    let drives = seen.skeleton.drives();
    let wanted: Amps = motors
        .iter()
        .map(|&(at, _)| {
            let winding = &drives.windings[at];
            winding.motor.current(seen.design.thing(winding.thing), seen.state(at))
        })
        .sum();
    match drives.channels[channel].limit {
        Some(limit) if wanted > limit => limit / wanted,
        _ => 1.0,
    }
}

fn motors_by_channel(drives: &Drives, nets: &mut Sets) -> BTreeMap<usize, Vec<(usize, bool)>> {
    let mut channel_at = BTreeMap::new();
    for (at, channel) in drives.channels.iter().enumerate() {
        let (a, b) = (nets.root(channel.leads.0.0), nets.root(channel.leads.1.0));
        if a != b {
            channel_at.entry((a, b)).or_insert(at);
        }
    }
    let mut motors: BTreeMap<usize, Vec<(usize, bool)>> = BTreeMap::new();
    for (at, winding) in drives.windings.iter().enumerate() {
        let (a, b) = (nets.root(winding.leads.0.0), nets.root(winding.leads.1.0));
        if let Some(&channel) = channel_at.get(&(a, b)) {
            motors.entry(channel).or_default().push((at, false));
        } else if let Some(&channel) = channel_at.get(&(b, a)) {
            motors.entry(channel).or_default().push((at, true));
        }
    }
    motors
}

impl Seen<'_> {
    /// Whether any motor is told to draw anything.
    pub(crate) fn commands_motors(design: &Design, skeleton: &Skeleton, states: &[State]) -> bool {
        skeleton.drives().windings.iter().any(|winding| {
            let state = states.get(winding.thing.index()).copied().unwrap_or(State::Plain);
            winding.motor.current(design.thing(winding.thing), state) > Amps(0.0)
        })
    }

    fn state(&self, winding: usize) -> State {
        let thing = self.skeleton.drives().windings[winding].thing;
        self.states.get(thing.index()).copied().unwrap_or(State::Plain)
    }

    /// Nodes joined by what a motor's current passes, as contacts stand now.
    fn nets(&self) -> Sets {
        let mut nets = Sets::new(self.topology.nodes as usize);
        for (id, link) in links(self.topology).filter(|(_, link)| passes(link.nature)) {
            let conducts = match link.nature {
                Nature::CoilContact { .. } => {
                    self.skeleton.follower(id).is_some_and(|at| self.now.closed.get(at) == Some(&true))
                }
                _ => matches!(self.network.elements[id.0 as usize].law, Law::Resistor(_)),
            };
            if conducts {
                nets.join(link.a.0, link.b.0);
            }
        }
        nets
    }
}

/// The voltage at which a power is a current.
fn over(watts: Watts, amps: Amps) -> Volts {
    Volts(watts.0 / amps.0)
}

/// The voltage between two nodes; 0 when nothing joins them.
fn volts_between(working: &Working, (plus, minus): (NodeId, NodeId)) -> Volts {
    let at = |node: NodeId| Some((working.volts.get(node.0 as usize)?, working.island.get(node.0 as usize)?));
    match (at(plus), at(minus)) {
        (Some((high, island)), Some((low, other))) if island == other => Volts(high - low),
        _ => Volts(0.0),
    }
}
