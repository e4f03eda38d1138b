//! The third lead of brushless motors. The network has one winding for each motor, between its first two leads; the third
//! carries what that winding carries, so nothing flows in it in the network itself.

use std::collections::{BTreeMap, BTreeSet};

use super::{drive::passes, skeleton::thing_of};
use crate::{
    design::Design,
    network::NodeId,
    topology::{LinkId, Nature, Topology},
};

/// The links of third leads, each with the windings whose current it carries.
pub(crate) type ThirdLeads = BTreeMap<LinkId, Vec<LinkId>>;

/// Finds them: the conductors between the third lead of a motor and the third lead of a driver. Several motors on one
/// driver add up. A third lead that is joined to something else that gives or takes current is left to the network.
pub(super) fn third_leads(design: &Design, topology: &Topology) -> ThirdLeads {
    let mut carried = ThirdLeads::new();
    for (id, link) in super::skeleton::links(topology).filter(|(_, link)| link.nature == Nature::Winding) {
        let lead = thing_of(design, link).and_then(|(motor, _)| design.terminal_named(motor, "c"));
        let Some(lead) = lead.and_then(|terminal| topology.node(terminal)) else { continue };
        for on_way in way_to_driver(topology, lead) {
            carried.entry(on_way).or_default().push(id);
        }
    }
    carried
}

/// The conductors that lie between `lead` and a bridge, all contacts closed; dead ends are not among them.
fn way_to_driver(topology: &Topology, lead: NodeId) -> BTreeSet<LinkId> {
    let (nodes, mut way) = net(topology, lead);
    if nodes.iter().any(|node| ends_elsewhere(topology, *node)) {
        return BTreeSet::new();
    }
    while let Some(end) = dead_end(topology, lead, &nodes, &way) {
        way.remove(&end);
    }
    way
}

/// All that conductors and contacts join to a node.
fn net(topology: &Topology, lead: NodeId) -> (BTreeSet<NodeId>, BTreeSet<LinkId>) {
    let (mut nodes, mut conductors) = (BTreeSet::from([lead]), BTreeSet::new());
    let mut stack = vec![lead];
    while let Some(node) = stack.pop() {
        for id in links_at(topology, node) {
            let Some(link) = topology.link(*id).filter(|link| passes(link.nature)) else { continue };
            conductors.insert(*id);
            let others = [link.a, link.b].into_iter().filter(|node| nodes.insert(*node));
            stack.extend(others);
        }
    }
    (nodes, conductors)
}

/// Whether something other than a conductor or a freewheel diode hangs on a node.
fn ends_elsewhere(topology: &Topology, node: NodeId) -> bool {
    let natures = links_at(topology, node).iter().filter_map(|id| topology.link(*id)).map(|link| link.nature);
    natures.into_iter().any(|nature| !passes(nature) && nature != Nature::BridgeDiode)
}

/// A conductor that leads to nothing.
fn dead_end(
    topology: &Topology,
    lead: NodeId,
    nodes: &BTreeSet<NodeId>,
    way: &BTreeSet<LinkId>,
) -> Option<LinkId> {
    let is_bridge = |id: &LinkId| topology.link(*id).is_some_and(|link| link.nature == Nature::BridgeDiode);
    nodes.iter().filter(|node| **node != lead).find_map(|node| {
        let here = links_at(topology, *node);
        let mut left = here.iter().filter(|id| way.contains(id));
        let only = left.next().filter(|_| left.next().is_none())?;
        (!here.iter().any(is_bridge)).then_some(*only)
    })
}

fn links_at(topology: &Topology, node: NodeId) -> &[LinkId] {
    topology.links_at.get(node.0 as usize).map_or(&[], Vec::as_slice)
}
