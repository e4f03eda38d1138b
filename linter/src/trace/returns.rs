//! The way home: which device's current a return conductor must be able to carry.
//!
//! A return wire is not fed by the positive pole, yet when the load it serves goes short it carries whatever the load's
//! device lets pass. For every load the search walks from its negative side home to the source and notes the device
//! on each wire that the current *must* take: a wire whose loss would cut the load off (a bridge of the graph). Wires
//! that share the way home with others are left out: what each of them takes is a question of resistances.

use super::{Feed, Weakest, rails};
use crate::{
    design::WireId,
    network::NodeId,
    topology::{Link, LinkId, Nature, Owner, Topology},
};

/// The heaviest load path that returns through a wire.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ReturnLoad {
    /// The device that must open for it.
    pub device: LinkId,
    /// Its rated current, ampere.
    pub rated: wattle_grammar::quantity::Amps,
    /// The load's link.
    pub load: LinkId,
    /// Index of the feed in [`super::Trace::feeds`].
    pub feed: usize,
}

/// The heaviest load behind each return wire, by [`WireId`].
pub(super) fn find(
    design: &crate::design::Design,
    topology: &Topology,
    feeds: &[Feed],
) -> Vec<Option<ReturnLoad>> {
    let mut result = vec![None; design.wires.len()];
    let forest = Forest::new(topology, &fed_nodes(topology, feeds));
    for (index, feed) in feeds.iter().enumerate() {
        for node in feed.nodes() {
            for at in topology.links_at.get(node.0 as usize).into_iter().flatten() {
                let Some(load) = crossing(topology, *at, node) else { continue };
                let Some(Weakest::Device(device, rated)) = feed.at(node).map(|reached| reached.weakest)
                else {
                    continue;
                };
                let entry = ReturnLoad { device, rated, load: *at, feed: index };
                for wire in forest.way_home(topology, load, feed.minus) {
                    keep_heavier(&mut result, wire, entry);
                }
            }
        }
    }
    result
}

fn keep_heavier(result: &mut [Option<ReturnLoad>], wire: WireId, entry: ReturnLoad) {
    if let Some(slot) = result.get_mut(wire.index()) {
        let heavier = slot.is_none_or(|held| entry.rated.0 > held.rated.0);
        if heavier {
            *slot = Some(entry);
        }
    }
}

/// The far node of a load-like link at `node`: where the current goes on when the load is short.
fn crossing(topology: &Topology, id: LinkId, node: NodeId) -> Option<NodeId> {
    let link = topology.links.get(id.0 as usize)?;
    let loads = matches!(
        link.nature,
        Nature::Load | Nature::Coil(_) | Nature::ConverterInput | Nature::DriverInput | Nature::Winding
    );
    let pack = matches!(link.nature, Nature::Cells { .. });
    (loads || pack).then_some(if link.a == node { link.b } else { link.a })
}

/// Which nodes some feed pushes current into: they are not on a way home.
fn fed_nodes(topology: &Topology, feeds: &[Feed]) -> Vec<bool> {
    let mut fed = vec![false; topology.nodes as usize];
    for node in feeds.iter().flat_map(Feed::nodes) {
        if let Some(slot) = fed.get_mut(node.0 as usize) {
            *slot = true;
        }
    }
    fed
}

/// Depth-first spanning forest of the conductors that no feed pushes into, with the bridges marked.
struct Forest {
    /// The link to the parent and the parent, by node; none at a root.
    up: Vec<Option<(LinkId, NodeId)>>,
    /// Depth by node; `u32::MAX` where the forest does not go.
    depth: Vec<u32>,
    /// Whether the link to the parent is a bridge.
    bridge: Vec<bool>,
}

impl Forest {
    fn new(topology: &Topology, fed: &[bool]) -> Self {
        let count = topology.nodes as usize;
        let mut forest =
            Self { up: vec![None; count], depth: vec![u32::MAX; count], bridge: vec![false; count] };
        let mut low = vec![u32::MAX; count];
        for root in 0..topology.nodes {
            if forest.depth[root as usize] == u32::MAX && !fed[root as usize] {
                forest.grow(topology, fed, NodeId(root), &mut low);
            }
        }
        forest
    }

    /// Tarjan's bridge search without recursion: a tree link is a bridge when nothing below it reaches above it.
    fn grow(&mut self, topology: &Topology, fed: &[bool], root: NodeId, low: &mut [u32]) {
        self.depth[root.0 as usize] = 0;
        low[root.0 as usize] = 0;
        let mut stack: Vec<(NodeId, usize)> = vec![(root, 0)];
        while let Some((node, next)) = stack.pop() {
            let at = node.0 as usize;
            let Some(id) = topology.links_at.get(at).and_then(|links| links.get(next)) else {
                self.close(node, low);
                continue;
            };
            stack.push((node, next + 1));
            let Some(to) = self.passable(topology, fed, *id, node) else { continue };
            let there = to.0 as usize;
            if self.depth[there] == u32::MAX {
                self.depth[there] = self.depth[at] + 1;
                low[there] = self.depth[there];
                self.up[there] = Some((*id, node));
                stack.push((to, 0));
            } else {
                low[at] = low[at].min(self.depth[there]);
            }
        }
    }

    /// Called when everything below `node` is known.
    fn close(&mut self, node: NodeId, low: &mut [u32]) {
        let at = node.0 as usize;
        if let Some((_, parent)) = self.up[at] {
            self.bridge[at] = low[at] > self.depth[parent.0 as usize];
            low[parent.0 as usize] = low[parent.0 as usize].min(low[at]);
        }
    }

    fn passable(&self, topology: &Topology, fed: &[bool], id: LinkId, node: NodeId) -> Option<NodeId> {
        let link = topology.links.get(id.0 as usize)?;
        let to = if link.a == node { link.b } else { link.a };
        let is_parent_link = self.up[node.0 as usize].is_some_and(|(up, _)| up == id);
        (conducts_home(link)
            && !is_parent_link
            && to != node
            && !fed.get(to.0 as usize).copied().unwrap_or(true))
        .then_some(to)
    }

    /// The bridge wires between two nodes; empty when they are not on one tree.
    fn way_home(&self, topology: &Topology, from: NodeId, to: NodeId) -> Vec<WireId> {
        let (mut a, mut b) = (from, to);
        let mut wires = Vec::new();
        loop {
            let (depth_a, depth_b) = (self.depth_of(a), self.depth_of(b));
            if depth_a == u32::MAX || depth_b == u32::MAX {
                return Vec::new();
            }
            if a == b {
                return wires;
            }
            let higher = if depth_a >= depth_b { &mut a } else { &mut b };
            let Some(Some((link, parent))) = self.up.get(higher.0 as usize).copied() else {
                return Vec::new();
            };
            if self.bridge[higher.0 as usize] {
                wires.extend(wire_of(topology, link));
            }
            *higher = parent;
        }
    }

    fn depth_of(&self, node: NodeId) -> u32 {
        self.depth.get(node.0 as usize).copied().unwrap_or(u32::MAX)
    }
}

fn conducts_home(link: &Link) -> bool {
    rails::joins(&link.nature)
        || matches!(link.nature, Nature::HandContact { .. } | Nature::CoilContact { .. })
}

fn wire_of(topology: &Topology, link: LinkId) -> Option<WireId> {
    match topology.links.get(link.0 as usize)?.owner {
        Owner::Wire(wire) => Some(wire),
        _ => None,
    }
}
