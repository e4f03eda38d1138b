//! Looking things up in the topology.

use super::{Link, LinkId, Nature, Topology};
use crate::{
    design::{TerminalId, ThingId},
    network::NodeId,
};

impl Topology {
    /// The link behind an id; `None` when there is none.
    #[must_use]
    pub fn link(&self, id: LinkId) -> Option<&Link> {
        self.links.get(id.0 as usize)
    }

    /// The node of a terminal; `None` for a terminal of another design.
    #[must_use]
    pub fn node(&self, terminal: TerminalId) -> Option<NodeId> {
        self.node_of.get(terminal.index()).copied()
    }

    /// The links inside a thing, in order.
    pub fn inside(&self, thing: ThingId) -> impl Iterator<Item = (LinkId, &Link)> {
        let (first, end) = self.inside.get(thing.index()).copied().unwrap_or((LinkId(0), LinkId(0)));
        (first.0..end.0).map(LinkId).filter_map(|id| Some((id, self.link(id)?)))
    }

    /// The coil of a relay or contactor.
    #[must_use]
    pub fn coil(&self, thing: ThingId) -> Option<LinkId> {
        self.inside(thing).find(|(_, link)| matches!(link.nature, Nature::Coil(_))).map(|(id, _)| id)
    }
}

impl Link {
    /// The end that is not `node`.
    #[must_use]
    pub fn other(&self, node: NodeId) -> NodeId {
        if self.a == node { self.b } else { self.a }
    }
}
