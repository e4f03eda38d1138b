//! The ways by which each source alone feeds each wire: what it gives at least into a short at the far end, and past
//! which devices.
//!
//! The way is the least protected one that the trace found. Where several ways lead there, one alone is taken, so that
//! the resistance is rather too high and the current rather too low.

use std::collections::BTreeMap;

use wattle_grammar::quantity::{Amps, Ohms, Volts};

use super::{
    Back, Highest,
    homeward::{Home, Room, WaysHome, end_of},
    links_at,
    resistance::{Passage, Warmth, passage, wire_resistance},
    source::{Levels, Source, Strength, fuse_inside, is_idle},
};
use crate::{
    design::{Design, WireId},
    network::NodeId,
    physics::diode::SILICON_DROP,
    topology::{Link, LinkId, Nature, Owner, Topology},
    trace::{Feed, RailId, Trace, Weakest},
};

/// A way of one source into one wire.
#[derive(Clone, Debug)]
pub(super) struct RawWay {
    pub(super) feed: usize,
    /// Whether it comes in at the wire's `from` end.
    pub(super) at_from: bool,
    /// Of a wire that brings the current of a load home: the highest current of a short of that load.
    pub(super) homeward: Option<Highest>,
    pub(super) lowest: Option<Amps>,
    /// The way out from the source to the short, hot.
    pub(super) out: Ohms,
    /// What diodes on it take away.
    pub(super) drop: Volts,
    pub(super) back: Back,
    pub(super) guard: Weakest,
    /// The last device on the way, as a position in [`Chains`].
    pub(super) chain: Option<u32>,
    /// A wire on the way, or this one, of which nothing tells the resistance.
    pub(super) unmeasured: Option<WireId>,
    /// Of a wire that brings current home: a device without a rating before another load that comes home through it.
    pub(super) unrated: Option<LinkId>,
}

/// The devices on the ways: each with the one before it.
#[derive(Clone, Debug, Default)]
pub(super) struct Chains(Vec<(LinkId, Option<u32>)>);

impl Chains {
    fn add(&mut self, device: LinkId, before: Option<u32>) -> Option<u32> {
        self.0.push((device, before));
        u32::try_from(self.0.len() - 1).ok()
    }

    /// How many chains there are.
    pub(super) const fn len(&self) -> usize {
        self.0.len()
    }

    /// The devices of a chain, the one nearest to the wire first.
    pub(super) fn devices(&self, chain: Option<u32>) -> impl Iterator<Item = LinkId> + '_ {
        let mut at = chain;
        std::iter::from_fn(move || {
            let (device, before) = *self.0.get(at? as usize)?;
            at = before;
            Some(device)
        })
    }
}

/// A way of one source to a node at which a load hangs.
#[derive(Clone, Copy, Debug)]
pub(super) struct ToLoad {
    pub(super) load: LinkId,
    pub(super) feed: usize,
    pub(super) chain: Option<u32>,
    /// Resistance of the loop, cold: source, way out, way back.
    pub(super) ohms: Ohms,
    /// What the source alone gives at least into a short of the load; none when nothing is known of it.
    pub(super) lowest: Option<Amps>,
    /// The way out from the source to the load, hot.
    pub(super) out: Ohms,
    /// What diodes on it take away.
    pub(super) drop: Volts,
    /// The way back that this counts.
    pub(super) back: Back,
    /// The smallest device or limit on the way.
    pub(super) guard: Weakest,
    /// A wire on the way of which nothing tells the resistance.
    pub(super) unmeasured: Option<WireId>,
}

/// What was found.
pub(super) struct Found {
    /// Every way into every wire, by [`WireId`].
    pub(super) ways: Vec<Vec<RawWay>>,
    /// Every way to every load, past no driver.
    pub(super) to_loads: Vec<ToLoad>,
    /// The same past a driver: a coil or lamp at its output, which no fuse is chosen for either.
    pub(super) past_drivers: Vec<ToLoad>,
    /// The same to the cells of every other pack, which no fuse is chosen for but whose faults draw from this source.
    pub(super) to_packs: Vec<ToLoad>,
    /// The devices on them.
    pub(super) chains: Chains,
    /// The ways home over each negative.
    pub(super) homes: BTreeMap<RailId, Home>,
}

/// What lies between a source and a node.
#[derive(Clone, Copy)]
struct Travelled {
    ohms: f64,
    /// The same at 20 °C.
    cold: f64,
    /// Whether a driver stands between: its motors draw another current than it does.
    past_driver: bool,
    /// Of the hot resistance, what is wire.
    wire_ohms: f64,
    drop: Volts,
    limit: f64,
    chain: Option<u32>,
    unmeasured: Option<WireId>,
}

