//! What conducts at a working point: conductors, and the contacts as they stand there.

use std::collections::BTreeSet;

use crate::{
    figures::Point,
    network::{ElementId, Law, NodeId},
    topology::{LinkId, Nature, Topology},
};

/// Which conductors and contacts of a point pass current.
pub struct Conduction<'a> {
    topology: &'a Topology,
    point: &'a Point,
    /// Contacts that follow a coil and stand open.
    open: BTreeSet<ElementId>,
}

impl<'a> Conduction<'a> {
    /// Looks at a solved point; at an unsolved one only what the mode itself opened counts as open.
    #[must_use]
    pub fn new(topology: &'a Topology, point: &'a Point) -> Self {
        let closed = point.outcome.as_ref().map(|working| working.closed.as_slice()).unwrap_or_default();
        let followers = point.network.followers.iter().zip(closed);
        let open = followers.filter(|(_, closed)| !**closed).map(|(follower, _)| follower.contact).collect();
        Self { topology, point, open }
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
        let element = self.point.element_of.get(id.0 as usize).copied().flatten();
        let law =
            element.and_then(|element| self.point.network.elements.get(element.0 as usize)).map(|it| it.law);
        conductor
            && law.is_some_and(|law| law != Law::Open)
            && element.is_none_or(|element| !self.open.contains(&element))
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
