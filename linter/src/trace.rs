//! Who can feed what, through which protective devices: a question about the wiring alone, before any current flows.
//!
//! A **rail** is what stays joined whatever is switched: nodes held together by wires, mated ways, shunts and fuses. A
//! **feed** is one pole of one source that can push a fault current. For every feed the search finds, at every node
//! its current can reach, the path on which the *least* protection stands: the path whose smallest device is the
//! largest. A conductor is protected against a feed when even that path holds a device which suits it.

mod backwards;
mod feeds;
mod forward;
mod home;
mod inflow;
mod leads;
mod rails;
mod reach;
mod region;
mod returns;
mod ring;
mod short;
mod swap;

use std::collections::BTreeSet;

use wattle_grammar::quantity::{Amps, Metres, Ohms, Volts};

use crate::{
    design::{Design, TerminalId, ThingId, WireId},
    network::NodeId,
    topology::{LinkId, Topology},
};

pub use backwards::Backwards;
pub use forward::Forward;
pub use inflow::{Share, inflow};
pub use leads::Lead;
pub use rails::RailId;
pub use region::{Allowance, Branch, End};
pub use returns::ReturnLoad;
pub use ring::{Pack, Ring};
pub use short::Short;
pub use swap::Swap;

/// Who feeds what.
#[derive(Clone, Debug, Default)]
pub struct Trace {
    /// The rail of each node, by [`NodeId`].
    pub rail_of: Vec<RailId>,
    /// The rail of each node while every connector is open, by [`NodeId`].
    pub half_rail_of: Vec<RailId>,
    /// Every feed, in thing order.
    pub feeds: Vec<Feed>,
    /// The heaviest load behind a device or a limit that returns through each wire of a negative rail, by [`WireId`].
    pub returns: Vec<Option<ReturnLoad>>,
    /// A load behind a device without a rating that must come home through each wire, by [`WireId`].
    unrated_returns: Vec<Option<ReturnLoad>>,
    /// A load with nothing before it that must come home through each wire, by [`WireId`].
    bare_returns: Vec<Option<ReturnLoad>>,
    /// The largest device behind each wire that lies before all devices, by [`WireId`].
    pub leads: Vec<Option<Lead>>,
    /// Sources that are shorted.
    pub shorts: Vec<Short>,
    /// Mates whose halves disagree.
    pub swaps: Vec<Swap>,
    /// Rings of batteries whose voltages do not cancel.
    pub rings: Vec<Ring>,
    /// Parts and sources that stand backwards.
    pub backwards: Vec<Backwards>,
    /// Diodes the wrong way round.
    pub forward: Vec<Forward>,
    /// Indices of the feeds that reach each node, rising, by [`NodeId`].
    feeds_at: Vec<Vec<usize>>,
    /// The conductors on the ways home.
    forest: returns::Forest,
}

/// One pole of a source, and everything it can push current into.
#[derive(Clone, Debug)]
pub struct Feed {
    /// The source.
    pub thing: ThingId,
    /// The terminal it gives at: the positive pole, a cell tap, a regulator's output.
    pub terminal: TerminalId,
    /// The node of that terminal.
    pub plus: NodeId,
    /// The node its current comes home to.
    pub minus: NodeId,
    /// Its highest voltage without load.
    pub volts: Volts,
    /// Its internal resistance; 0 when it is not known, which is the careful side for a fault current.
    pub resistance: Ohms,
    /// The current it limits itself to, when it does.
    pub limit: Option<Amps>,
    /// Whether its two poles are on one rail: a dead short, which makes every other question idle.
    pub shorted: bool,
    /// Whether it stands reversed, in a ring of batteries or before its loads: what it reaches is that mistake's.
    pub reversed: bool,
    /// What it reaches, sorted by node.
    reached: Vec<(NodeId, Reached)>,
}

/// How a feed reaches a node on its least protected path.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reached {
    /// The smallest device or limit on that path.
    pub weakest: Weakest,
    /// The last link of the path; none at the feed itself.
    pub via: Option<LinkId>,
    /// Length of conductor on the path.
    pub metres: Metres,
}

