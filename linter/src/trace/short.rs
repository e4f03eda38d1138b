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
    /// Index of the tie, in [`Design::ties`], at the node where positive and negative meet; none when a link joins them.
    pub tie: Option<usize>,
}

/// Every shorted source.
pub(super) fn find(design: &Design, topology: &Topology, feeds: &[Feed]) -> Vec<Short> {
    let signs = signs(design, topology);
    let shorted = feeds.iter().enumerate().filter(|(_, feed)| feed.shorted);
    shorted
        .map(|(index, feed)| {
            let path = path(topology, feed.plus, feed.minus);
            let nodes = nodes_on(topology, feed.plus, &path);
            let hung = hung(topology, &signs, &nodes, &path);
            let tie = tie(design, topology, &hung);
            let culprit = culprit(&hung, &nodes, &path).filter(|_| tie.is_none());
            Short { feed: index, path, culprit, tie }
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

/// The link on the path that best parts the positive-minded terminals from the negative-minded ones, each counted where
/// it joins the path; the middle one where several do.
fn culprit(hung: &BTreeMap<NodeId, Hung>, nodes: &[NodeId], path: &[LinkId]) -> Option<LinkId> {
    let sum = |node: &NodeId| hung.get(node).map_or(0, |hung| hung.positive - hung.negative);
    let mut before = 0;
    let mut parted = Vec::new();
    for (node, link) in nodes.iter().zip(path) {
        before += sum(node);
        parted.push((before, *link));
    }
    let most = parted.iter().map(|(before, _)| *before).max()?;
    let best: Vec<LinkId> =
        parted.into_iter().filter(|(before, _)| *before == most).map(|(_, link)| link).collect();
    best.get(best.len() / 2).copied()
}

/// The nodes along a path, first one included.
fn nodes_on(topology: &Topology, from: NodeId, path: &[LinkId]) -> Vec<NodeId> {
    let mut nodes = vec![from];
    let mut last = from;
    for link in path.iter().filter_map(|id| topology.link(*id)) {
        last = link.other(last);
        nodes.push(last);
    }
    nodes
}

/// The first tie at a node on the path to which both positive and negative terminals come home by other ways.
fn tie(design: &Design, topology: &Topology, hung: &BTreeMap<NodeId, Hung>) -> Option<usize> {
    let meets = |node: NodeId| hung.get(&node).is_some_and(|hung| hung.positive > 0 && hung.negative > 0);
    design.ties.iter().position(|tie| tie.ends.iter().any(|(end, _)| topology.node(*end).is_some_and(meets)))
}

/// The terminals that join a path at a node of it.
#[derive(Clone, Copy, Default)]
struct Hung {
    positive: i32,
    negative: i32,
}

/// What joins the path at each of its nodes: every node of the rail counts for the node of the path nearest to it.
fn hung(topology: &Topology, signs: &[i32], nodes: &[NodeId], path: &[LinkId]) -> BTreeMap<NodeId, Hung> {
    let mut nearest: BTreeMap<NodeId, NodeId> = nodes.iter().map(|node| (*node, *node)).collect();
    let mut queue: VecDeque<NodeId> = nodes.iter().copied().collect();
    let mut hung: BTreeMap<NodeId, Hung> = BTreeMap::new();
    while let Some(node) = queue.pop_front() {
        let Some(root) = nearest.get(&node).copied() else { continue };
        let sign = signs.get(node.0 as usize).copied().unwrap_or(0);
        let entry = hung.entry(root).or_default();
        entry.positive += sign.max(0);
        entry.negative += (-sign).max(0);
        for id in topology.links_at.get(node.0 as usize).into_iter().flatten() {
            let Some(link) = topology.link(*id).filter(|_| !path.contains(id)) else { continue };
            let next = link.other(node);
            if rails::joins(&link.nature) && !nearest.contains_key(&next) {
                nearest.insert(next, root);
                queue.push_back(next);
            }
        }
    }
    hung
}
