//! What conducts at a working point: conductors, and the contacts as they stand there.

use std::collections::BTreeSet;

use crate::{
    figures::Point,
    network::NodeId,
    topology::{LinkId, Nature, Topology},
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
                | Nature::HandContact { .. }
                | Nature::CoilContact { .. }
        );
        conductor && self.point.is_closed(id) == Some(true)
    }

    /// The links of the shortest conducting way from any of `from` to a node that `goal` accepts.
    #[must_use]
    pub fn way(&self, from: &[NodeId], goal: impl Fn(NodeId) -> bool) -> Option<Vec<LinkId>> {
        let mut seen: BTreeSet<NodeId> = from.iter().copied().collect();
        let mut queue: std::collections::VecDeque<(NodeId, Vec<LinkId>)> =
            from.iter().map(|node| (*node, Vec::new())).collect();
        while let Some((node, way)) = queue.pop_front() {
            if goal(node) {
                return Some(way);
            }
            for id in self.topology.links_at.get(node.0 as usize).into_iter().flatten() {
                let Some(link) = self.topology.links.get(id.0 as usize) else { continue };
                let to = if link.a == node { link.b } else { link.a };
                if self.passes(*id) && seen.insert(to) {
                    let mut longer = way.clone();
                    longer.push(*id);
                    queue.push_back((to, longer));
                }
            }
        }
        None
    }
}