/// The smallest thing that opens or limits on a path.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Weakest {
    /// Nothing at all.
    Nothing,
    /// A fuse or breaker of this rated current.
    Device(LinkId, Amps),
    /// Something that cannot pass more than this: a resistor, a driver's or a source's own limit, a stated fact.
    Limit(Amps),
    /// A protective device whose rating is not stated.
    Unrated(LinkId),
}

impl Weakest {
    /// The current that can flow for long, for comparing; infinite when nothing opens. A device that is not rated opens at
    /// some current, so it comes right after nothing, and every stated figure on the same way is the smaller one.
    #[must_use]
    pub fn amps(self) -> f64 {
        match self {
            Self::Nothing => f64::INFINITY,
            Self::Device(_, amps) | Self::Limit(amps) => amps.0,
            Self::Unrated(_) => f64::MAX,
        }
    }

    /// The smaller of two.
    #[must_use]
    pub fn and(self, other: Self) -> Self {
        if other.amps() < self.amps() { other } else { self }
    }
}

impl Trace {
    /// Traces a robot.
    #[must_use]
    pub fn new(design: &Design, topology: &Topology) -> Self {
        let rail_of = rails::find(topology);
        let mut feeds = feeds::find(design, topology, &rail_of);
        let half_rail_of = swap::half_rails(topology);
        let swaps = swap::find(design, topology, &half_rail_of);
        let mut rings = ring::find(design, &rail_of, &feeds);
        ring::mark_through_swaps(&mut rings, design, topology, &feeds, &swaps);
        for feed in &mut feeds {
            feed.reversed = rings.iter().any(|ring| ring.pack.thing == feed.thing && ring.is_reversed());
            let idle = feed.shorted || feed.reversed;
            feed.reached = if idle { Vec::new() } else { reach::search(design, topology, &rail_of, feed) };
        }
        let feeds_at = feeds_at(topology, &feeds);
        let mut trace = Self { rail_of, half_rail_of, feeds, swaps, rings, feeds_at, ..Self::default() };
        trace.backwards = backwards::find(&trace, design, topology);
        trace.silence_backward_sources(topology);
        let wires = design.wires.len();
        trace.forest = returns::Forest::beside(topology, &trace.feeds);
        let found = returns::find(topology, &trace.rail_of, &trace.feeds, &trace.forest, wires);
        (trace.returns, trace.unrated_returns, trace.bare_returns) = (found.held, found.unrated, found.bare);
        trace.leads = leads::find(topology, &trace.feeds, wires);
        trace.shorts = short::find(design, topology, &trace.feeds);
        trace.forward = forward::find(&trace, topology);
        trace
    }

    /// What a backward source reaches is that one mistake's.
    fn silence_backward_sources(&mut self, topology: &Topology) {
        // Of a regulator whose input stands backwards the output is another terminal.
        let terminals: BTreeSet<TerminalId> = self.backwards.iter().map(|one| one.plus).collect();
        for feed in self.feeds.iter_mut().filter(|feed| terminals.contains(&feed.terminal)) {
            feed.reversed = true;
            feed.reached = Vec::new();
        }
        self.feeds_at = feeds_at(topology, &self.feeds);
    }

    /// Whether a source is shorted or stands in a ring that does not cancel: then every current is that mistake's.
    #[must_use]
    pub fn swamps_currents(&self) -> bool {
        !self.shorts.is_empty() || !self.rings.is_empty()
    }

    /// The rail a node is on while every connector is open.
    #[must_use]
    pub fn half_rail(&self, node: NodeId) -> RailId {
        self.half_rail_of.get(node.0 as usize).copied().unwrap_or(RailId(node.0))
    }

    /// The rail a node is on.
    #[must_use]
    pub fn rail(&self, node: NodeId) -> RailId {
        self.rail_of.get(node.0 as usize).copied().unwrap_or(RailId(node.0))
    }

    /// The feeds that reach a node, in order.
    pub fn feeds_at(&self, node: NodeId) -> impl Iterator<Item = &Feed> {
        self.indices_at(node).iter().filter_map(|index| self.feeds.get(*index))
    }

