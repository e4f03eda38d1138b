//! What conductors and closed contacts hold together at a point, with one thing opened.

use wattle_grammar::kind::Role;

use super::Seen;
use crate::{
    conduction::Conduction,
    design::ThingId,
    figures::Point,
    network::NodeId,
    topology::{LinkId, Nature, Owner, sets::Sets},
};

/// The pieces of a robot.
pub(super) struct Joint(Vec<u32>);

impl Joint {
    /// At a point, with `opened` opened.
    pub(super) fn new(seen: &Seen<'_>, point: &Point, opened: Option<ThingId>) -> Self {
        let conduction = Conduction::new(seen.topology, point);
        let mut sets = Sets::new(seen.topology.nodes as usize);
        for (id, link) in (0u32..).map(LinkId).zip(&seen.topology.links) {
            let is_opened = matches!(link.owner, Owner::Thing(thing, _) if Some(thing) == opened)
                && matches!(
                    link.nature,
                    Nature::Protective { .. } | Nature::HandContact { .. } | Nature::CoilContact { .. }
                );
            if !is_opened && conduction.passes(id) {
                sets.join(link.a.0, link.b.0);
            }
        }
        Self((0..seen.topology.nodes).map(|node| sets.root(node)).collect())
    }

    /// The pieces that two nodes belong to.
    pub(super) fn pair(&self, a: NodeId, b: NodeId) -> (u32, u32) {
        (self.piece(a), self.piece(b))
    }

    /// The piece that a node belongs to.
    pub(super) fn piece(&self, node: NodeId) -> u32 {
        self.0.get(node.0 as usize).copied().unwrap_or(node.0)
    }

    /// The pieces at the poles of every source, regulators among them.
    pub(super) fn fed(&self, seen: &Seen<'_>) -> Vec<(u32, u32)> {
        let node = |thing, role: Role| {
            let mut terminals = seen.design.terminals_of(thing);
            let (id, _) = terminals.find(|(_, terminal)| terminal.role == role)?;
            seen.topology.node(id)
        };
        let poles = |thing, plus, minus| Some(self.pair(node(thing, plus)?, node(thing, minus)?));
        let things = seen.design.things();
        things
            .filter_map(|(id, _)| {
                poles(id, Role::SourcePositive, Role::SourceNegative)
                    .or_else(|| poles(id, Role::OutputPositive, Role::OutputNegative))
            })
            .collect()
    }
}
