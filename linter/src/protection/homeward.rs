//! The way home of a fault current: how much the conductors between a load's negative side and the source resist.

use std::{cmp::Ordering, collections::BinaryHeap};

use wattle_grammar::quantity::Ohms;

use super::{
    links_at,
    resistance::{Passage, Warmth, passage},
};
use crate::{
    design::Design,
    network::NodeId,
    topology::{Link, LinkId, Nature, Topology},
    trace::{Feed, RailId, Trace},
    unfold::usual,
};

/// The tree of shortest ways over one negative, hot.
#[derive(Clone, Debug)]
pub(super) struct Home {
    /// The nodes that conductors join to the root, rising, each with its place.
    places: Vec<(NodeId, u32)>,
    /// By place.
    up: Vec<Up>,
    /// By place: the resistance to a source's negative, with the count of the source that it was found for.
    known: Vec<(u32, f64)>,
    /// How many sources have asked.
    sources: u32,
}

#[derive(Clone, Copy, Debug)]
struct Up {
    /// The place of the node before; that of the root is its own.
    parent: u32,
    /// The link to it; none at the root.
    via: Option<LinkId>,
    ohms: f64,
}

/// The ways home to one source.
pub(super) struct WaysHome<'a> {
    home: &'a mut Home,
    reaches: bool,
}

/// Room for the places of all nodes, kept from one tree to the next.
#[derive(Clone, Debug, Default)]
pub(super) struct Room(Vec<u32>);

const NONE: u32 = u32::MAX;

impl Home {
    /// The tree from one node of a negative rail over everything that brings current home: conductors, devices, contacts.
    pub(super) fn new(
        design: &Design,
        topology: &Topology,
        trace: &Trace,
        root: NodeId,
        Room(place): &mut Room,
    ) -> Self {
        place.resize(topology.nodes as usize, NONE);
        let home = trace.rail(root);
        let (mut places, mut up) = (Vec::new(), Vec::new());
        let mut queue = BinaryHeap::from([Step { ohms: 0.0, node: root, parent: 0, via: None }]);
        while let Some(Step { ohms, node, parent, via }) = queue.pop() {
            match place.get_mut(node.0 as usize) {
                Some(place) if *place == NONE => *place = up.len() as u32,
                _ => continue,
            }
            let here = up.len() as u32;
            places.push((node, here));
            up.push(Up { parent, via, ohms });
            for (id, link) in links_at(topology, node) {
                let to = link.other(node);
                if place.get(to.0 as usize) == Some(&NONE)
                    && is_homeward(trace, home, to)
                    && let Some(own) = brings_home(design, topology, link)
                {
                    queue.push(Step { ohms: ohms + own.0, node: to, parent: here, via: Some(id) });
                }
            }
        }
        for (node, _) in &places {
            place[node.0 as usize] = NONE;
        }
        places.sort_unstable();
        Self { places, known: vec![(0, 0.0); up.len()], up, sources: 0 }
    }

    fn place(&self, node: NodeId) -> Option<usize> {
        let at = self.places.binary_search_by_key(&node, |(node, _)| *node).ok()?;
        Some(self.places.get(at)?.1 as usize)
    }

    /// The ways to a source with this negative.
    pub(super) fn to(&mut self, minus: NodeId) -> WaysHome<'_> {
        self.sources += 1;
        let start = self.place(minus);
        if let Some(start) = start {
            // From what lies between the negative and the root the way leads back towards the negative.
            self.tell(start, |base, up| base - up, self.up[start].ohms);
        }
        WaysHome { home: self, reaches: start.is_some() }
    }

    /// The links from one node to another, in this order; none where no conductor leads there.
    pub(super) fn path(&self, from: NodeId, to: NodeId) -> Option<Vec<LinkId>> {
        let (mut from, mut to) = (self.place(from)?, self.place(to)?);
        let (mut path, mut rest) = (Vec::new(), Vec::new());
        // Every step upwards takes something off, so that the farther of the two is never above the place where they meet.
        while from != to {
            let farther = self.up[from].ohms >= self.up[to].ohms;
            let (at, walked) = if farther { (&mut from, &mut path) } else { (&mut to, &mut rest) };
            let up = self.up[*at];
            walked.push(up.via?);
            *at = up.parent as usize;
        }
        path.extend(rest.into_iter().rev());
        Some(path)
    }

    fn known(&self, place: usize) -> Option<f64> {
        let (source, ohms) = self.known[place];
        (source == self.sources).then_some(ohms)
    }

    /// Writes down the resistance from a place and all above it to the source, up to the first that is known.
    fn tell(&mut self, from: usize, of: impl Fn(f64, f64) -> f64, base: f64) {
        let mut at = from;
        while self.known(at).is_none() {
            let Up { parent, ohms, .. } = self.up[at];
            self.known[at] = (self.sources, of(base, ohms));
            at = parent as usize;
        }
    }
}

impl WaysHome<'_> {
    /// Resistance from a node to the source's negative; `None` when no conductor leads there.
    pub(super) fn from(&mut self, node: NodeId) -> Option<Ohms> {
        let start = self.home.place(node).filter(|_| self.reaches)?;
        let mut at = start;
        // The root is known, for it is above the negative.
        let met = loop {
            match self.home.known(at) {
                Some(ohms) => break ohms - self.home.up[at].ohms,
                None => at = self.home.up[at].parent as usize,
            }
        };
        self.home.tell(start, |met, ohms| met + ohms, met);
        self.home.known(start).map(|ohms| Ohms(ohms.max(0.0)))
    }
}

/// Where the tree over a negative starts: at the negative pole of the first source on it.
pub(super) fn root(trace: &Trace, home: RailId) -> Option<NodeId> {
    trace.feeds.iter().map(|feed| feed.minus).find(|minus| trace.rail(*minus) == home)
}

/// Where the current of a feed comes home to: of packs in series to the lowest of them.
pub(super) fn end_of(trace: &Trace, feed: &Feed, home: RailId, root: NodeId) -> NodeId {
    if trace.rail(feed.minus) == home { feed.minus } else { root }
}

/// Whether a node is on the way home and not one that sources push into.
fn is_homeward(trace: &Trace, home: RailId, node: NodeId) -> bool {
    trace.rail(node) == home || trace.indices_at(node).is_empty()
}

/// What a link on a way home sets against the current, hot; none for one that brings nothing home.
pub(super) fn brings_home(design: &Design, topology: &Topology, link: &Link) -> Option<Ohms> {
    match (link.nature, passage(design, topology, link, Warmth::Hot)) {
        (Nature::ConverterGround, _) => Some(usual::REGULATOR_GROUND),
        (Nature::Resistor(_), _) => None,
        (_, Passage::Both(ohms)) => Some(ohms),
        _ => None,
    }
}

/// A step that can be taken next, the least resistance first.
struct Step {
    ohms: f64,
    node: NodeId,
    /// The place of the node before.
    parent: u32,
    /// The link from there.
    via: Option<LinkId>,
}

impl Ord for Step {
    fn cmp(&self, other: &Self) -> Ordering {
        other.ohms.total_cmp(&self.ohms).then(other.node.cmp(&self.node)).then(other.parent.cmp(&self.parent))
    }
}

impl PartialOrd for Step {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl PartialEq for Step {
    fn eq(&self, other: &Self) -> bool {
        self.cmp(other) == Ordering::Equal
    }
}

impl Eq for Step {}