/// Searches the ways of every source.
pub(super) fn find(design: &Design, topology: &Topology, trace: &Trace, levels: &[Levels]) -> Found {
    let mut search = Search {
        design,
        topology,
        passages: vec![None; topology.links.len()],
        found: Found {
            ways: vec![Vec::new(); design.wires.len()],
            to_loads: Vec::new(),
            past_drivers: Vec::new(),
            to_packs: Vec::new(),
            chains: Chains::default(),
            homes: BTreeMap::new(),
        },
    };
    let mut homes: BTreeMap<RailId, Home> = BTreeMap::new();
    let mut room = Room::default();
    let mut minus_on: BTreeMap<RailId, NodeId> = BTreeMap::new();
    for feed in &trace.feeds {
        minus_on.entry(trace.rail(feed.minus)).or_insert(feed.minus);
    }
    for (index, feed) in trace.feeds.iter().enumerate().filter(|(_, feed)| !is_idle(feed)) {
        let Some(source) = levels.get(index).and_then(Levels::deepest) else { continue };
        let Some(root) = minus_on.get(&source.home).copied() else { continue };
        let home =
            homes.entry(source.home).or_insert_with(|| Home::new(design, topology, trace, root, &mut room));
        search.feed(index, feed, source, home.to(end_of(trace, feed, source.home, root)));
    }
    Found { homes, ..search.found }
}

/// Where a source comes into a wire.
struct Entry<'a> {
    feed: usize,
    source: &'a Source,
    so_far: &'a Travelled,
    guard: Weakest,
}

struct Search<'a> {
    design: &'a Design,
    topology: &'a Topology,
    /// How each link passes a fault current, hot and cold, as far as anything asked.
    passages: Vec<Option<[Passage; 2]>>,
    found: Found,
}

