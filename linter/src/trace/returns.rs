//! The way home: which device's current a return conductor must be able to carry.
//!
//! A return wire is not fed by the positive pole, yet when the load it serves goes short it carries whatever the load's
//! device lets pass. For every load the search walks from its negative side home to the source and notes the device
//! on each wire that the current *must* take: a wire whose loss would cut the load off (a bridge of the graph). Wires
//! that share the way home with others are left out: what each of them takes is a question of resistances.

use std::collections::BTreeSet;

use wattle_grammar::quantity::Amps;

use super::{Feed, RailId, Trace, Weakest, rails};
use crate::{
    design::WireId,
    network::NodeId,
    topology::{Link, LinkId, Nature, Owner, Topology},
};

/// The heaviest load path that returns through a wire.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ReturnLoad {
    /// The device that must open for it; none where the source or a part limits the current.
    pub device: Option<LinkId>,
    /// The device's rated current or that limit, ampere; infinite where nothing at all opens or limits, [`f64::MAX`] for a
    /// device that states no rating.
    pub rated: Amps,
    /// The load's link.
    pub load: LinkId,
    /// Index of the feed in [`super::Trace::feeds`].
    pub feed: usize,
}

impl ReturnLoad {
    /// Whether nothing at all opens or limits before the load.
    fn is_bare(&self) -> bool {
        self.rated.0.is_infinite()
    }

    /// Whether the device before it states no rating.
    fn is_unrated(&self) -> bool {
        self.device.is_some() && self.rated.0 >= f64::MAX
    }
}

/// The loads behind return wires, by [`WireId`].
pub(super) struct Returns {
    /// The heaviest of those behind a device or a limit.
    pub(super) held: Vec<Option<ReturnLoad>>,
    /// One behind a device that states no rating.
    pub(super) unrated: Vec<Option<ReturnLoad>>,
    /// One with nothing before it.
    pub(super) bare: Vec<Option<ReturnLoad>>,
}

/// The heaviest load behind each return wire.
pub(super) fn find(
    topology: &Topology,
    rail_of: &[RailId],
    feeds: &[Feed],
    forest: &Forest,
    wires: usize,
) -> Returns {
    let (bare, rest): (Vec<Load>, Vec<Load>) =
        loads(topology, rail_of, feeds).into_iter().partition(|load| load.entry.is_bare());
    let (unrated, mut held): (Vec<Load>, Vec<Load>) =
        rest.into_iter().partition(|load| load.entry.is_unrated());
    // The heaviest first; of equals the one found first, for the sort is stable.
    held.sort_by(|a, b| b.entry.rated.0.total_cmp(&a.entry.rated.0));
    Returns {
        held: walk_home(topology, &held, forest.clone(), wires),
        unrated: walk_home(topology, &unrated, forest.clone(), wires),
        bare: walk_home(topology, &bare, forest.clone(), wires),
    }
}

/// The first of the loads that must come home through each wire.
fn walk_home(
    topology: &Topology,
    loads: &[Load],
    mut forest: Forest,
    wires: usize,
) -> Vec<Option<ReturnLoad>> {
    let mut result = vec![None; wires];
    for load in loads {
        for wire in forest.fresh_way_home(topology, load.from, load.home) {
            if let Some(slot) = result.get_mut(wire.index()) {
                *slot = Some(load.entry);
            }
        }
    }
    result
}

/// A load, and where its current goes on.
struct Load {
    entry: ReturnLoad,
    from: NodeId,
    home: NodeId,
}

/// Every load, as each of its feeds sees it.
fn loads(topology: &Topology, rail_of: &[RailId], feeds: &[Feed]) -> Vec<Load> {
    let mut loads = Vec::new();
    for (index, feed) in feeds.iter().enumerate() {
        let home = end_of_string(rail_of, feeds, feed);
        for (node, reached) in &feed.reached {
            let (device, rated) = match reached.weakest {
                Weakest::Device(device, rated) => (Some(device), rated),
                Weakest::Limit(amps) => (None, amps),
                Weakest::Nothing => (None, Amps(f64::INFINITY)),
                Weakest::Unrated(device) => (Some(device), Amps(reached.weakest.amps())),
            };
            for at in topology.links_at.get(node.0 as usize).into_iter().flatten() {
                let Some(from) = crossing(topology, *at, *node) else { continue };
                let entry = ReturnLoad { device, rated, load: *at, feed: index };
                loads.push(Load { entry, from, home });
            }
        }
    }
    loads
}

impl Trace {
    /// The load that comes home through a wire: the heaviest behind a device or a limit; where there is none such, one behind
    /// a device without a rating, or else one with nothing before it.
    #[must_use]
    pub fn comes_home(&self, wire: WireId) -> Option<&ReturnLoad> {
        let held = self.returns.get(wire.index())?;
        let bare = || self.bare_returns.get(wire.index())?.as_ref();
        held.as_ref().or_else(|| self.comes_home_unrated(wire)).or_else(bare)
    }

