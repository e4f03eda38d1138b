//! Leads before the first device: no device protects them, yet each must bear what the devices behind it let pass.

use std::collections::BTreeMap;

use wattle_grammar::quantity::Amps;

use super::{Feed, region};
use crate::{
    network::NodeId,
    topology::{LinkId, Nature, Owner, Topology},
};

/// The largest device that a lead feeds. Several behind one lead are not added: that all of them are loaded to their
/// rating at once is what the steady current of the modes tells.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lead {
    /// The device.
    pub device: LinkId,
    /// Its rated current.
    pub rated: Amps,
    /// Index of the feed in [`super::Trace::feeds`].
    pub feed: usize,
}

/// The largest device behind each wire that a feed reaches past nothing, by [`crate::design::WireId`].
pub(super) fn find(topology: &Topology, feeds: &[Feed], wires: usize) -> Vec<Option<Lead>> {
    let mut leads = vec![None; wires];
    for (index, feed) in feeds.iter().enumerate() {
        let tree = region::Tree::new(feed, topology);
        let mut behind: BTreeMap<NodeId, Lead> = BTreeMap::new();
        for node in tree.order.iter().rev() {
            let at_node = region::exits(topology, *node, tree.parent.get(node).map(|(via, _)| *via));
            let own = at_node
                .filter_map(|device| Some(Lead { device, rated: rating(topology, device)?, feed: index }));
            let children = tree.children_of(*node).iter().filter_map(|(_, child)| behind.get(child).copied());
            let Some(largest) = own.chain(children).max_by(|a, b| a.rated.0.total_cmp(&b.rated.0)) else {
                continue;
            };
            behind.insert(*node, largest);
            if let Some((via, _)) = tree.parent.get(node) {
                keep_larger(topology, &mut leads, *via, largest);
            }
        }
    }
    leads
}

fn keep_larger(topology: &Topology, leads: &mut [Option<Lead>], via: LinkId, lead: Lead) {
    let Some(Owner::Wire(wire)) = topology.link(via).map(|link| link.owner) else { return };
    if let Some(slot) = leads.get_mut(wire.index())
        && slot.is_none_or(|held| lead.rated > held.rated)
    {
        *slot = Some(lead);
    }
}

fn rating(topology: &Topology, device: LinkId) -> Option<Amps> {
    match topology.link(device)?.nature {
        Nature::Protective { rated } => rated,
        _ => None,
    }
}