impl Search<'_> {
    fn feed(&mut self, index: usize, feed: &Feed, source: &Source, mut home: WaysHome<'_>) {
        let travelled = self.travel(feed, source);
        for ((node, at), so_far) in feed.reached().iter().zip(&travelled) {
            let Some(so_far) = so_far else { continue };
            let topology = self.topology;
            for (id, link) in links_at(topology, *node) {
                if let (Nature::Wire, Owner::Wire(wire)) = (link.nature, link.owner)
                    && at.via != Some(id)
                {
                    let entry = Entry { feed: index, source, so_far, guard: at.weakest };
                    self.wire(&entry, wire, link, *node, &mut home);
                } else if link.nature.is_load() || is_pack(link) {
                    let entry = Entry { feed: index, source, so_far, guard: at.weakest };
                    let back = home.from(link.other(*node));
                    let found = &mut self.found;
                    let list = match (so_far.past_driver, is_pack(link)) {
                        (true, _) => &mut found.past_drivers,
                        (_, true) => &mut found.to_packs,
                        _ => &mut found.to_loads,
                    };
                    list.push(to_load(&entry, id, back));
                }
            }
        }
    }

    /// A way into a wire at a node.
    fn wire(&mut self, entry: &Entry<'_>, id: WireId, link: &Link, node: NodeId, home: &mut WaysHome<'_>) {
        let Some(wire) = self.design.wires.get(id.index()) else { return };
        let (source, so_far) = (entry.source, entry.so_far);
        let own = wire_resistance(wire, Warmth::Hot).0;
        let as_out = Ohms(so_far.wire_ohms + own);
        let back = self.back(home, link.other(node)).map_or(Back::AsTheWayOut(as_out), Back::Known);
        let limit = wire.current_limit.map_or(so_far.limit, |(amps, _)| so_far.limit.min(amps.0));
        let lowest = lowest(source, so_far, limit, Ohms(so_far.ohms + own + back.ohms().0));
        let way = RawWay {
            feed: entry.feed,
            at_from: link.a == node,
            homeward: None,
            lowest,
            out: Ohms(so_far.ohms + own),
            drop: so_far.drop,
            back,
            guard: entry.guard,
            chain: so_far.chain,
            unmeasured: so_far.unmeasured.or_else(|| unmeasured(wire).then_some(id)),
            unrated: None,
        };
        if let Some(ways) = self.found.ways.get_mut(id.index()) {
            ways.push(way);
        }
    }

    /// The way home from a load at a node: the longest of them.
    fn back(&self, home: &mut WaysHome<'_>, node: NodeId) -> Option<Ohms> {
        let loads = links_at(self.topology, node).map(|(_, link)| link).filter(|link| link.nature.is_load());
        loads.filter_map(|link| home.from(link.other(node))).reduce(Ohms::max)
    }

    /// What lies between the feed and each of its nodes, in their order.
    fn travel(&mut self, feed: &Feed, source: &Source) -> Vec<Option<Travelled>> {
        let nodes = feed.reached();
        let mut travelled: Vec<Option<Travelled>> = vec![None; nodes.len()];
        let start = Travelled {
            ohms: 0.0,
            cold: 0.0,
            past_driver: false,
            wire_ohms: 0.0,
            drop: Volts(0.0),
            limit: source.least.0,
            chain: None,
            unmeasured: None,
        };
        // The fuse inside a pack is the first on the way.
        let start = fuse_inside(self.topology, feed).map_or(start, |(fuse, _)| self.step(start, fuse));
        let mut walk = Vec::new();
        for first in 0..nodes.len() {
            let mut at = first;
            let mut reached = None;
            while reached.is_none() && walk.len() <= nodes.len() {
                if let Some(known) = travelled.get(at).copied().flatten() {
                    reached = Some(known);
                    break;
                }
                let Some(via) = nodes.get(at).and_then(|(_, reached)| reached.via) else {
                    reached = Some(start);
                    if let Some(slot) = travelled.get_mut(at) {
                        *slot = reached;
                    }
                    break;
                };
                walk.push((at, via));
                let before = self.topology.link(via).zip(nodes.get(at));
                let before = before.map(|(link, (node, _))| link.other(*node));
                let position = |before| nodes.binary_search_by_key(&before, |(node, _)| *node).ok();
                let Some(before) = before.and_then(position) else { break };
                at = before;
            }
            let Some(mut so_far) = reached else {
                walk.clear();
                continue;
            };
            for (at, via) in walk.drain(..).rev() {
                so_far = self.step(so_far, via);
                if let Some(slot) = travelled.get_mut(at) {
                    *slot = Some(so_far);
                }
            }
        }
        travelled
    }

    /// How a link passes a fault current, hot and cold.
    fn passages(&mut self, id: LinkId, link: &Link) -> [Passage; 2] {
        let find =
            || [Warmth::Hot, Warmth::Cold].map(|warmth| passage(self.design, self.topology, link, warmth));
        match self.passages.get_mut(id.0 as usize) {
            Some(held) => *held.get_or_insert_with(find),
            None => find(),
        }
    }

    fn step(&mut self, mut so_far: Travelled, via: LinkId) -> Travelled {
        let Some(link) = self.topology.link(via) else { return so_far };
        let [hot, cold] = self.passages(via, link);
        match hot {
            Passage::Both(ohms) => so_far.ohms += ohms.0,
            Passage::Forward(ohms) | Passage::Backward(ohms) => {
                so_far.ohms += ohms.0;
                so_far.drop = so_far.drop + SILICON_DROP;
            }
            Passage::Limited(amps) | Passage::LimitedBackward(amps) => {
                so_far.limit = so_far.limit.min(amps.0.max(0.0));
            }
            Passage::Blocked => {}
        }
        match cold {
            Passage::Both(ohms) | Passage::Forward(ohms) | Passage::Backward(ohms) => so_far.cold += ohms.0,
            _ => {}
        }
        so_far.past_driver |= link.nature == Nature::BridgeDiode;
        match (link.nature, link.owner) {
            (Nature::Protective { .. }, _) => so_far.chain = self.found.chains.add(via, so_far.chain),
            (Nature::Wire, Owner::Wire(id)) => {
                if let Some(wire) = self.design.wires.get(id.index()) {
                    so_far.wire_ohms += wire_resistance(wire, Warmth::Hot).0;
                    so_far.unmeasured = so_far.unmeasured.or_else(|| unmeasured(wire).then_some(id));
                }
            }
            _ => {}
        }
        so_far
    }
}

/// A way to a load.
fn to_load(entry: &Entry<'_>, load: LinkId, back: Option<Ohms>) -> ToLoad {
    let (source, so_far) = (entry.source, entry.so_far);
    let back = back.map_or(Back::AsTheWayOut(Ohms(so_far.wire_ohms)), Back::Known);
    ToLoad {
        load,
        feed: entry.feed,
        chain: so_far.chain,
        ohms: Ohms(source.resistance.0 + so_far.cold + back.ohms().0),
        lowest: lowest(source, so_far, so_far.limit, Ohms(so_far.ohms + back.ohms().0)),
        out: Ohms(so_far.ohms),
        drop: so_far.drop,
        back,
        guard: entry.guard,
        unmeasured: so_far.unmeasured,
    }
}

/// What a source gives at least through a resistance, up to a limit; none when nothing is known of it.
fn lowest(source: &Source, so_far: &Travelled, limit: f64, ohms: Ohms) -> Option<Amps> {
    let driven = (source.empty.0 - so_far.drop.0).max(0.0) / (source.resistance.0 + ohms.0).max(1e-9);
    (source.strength != Strength::Unknown).then_some(Amps(driven.min(limit).max(0.0)))
}

fn unmeasured(wire: &crate::design::Wire) -> bool {
    wire.resistance.is_none() && wire.length.is_none()
}

const fn is_pack(link: &Link) -> bool {
    matches!(link.nature, Nature::Cells { .. })
}
