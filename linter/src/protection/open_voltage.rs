//! The highest direct voltage that a device may have to break.

use std::collections::{BTreeMap, BTreeSet};

use wattle_grammar::{
    kind::{KindId, key},
    quantity::Volts,
};

use super::{Given, links_at, resistance::Passage, resistance::Warmth, resistance::passage, source::Levels};
use crate::{
    design::ThingId,
    network::NodeId,
    topology::{LinkId, Nature, Owner},
};

/// A voltage above that of the sources.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Raised {
    /// How much.
    pub volts: Volts,
    /// By what.
    pub by: RaisedBy,
}

/// What lifts a voltage above that of the sources.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RaisedBy {
    /// Braking motors lift it up to the voltage of this clamp.
    Clamp(ThingId),
    /// Motors that are turned from outside, at this working point.
    TurnedMotors(usize),
}

/// The full voltage of the highest source that reaches a device, or that at the high end of its tolerance; packs in series
/// added.
pub(super) fn across(given: &Given<'_>, levels: &[Levels], device: LinkId) -> Volts {
    let Some(link) = given.topology.link(device) else { return Volts(0.0) };
    let feeds = [link.a, link.b].into_iter().flat_map(|node| given.trace.indices_at(node));
    feeds.filter_map(|feed| levels.get(*feed)).map(Levels::volts).fold(Volts(0.0), Volts::max)
}

/// The devices whose voltage something lifts.
pub(super) fn raised(given: &Given<'_>, levels: &[Levels]) -> BTreeMap<LinkId, Raised> {
    let mut raised = BTreeMap::new();
    for (id, thing) in given.design.things().filter(|(_, thing)| thing.id() == KindId::Clamp) {
        let Some(volts) = thing.get::<Volts>(key::CLAMPS_AT) else { continue };
        // Those for spikes do not hold what motors give for long.
        if matches!(thing.word(key::STYLE), Some("transient-diode" | "varistor")) {
            continue;
        }
        let node = |name| given.design.terminal_named(id, name).and_then(|at| given.topology.node(at));
        if let (Some(plus), Some(minus)) = (node("pos"), node("neg")) {
            by_clamp(given, plus, minus, Raised { volts, by: RaisedBy::Clamp(id) }, &mut raised);
        }
    }
    by_turned_motors(given, levels, &mut raised);
    raised
}

fn keep(raised: &mut BTreeMap<LinkId, Raised>, device: LinkId, found: Raised) {
    let held = raised.entry(device).or_insert(found);
    if found.volts > held.volts {
        *held = found;
    }
}

/// Every device that conductors and contacts join to the clamp, when a driver that gives energy back is among them.
fn by_clamp(
    given: &Given<'_>,
    plus: NodeId,
    minus: NodeId,
    found: Raised,
    raised: &mut BTreeMap<LinkId, Raised>,
) {
    let home = given.trace.rail(minus);
    let mut seen = BTreeSet::from([plus]);
    let mut stack = vec![plus];
    let (mut devices, mut gives_back) = (Vec::new(), false);
    while let Some(node) = stack.pop() {
        for (id, link) in links_at(given.topology, node) {
            gives_back |= regenerates(given, link.nature, link.owner);
            if matches!(link.nature, Nature::Protective { .. }) {
                devices.push(id);
            }
            let to = link.other(node);
            let joins = !matches!(link.nature, Nature::Resistor(_))
                && matches!(passage(given.design, given.topology, link, Warmth::Cold), Passage::Both(_));
            if joins && given.trace.rail(to) != home && seen.insert(to) {
                stack.push(to);
            }
        }
    }
    for device in devices.into_iter().filter(|_| gives_back) {
        keep(raised, device, found);
    }
}

fn regenerates(given: &Given<'_>, nature: Nature, owner: Owner) -> bool {
    let Owner::Thing(thing, _) = owner else { return false };
    nature == Nature::DriverInput && given.design.thing(thing).flag(key::REGENERATES) != Some(false)
}

/// A voltage above another by this share only is the same.
const SAME: f64 = 1e-9;

/// Devices that see more than their sources give in a mode in which motors are turned.
fn by_turned_motors(given: &Given<'_>, levels: &[Levels], raised: &mut BTreeMap<LinkId, Raised>) {
    let links = (0u32..).map(LinkId).zip(&given.topology.links);
    for (id, link) in links.filter(|(_, link)| matches!(link.nature, Nature::Protective { .. })) {
        let feed = [link.a, link.b].into_iter().find_map(|node| given.trace.feeds_at(node).next());
        let Some(feed) = feed else { continue };
        let most = across(given, levels, id);
        // Where a motor is only blocked nothing is lifted.
        let pushed = given.figures.points.iter().enumerate().filter(|(_, point)| point.pushed);
        for (at, point) in pushed {
            let volts = [link.a, link.b].map(|node| point.volts_across(node, feed.minus));
            let highest = volts.into_iter().flatten().fold(Volts(0.0), Volts::max);
            if highest.0 > most.0 * (1.0 + SAME) && highest.0.is_finite() {
                keep(raised, id, Raised { volts: highest, by: RaisedBy::TurnedMotors(at) });
            }
        }
    }
}
