//! Rails: what stays joined whatever is switched.

use crate::{
    network::NodeId,
    topology::{Link, Nature, Topology},
};

/// A rail, named by its lowest node.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct RailId(pub u32);

/// Whether a link of this nature holds a rail together.
pub(super) fn joins(nature: &Nature) -> bool {
    matches!(
        nature,
        Nature::Wire | Nature::Mated | Nature::Protective { .. } | Nature::Shunt(_) | Nature::ConverterGround
    )
}

/// The rail of each node.
pub(super) fn find(topology: &Topology) -> Vec<RailId> {
    find_by(topology, |link| joins(&link.nature))
}

/// The components of the graph of those links that `joins` admits.
pub(super) fn find_by(topology: &Topology, joins: impl Fn(&Link) -> bool) -> Vec<RailId> {
    let mut parent: Vec<u32> = (0..topology.nodes).collect();
    for link in topology.links.iter().filter(|link| joins(link)) {
        unite(&mut parent, link.a, link.b);
    }
    (0..topology.nodes).map(|node| RailId(root(&mut parent, node))).collect()
}

/// Joins two components; the lower root wins, so that names do not depend on the order of links.
fn unite(parent: &mut [u32], a: NodeId, b: NodeId) {
    let (a, b) = (root(parent, a.0), root(parent, b.0));
    let (low, high) = (a.min(b), a.max(b));
    if let Some(slot) = parent.get_mut(high as usize) {
        *slot = low;
    }
}

fn root(parent: &mut [u32], mut node: u32) -> u32 {
    while let Some(up) = parent.get(node as usize).copied().filter(|up| *up != node) {
        let above = parent.get(up as usize).copied().unwrap_or(up);
        if let Some(slot) = parent.get_mut(node as usize) {
            *slot = above;
        }
        node = above;
    }
    node
}