    /// A load behind a device without a rating that comes home through a wire.
    #[must_use]
    pub fn comes_home_unrated(&self, wire: WireId) -> Option<&ReturnLoad> {
        self.unrated_returns.get(wire.index())?.as_ref()
    }

    /// The wires that the loads at some nodes must come home by, in wire order.
    #[must_use]
    pub fn ways_home(&self, topology: &Topology, feed: &Feed, nodes: &BTreeSet<NodeId>) -> BTreeSet<WireId> {
        let home = end_of_string(&self.rail_of, &self.feeds, feed);
        let links_at = |node: NodeId| topology.links_at.get(node.0 as usize).into_iter().flatten();
        let loads =
            nodes.iter().flat_map(|node| links_at(*node).filter_map(|link| crossing(topology, *link, *node)));
        let mut forest = self.forest.clone();
        loads.flat_map(|load| forest.fresh_way_home(topology, load, home)).collect()
    }
}

/// The node that a feed's current comes home to: of packs in series the negative pole of the lowest.
fn end_of_string(rail_of: &[RailId], feeds: &[Feed], feed: &Feed) -> NodeId {
    let rail = |node: NodeId| rail_of.get(node.0 as usize);
    let mut home = feed.minus;
    // A string has no more packs than there are feeds; a ring of them ends the walk here.
    for _ in feeds {
        let lower = feeds.iter().find(|lower| {
            lower.thing != feed.thing
                && !lower.shorted
                && !lower.reversed
                && rail(lower.plus) == rail(home)
                && rail(lower.minus) != rail(home)
        });
        let Some(lower) = lower else { break };
        home = lower.minus;
    }
    home
}

/// The far node of a load-like link at `node`: where the current goes on when the load is short.
fn crossing(topology: &Topology, id: LinkId, node: NodeId) -> Option<NodeId> {
    let link = topology.links.get(id.0 as usize)?;
    let pack = matches!(link.nature, Nature::Cells { .. });
    (link.nature.is_load() || pack).then_some(if link.a == node { link.b } else { link.a })
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
#[derive(Clone, Debug, Default)]
pub(super) struct Forest {
    /// The link to the parent and the parent, by node; none at a root.
    up: Vec<Option<(LinkId, NodeId)>>,
    /// Depth by node; `u32::MAX` where the forest does not go.
    depth: Vec<u32>,
    /// Whether the link to the parent is a bridge.
    bridge: Vec<bool>,
    /// The root of its tree, by node.
    root: Vec<u32>,
    /// Where a walk upwards goes on, by node: itself, or a node above it when all links between are walked already.
    next: Vec<u32>,
}

impl Forest {
    /// The forest beside what the feeds reach.
    pub(super) fn beside(topology: &Topology, feeds: &[Feed]) -> Self {
        Self::new(topology, &fed_nodes(topology, feeds))
    }

    fn new(topology: &Topology, fed: &[bool]) -> Self {
        let count = topology.nodes as usize;
        let mut forest = Self {
            up: vec![None; count],
            depth: vec![u32::MAX; count],
            bridge: vec![false; count],
            root: (0..topology.nodes).collect(),
            next: (0..topology.nodes).collect(),
        };
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
                self.root[there] = root.0;
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

    /// The bridge wires between two nodes that no walk before has passed; none when they are not in one tree.
    ///
    /// Every link is walked once however many loads share it: what is passed already is jumped over.
    fn fresh_way_home(&mut self, topology: &Topology, from: NodeId, to: NodeId) -> Vec<WireId> {
        let mut wires = Vec::new();
        if !self.in_one_tree(from, to) {
            return wires;
        }
        let (mut a, mut b) = (self.unpassed(from.0), self.unpassed(to.0));
        while a != b {
            let lower = if self.depth[a as usize] >= self.depth[b as usize] { &mut a } else { &mut b };
            let at = *lower as usize;
            let Some((link, parent)) = self.up[at] else { break };
            if self.bridge[at] {
                wires.extend(wire_of(topology, link));
            }
            self.next[at] = parent.0;
            *lower = self.unpassed(parent.0);
        }
        wires
    }

    fn in_one_tree(&self, a: NodeId, b: NodeId) -> bool {
        let root = |node: NodeId| {
            let grown = self.depth.get(node.0 as usize).is_some_and(|depth| *depth != u32::MAX);
            grown.then(|| self.root[node.0 as usize])
        };
        root(a).is_some() && root(a) == root(b)
    }

    /// The nearest node at or above `node` whose link upwards is not passed. Halves the way there for the next time.
    fn unpassed(&mut self, mut node: u32) -> u32 {
        while self.next[node as usize] != node {
            let above = self.next[self.next[node as usize] as usize];
            self.next[node as usize] = above;
            node = above;
        }
        node
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
