//! Dead shorts: a source whose two poles are on one rail, and the joint that is most likely the mistake.

use std::collections::{BTreeMap, VecDeque};

use wattle_grammar::kind::Role;

use super::{Feed, rails};
use crate::{
    design::Design,
    network::NodeId,
    topology::{LinkId, Topology},
};

/// A dead short of a source.
#[derive(Clone, Debug, PartialEq)]
pub struct Short {
    /// Index of the feed in [`super::Trace::feeds`].
    pub feed: usize,
    /// The links from its positive to its negative pole; empty when a tie joins them directly.
    pub path: Vec<LinkId>,
    /// The link on which positive meets negative: the likely mistake. None when a tie joins them.
    pub culprit: Option<LinkId>,
}

/// Every shorted source.
pub(super) fn find(design: &Design, topology: &Topology, feeds: &[Feed]) -> Vec<Short> {
    let signs = signs(design, topology);
    let shorted = feeds.iter().enumerate().filter(|(_, feed)| feed.shorted);
    shorted
        .map(|(index, feed)| {
            let path = path(topology, feed.plus, feed.minus);
            let culprit = culprit(topology, &signs, feed, &path);
            Short { feed: index, path, culprit }
        })
        .collect()
}

/// How many terminals at each node want to be positive, less those that want to be negative.
pub(super) fn signs(design: &Design, topology: &Topology) -> Vec<i32> {
    let mut signs = vec![0; topology.nodes as usize];
    for (terminal, node) in design.terminals.iter().zip(&topology.node_of) {
        if let Some(slot) = signs.get_mut(node.0 as usize) {
            *slot += sign(terminal.role);
        }
    }
    signs
}

/// `1` for a role that belongs on a positive rail, `-1` for one that belongs on a negative, `0` for neither.
pub(super) fn sign(role: Role) -> i32 {
    match role {
        Role::SourcePositive | Role::SupplyPositive | Role::OutputPositive => 1,
        Role::SourceNegative | Role::SupplyNegative | Role::OutputNegative | Role::Frame => -1,
        _ => 0,
    }
}

/// The shortest way between two nodes of one rail, by number of links.
fn path(topology: &Topology, from: NodeId, to: NodeId) -> Vec<LinkId> {
    let mut via: BTreeMap<NodeId, (LinkId, NodeId)> = BTreeMap::new();
    let mut queue = VecDeque::from([from]);
    while let Some(node) = queue.pop_front() {
        if node == to {
            break;
        }
        for id in topology.links_at.get(node.0 as usize).into_iter().flatten() {
            let Some(link) = topology.links.get(id.0 as usize) else { continue };
            let next = if link.a == node { link.b } else { link.a };
            if rails::joins(&link.nature) && next != from && !via.contains_key(&next) {
                via.insert(next, (*id, node));
                queue.push_back(next);
            }
        }
    }
    let mut path = Vec::new();
    let mut at = to;
    while let Some((link, before)) = via.get(&at).copied().filter(|_| at != from) {
        path.push(link);
        at = before;
    }
    path.reverse();
    path
}

/// The link on the path that best parts the positive-minded nodes from the negative-minded ones.
fn culprit(topology: &Topology, signs: &[i32], feed: &Feed, path: &[LinkId]) -> Option<LinkId> {
    let mut nodes = vec![feed.plus];
    for id in path {
        let link = topology.links.get(id.0 as usize)?;
        let last = *nodes.last()?;
        nodes.push(if link.a == last { link.b } else { link.a });
    }
    let sign = |node: &NodeId| signs.get(node.0 as usize).copied().unwrap_or(0);
    let total: i32 = nodes.iter().map(sign).sum();
    let mut before = 0;
    let mut best: Option<(i32, LinkId)> = None;
    for (node, link) in nodes.iter().zip(path) {
        before += sign(node);
        let parted = before - (total - before);
        if best.is_none_or(|(held, _)| parted > held) {
            best = Some((parted, *link));
        }
    }
    best.map(|(_, link)| link)
}
