//! The way home of a fault current: how much the conductors between a load's negative side and the source resist.

use std::{
    cmp::Ordering,
    collections::{BTreeMap, BinaryHeap},
};

use wattle_grammar::quantity::Ohms;

use super::resistance::{Passage, Warmth, passage};
use crate::{
    design::Design,
    network::NodeId,
    topology::{Link, Nature, Topology},
    trace::{RailId, Trace},
    unfold::usual,
};

/// The tree of shortest ways over one negative, hot.
pub(super) struct Home {
    up: BTreeMap<NodeId, Up>,
}

#[derive(Clone, Copy)]
struct Up {
    parent: NodeId,
    ohms: f64,
}

/// The ways home to one source.
pub(super) struct WaysHome<'a> {
    home: &'a Home,
    minus: NodeId,
    /// Nodes between the source's negative and the root, and what was asked before: each with its resistance to the source.
    known: BTreeMap<NodeId, f64>,
}

impl Home {
    /// The tree from one node of a negative rail over everything that brings current home: conductors, devices, contacts.
    pub(super) fn new(design: &Design, topology: &Topology, trace: &Trace, root: NodeId) -> Self {
        let home = trace.rail(root);
        let mut up = BTreeMap::new();
        let mut queue = BinaryHeap::from([Step { ohms: 0.0, node: root, parent: root }]);
        while let Some(Step { ohms, node, parent }) = queue.pop() {
            if up.contains_key(&node) {
                continue;
            }
            up.insert(node, Up { parent, ohms });
            for id in topology.links_at.get(node.0 as usize).into_iter().flatten() {
                let Some(link) = topology.link(*id) else { continue };
                let to = link.other(node);
                if let Some(own) = brings_home(design, topology, link)
                    && !up.contains_key(&to)
                    && is_homeward(trace, home, to)
                {
                    queue.push(Step { ohms: ohms + own.0, node: to, parent: node });
                }
            }
        }
        Self { up }
    }

    /// The ways to a source with this negative.
    pub(super) fn to(&self, minus: NodeId) -> WaysHome<'_> {
        let mut known = BTreeMap::new();
        let base = self.up.get(&minus).map_or(0.0, |up| up.ohms);
        let mut at = minus;
        while let Some(up) = self.up.get(&at).filter(|_| !known.contains_key(&at)) {
            known.insert(at, base - up.ohms);
            at = up.parent;
        }
        WaysHome { home: self, minus, known }
    }
}

impl WaysHome<'_> {
    /// Resistance from a node to the source's negative; `None` when no conductor leads there.
    pub(super) fn from(&mut self, node: NodeId) -> Option<Ohms> {
        if !self.home.up.contains_key(&self.minus) {
            return None;
        }
        let mut walked = Vec::new();
        let mut at = node;
        let met = loop {
            if let Some(ohms) = self.known.get(&at) {
                break *ohms - self.home.up.get(&at)?.ohms;
            }
            let up = self.home.up.get(&at)?;
            walked.push((at, up.ohms));
            if up.parent == at {
                return None;
            }
            at = up.parent;
        };
        for (node, ohms) in walked {
            self.known.insert(node, met + ohms);
        }
        self.known.get(&node).map(|ohms| Ohms(ohms.max(0.0)))
    }
}

/// Whether a node is on the way home and not one that sources push into.
fn is_homeward(trace: &Trace, home: RailId, node: NodeId) -> bool {
    trace.rail(node) == home || trace.indices_at(node).is_empty()
}

fn brings_home(design: &Design, topology: &Topology, link: &Link) -> Option<Ohms> {
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
    parent: NodeId,
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
