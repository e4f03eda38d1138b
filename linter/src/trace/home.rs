//! Whether a node leads home: to a feed's negative rail, through conductors and contacts only.

use std::collections::BTreeSet;

use super::{RailId, Trace, rails};
use crate::{
    network::NodeId,
    topology::{Nature, Topology},
};

impl Trace {
    /// Whether `from` is joined to the rail `home` by conductors, devices and contacts that can close, without crossing
    /// the rail `not`.
    #[must_use]
    pub fn leads_home(&self, topology: &Topology, from: NodeId, home: RailId, not: RailId) -> bool {
        let mut seen = BTreeSet::from([from]);
        let mut stack = vec![from];
        while let Some(node) = stack.pop() {
            if self.rail(node) == home {
                return true;
            }
            for link in topology.links_at.get(node.0 as usize).into_iter().flatten() {
                let Some(link) = topology.links.get(link.0 as usize) else { continue };
                let to = if link.a == node { link.b } else { link.a };
                if passes(&link.nature) && self.rail(to) != not && seen.insert(to) {
                    stack.push(to);
                }
            }
        }
        false
    }
}

fn passes(nature: &Nature) -> bool {
    rails::joins(nature) || matches!(nature, Nature::HandContact { .. } | Nature::CoilContact { .. })
}