    /// Indices in [`Trace::feeds`] of the feeds that reach a node, rising.
    #[must_use]
    pub fn indices_at(&self, node: NodeId) -> &[usize] {
        self.feeds_at.get(node.0 as usize).map_or(&[], Vec::as_slice)
    }

    /// What feeds a wire, each feed with the least protected way in and the end it comes in at.
    pub fn into_wire<'a>(
        &'a self,
        topology: &'a Topology,
        wire: WireId,
    ) -> impl Iterator<Item = WayIn<'a>> + 'a {
        let id = LinkId(wire.0);
        let link = topology.links.get(wire.index());
        let ends = link.into_iter().flat_map(|link| [link.a, link.b]);
        let mut indices: Vec<usize> = ends.flat_map(|end| self.indices_at(end)).copied().collect();
        indices.sort_unstable();
        indices.dedup();
        indices.into_iter().filter_map(move |index| self.feeds.get(index)?.way_in(id, link?))
    }
}

/// For each node, which feeds reach it.
fn feeds_at(topology: &Topology, feeds: &[Feed]) -> Vec<Vec<usize>> {
    let mut at = vec![Vec::new(); topology.nodes as usize];
    for (index, feed) in feeds.iter().enumerate() {
        for node in feed.nodes() {
            if let Some(reaching) = at.get_mut(node.0 as usize) {
                reaching.push(index);
            }
        }
    }
    at
}

/// How a feed gets into a wire.
#[derive(Clone, Copy, Debug)]
pub struct WayIn<'a> {
    /// The feed.
    pub feed: &'a Feed,
    /// The smallest device on the way.
    pub weakest: Weakest,
    /// Whether it comes in at the wire's `from` end.
    pub at_from: bool,
    /// Whether it comes in at the wire's `to` end; at both, when a ring feeds it.
    pub at_to: bool,
}

impl Feed {
    /// How the feed reaches a node; `None` when it does not.
    #[must_use]
    pub fn at(&self, node: NodeId) -> Option<Reached> {
        let found = self.reached.binary_search_by_key(&node, |(at, _)| *at).ok()?;
        self.reached.get(found).map(|(_, reached)| *reached)
    }

    /// The nodes that the feed reaches and how, in node order.
    pub(crate) fn reached(&self) -> &[(NodeId, Reached)] {
        &self.reached
    }

    /// How the feed gets into a wire; `None` when it reaches neither end.
    fn way_in(&self, id: LinkId, link: &crate::topology::Link) -> Option<WayIn<'_>> {
        let (a, b) = (self.at(link.a), self.at(link.b));
        let through = |end: Option<Reached>| end.is_none_or(|end| end.via == Some(id));
        let (at_from, at_to) = (!through(a), !through(b));
        let weakest = match (a, b) {
            (Some(a), Some(b)) if b.weakest.amps() > a.weakest.amps() => b.weakest,
            (Some(a), _) => a.weakest,
            (None, Some(b)) => b.weakest,
            (None, None) => return None,
        };
        Some(WayIn { feed: self, weakest, at_from, at_to })
    }

    /// Every node it reaches.
    pub fn nodes(&self) -> impl Iterator<Item = NodeId> + '_ {
        self.reached.iter().map(|(node, _)| *node)
    }

    /// The links from the feed to a node along its least protected path, first link first.
    #[must_use]
    pub fn path_to(&self, topology: &Topology, node: NodeId) -> Vec<LinkId> {
        let mut path = Vec::new();
        let mut at = node;
        while let Some(via) = self.at(at).and_then(|reached| reached.via) {
            path.push(via);
            let Some(link) = topology.links.get(via.0 as usize) else { break };
            at = if link.a == at { link.b } else { link.a };
            if path.len() > topology.links.len() {
                break;
            }
        }
        path.reverse();
        path
    }

    /// Highest current a dead short at the far end of `path_resistance` draws: `V / (R + R_path)`; at most its own limit.
    #[must_use]
    pub fn prospective(&self, path_resistance: Ohms) -> Amps {
        let resistance = Ohms(self.resistance.0 + path_resistance.0).max(Ohms(1e-6));
        let unlimited = self.volts / resistance;
        self.limit.map_or(unlimited, |limit| unlimited.min(limit))
    }
}
