//! How much several feeds together can push into a node: what their ways share caps their sum.

use std::collections::BTreeMap;

use super::{Feed, Weakest, reach};
use crate::{
    design::Design,
    network::NodeId,
    topology::{LinkId, Nature, Topology},
};

/// One of the things that together cap what comes into a node.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Share {
    /// The cap.
    pub cap: Weakest,
    /// What it sits in; none when it is the source's own.
    pub link: Option<LinkId>,
    /// Index of a feed behind it, in the slice that was asked about.
    pub feed: usize,
}

/// The cheapest cut between the feeds and `end`, on their least protected ways: the caps whose sum is the most that can
/// come in. Ways that part and meet again count twice, which is the careful side.
#[must_use]
pub fn inflow(design: &Design, topology: &Topology, feeds: &[&Feed], end: NodeId) -> Vec<Share> {
    let mut tree = Tree::default();
    for (index, feed) in feeds.iter().enumerate() {
        tree.add(caps(design, topology, feed, end, index));
    }
    tree.cut()
}

/// What caps the current on a feed's way, from `end` back to the source; the source itself is the last.
fn caps(design: &Design, topology: &Topology, feed: &Feed, end: NodeId, index: usize) -> Vec<Share> {
    let mut caps = Vec::new();
    let mut at = end;
    while let Some(id) = feed.at(at).and_then(|reached| reached.via) {
        let Some(link) = topology.link(id) else { break };
        let from = if link.a == at { link.b } else { link.a };
        let step = reach::step(design, topology, id, link, from, feed.volts);
        let cap = step.map_or(Weakest::Nothing, |step| step.weakest);
        if cap != Weakest::Nothing {
            caps.push(Share { cap, link: Some(id), feed: index });
        }
        at = from;
    }
    let cap = source_cap(topology, feed);
    let link = if let Weakest::Device(link, _) = cap { Some(link) } else { None };
    caps.push(Share { cap, link, feed: index });
    caps
}

/// What the source itself lets out: a fuse inside it, or its own limit.
pub(super) fn source_cap(topology: &Topology, feed: &Feed) -> Weakest {
    let Some(limit) = feed.limit else { return Weakest::Nothing };
    let inside = topology
        .inside(feed.thing)
        .find(|(_, link)| link.b == feed.plus && matches!(link.nature, Nature::Protective { .. }));
    inside.map_or(Weakest::Limit(limit), |(id, _)| Weakest::Device(id, limit))
}

/// The ways back from the node, as a tree: they part where the current comes together.
#[derive(Default)]
struct Tree {
    /// Each with its parent's position; parents stand before their children.
    nodes: Vec<(Option<usize>, Share)>,
    /// The child of a node that sits in a link.
    child: BTreeMap<(Option<usize>, LinkId), usize>,
}

impl Tree {
    fn add(&mut self, caps: Vec<Share>) {
        let mut parent = None;
        for share in caps {
            let known = share.link.and_then(|link| self.child.get(&(parent, link)).copied());
            parent = known.or_else(|| {
                let next = self.nodes.len();
                self.nodes.push((parent, share));
                share.link.and_then(|link| self.child.insert((parent, link), next));
                Some(next)
            });
        }
    }

    /// From the sources inwards: each node lets through the smaller of its own cap and what comes from behind it.
    fn cut(self) -> Vec<Share> {
        let mut behind: Vec<Vec<Share>> = vec![Vec::new(); self.nodes.len()];
        let mut whole = Vec::new();
        for (at, (parent, share)) in self.nodes.iter().enumerate().rev() {
            let inner = behind.get_mut(at).map(std::mem::take).unwrap_or_default();
            let sum: f64 = inner.iter().map(|one| one.cap.amps()).sum();
            let through = if inner.is_empty() || sum > share.cap.amps() { vec![*share] } else { inner };
            match parent.and_then(|parent| behind.get_mut(parent)) {
                Some(into) => into.extend(through),
                None => whole.extend(through),
            }
        }
        whole.sort_by_key(|share| (share.link, share.feed));
        whole
    }
}
