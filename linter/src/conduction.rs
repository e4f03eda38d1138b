//! What conducts at a working point: conductors, and the contacts as they stand there.

mod live;

pub use live::{Live, supply};

use std::collections::{BTreeMap, VecDeque};

use crate::{
    figures::Point,
    network::NodeId,
    topology::{Link, LinkId, Nature, Topology, sets::Sets},
};

/// Which conductors and contacts of a point pass current.
pub struct Conduction<'a> {
    topology: &'a Topology,
    point: &'a Point,
}

impl<'a> Conduction<'a> {
    /// Looks at a solved point; at an unsolved one nothing passes.
    #[must_use]
    pub fn new(topology: &'a Topology, point: &'a Point) -> Self {
        Self { topology, point }
    }

    /// Whether a link is a conductor or contact that passes current here.
    #[must_use]
    pub fn passes(&self, id: LinkId) -> bool {
        let Some(link) = self.topology.links.get(id.0 as usize) else { return false };
        let conductor = matches!(
            link.nature,
            Nature::Wire
                | Nature::Mated
                | Nature::Shunt(_)
                | Nature::Protective { .. }
                | Nature::ConverterGround
                | Nature::HandContact { .. }
                | Nature::CoilContact { .. }
        );
        conductor && self.point.is_closed(id) == Some(true)
    }

    /// The links of the shortest conducting way from any of `from` to a node that `goal` accepts.
    #[must_use]
    pub fn way(&self, from: &[NodeId], goal: impl Fn(NodeId) -> bool) -> Option<Vec<LinkId>> {
        // Where each node was come to from; nothing at the start.
        let mut seen: BTreeMap<NodeId, Option<(LinkId, NodeId)>> =
            from.iter().map(|node| (*node, None)).collect();
        let mut queue: VecDeque<NodeId> = from.iter().copied().collect();
        while let Some(node) = queue.pop_front() {
            if goal(node) {
                return Some(traced_back(&seen, node));
            }
            for id in self.topology.links_at.get(node.0 as usize).into_iter().flatten() {
                let Some(link) = self.topology.links.get(id.0 as usize) else { continue };
                let to = link.other(node);
                if !seen.contains_key(&to) && self.passes(*id) {
                    seen.insert(to, Some((*id, node)));
                    queue.push_back(to);
                }
            }
        }
        None
    }

    /// The nodes that `start` and what passes reach, and links that `also` lets pass from a node, by [`NodeId`].
    fn flood(&self, start: &[NodeId], also: impl Fn(&Link, NodeId) -> bool) -> Vec<bool> {
        let mut reached = vec![false; self.topology.nodes as usize];
        let mut stack = start.to_vec();
        while let Some(node) = stack.pop() {
            let Some(slot) = reached.get_mut(node.0 as usize).filter(|slot| !**slot) else { continue };
            *slot = true;
            for id in self.topology.links_at.get(node.0 as usize).into_iter().flatten() {
                let link = self.topology.link(*id).filter(|link| self.passes(*id) || also(link, node));
                stack.extend(link.map(|link| link.other(node)));
            }
        }
        reached
    }

    /// The pieces that conductors and closed contacts hold together, for asking about many pairs of nodes.
    #[must_use]
    pub fn pieces(&self) -> Pieces {
        let mut sets = Sets::new(self.topology.nodes as usize);
        for (id, link) in (0u32..).map(LinkId).zip(&self.topology.links) {
            if self.passes(id) {
                sets.join(link.a.0, link.b.0);
            }
        }
        Pieces { of: (0..self.topology.nodes).map(|node| sets.root(node)).collect() }
    }
}

/// The links that led to `node`, first link first.
fn traced_back(seen: &BTreeMap<NodeId, Option<(LinkId, NodeId)>>, node: NodeId) -> Vec<LinkId> {
    let mut way = Vec::new();
    let mut at = node;
    while let Some((link, before)) = seen.get(&at).copied().flatten() {
        way.push(link);
        at = before;
    }
    way.reverse();
    way
}

/// Which nodes conductors and closed contacts hold together.
#[derive(Clone, Debug)]
pub struct Pieces {
    of: Vec<u32>,
}

impl Pieces {
    /// The number of the piece that a node belongs to: that of its lowest node.
    #[must_use]
    pub fn of(&self, node: NodeId) -> u32 {
        self.of.get(node.0 as usize).copied().unwrap_or(node.0)
    }
}
