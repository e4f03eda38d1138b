//! The unprotected region of a feed, cut into branches: where a device is missing, and where one stands too far away.
//!
//! The nodes that a feed reaches past no device at all form a tree. A branch of it that ends only in devices is what
//! every robot has between a pack and its fuses: there only the distance counts. A branch that ends in anything else has
//! nothing to open it. Where *all* branches of a node are like that, the cause is one step nearer to the feed, so one
//! missing main fuse gives one branch and not twenty.

use std::collections::{BTreeMap, BTreeSet};

use wattle_grammar::quantity::Metres;

use super::{Feed, Weakest};
use crate::{
    design::{Design, WireId},
    network::NodeId,
    topology::{LinkId, Nature, Owner, Topology},
};

/// A part of the unprotected region that needs something done.
#[derive(Clone, Debug, PartialEq)]
pub struct Branch {
    /// Its wire nearest to the feed: where a device belongs.
    pub first: WireId,
    /// All its unprotected wires, outwards from the feed.
    pub wires: Vec<WireId>,
    /// What is at its end.
    pub end: End,
}

/// How an unprotected branch ends.
#[derive(Clone, Debug, PartialEq)]
pub enum End {
    /// In something that opens nothing, at this node.
    NoDevice(NodeId),
    /// In these devices, but further than `allowed` from the feed; the nearest first, with its distance.
    TooFar {
        /// The devices and how far along the conductor each stands.
        devices: Vec<(LinkId, Metres)>,
        /// The distance that would be allowed.
        allowed: Metres,
    },
}

/// How far a first device may stand from its source.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Allowance {
    /// Along bare conductors.
    pub bare: Metres,
    /// Along conductors sheathed or enclosed for the whole length.
    pub sheathed: Metres,
}

impl Feed {
    /// The branches of the region that this feed reaches past nothing that opens.
    #[must_use]
    pub fn unprotected(&self, design: &Design, topology: &Topology, allowance: Allowance) -> Vec<Branch> {
        let tree = Tree::new(self, topology);
        let verdicts = tree.judge(topology);
        let mut branches = tree.missing(topology, &verdicts);
        let bare: BTreeSet<WireId> =
            branches.iter().flat_map(|branch| branch.wires.iter().copied()).collect();
        branches.extend(tree.too_far(self, design, topology, allowance, &bare));
        branches
    }

    /// The wires before a first device whose length is not stated: how far that device stands out cannot be told.
    #[must_use]
    pub fn unmeasured(&self, design: &Design, topology: &Topology) -> BTreeSet<WireId> {
        let tree = Tree::new(self, topology);
        let mut walked = BTreeSet::new();
        let mut wires = BTreeSet::new();
        for end in &tree.order {
            let mut at = *end;
            let mut way = tree.parent.get(&at).copied();
            if exits(topology, at, way.map(|(via, _)| via)).next().is_none() {
                continue;
            }
            while let Some((via, parent)) = way.filter(|_| walked.insert(at)) {
                wires.extend(wire_of(topology, via).filter(|wire| design.wire(*wire).length.is_none()));
                at = parent;
                way = tree.parent.get(&at).copied();
            }
        }
        wires
    }
}

/// The tree of nodes reached past nothing, rooted at the feed.
pub(super) struct Tree {
    /// Nodes in preorder: a parent stands before its children.
    pub(super) order: Vec<NodeId>,
    /// The links to the children of each node.
    children: BTreeMap<NodeId, Vec<(LinkId, NodeId)>>,
    /// The link to the parent of each node.
    pub(super) parent: BTreeMap<NodeId, (LinkId, NodeId)>,
}

/// What lies behind a node, seen from the feed.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Behind {
    /// No wire: nothing to protect.
    Nothing,
    /// At least one device.
    Device,
    /// Wires, and no device; or a load that hangs there before any device, whatever else there is.
    OnlyWires,
}

impl Tree {
    pub(super) fn new(feed: &Feed, topology: &Topology) -> Self {
        let inside: BTreeSet<NodeId> = feed
            .reached
            .iter()
            .filter(|(_, reached)| reached.weakest == Weakest::Nothing)
            .map(|(at, _)| *at)
            .collect();
        let mut children: BTreeMap<NodeId, Vec<(LinkId, NodeId)>> = BTreeMap::new();
        let mut parent = BTreeMap::new();
        for (node, reached) in feed.reached.iter().filter(|(node, _)| inside.contains(node)) {
            let Some(via) = reached.via else { continue };
            let Some(link) = topology.links.get(via.0 as usize) else { continue };
            let from = if link.a == *node { link.b } else { link.a };
            children.entry(from).or_default().push((via, *node));
            parent.insert(*node, (via, from));
        }
        let mut order = Vec::new();
        let mut stack: Vec<NodeId> = inside.contains(&feed.plus).then_some(feed.plus).into_iter().collect();
        while let Some(node) = stack.pop() {
            order.push(node);
            stack.extend(children.get(&node).into_iter().flatten().rev().map(|(_, child)| *child));
        }
        Self { order, children, parent }
    }

    pub(super) fn children_of(&self, node: NodeId) -> &[(LinkId, NodeId)] {
        self.children.get(&node).map_or(&[], Vec::as_slice)
    }

    /// What lies behind each node, from the leaves inwards.
    fn judge(&self, topology: &Topology) -> BTreeMap<NodeId, Behind> {
        let mut verdicts = BTreeMap::new();
        for node in self.order.iter().rev() {
            let behind = self.children_of(*node).iter().map(|(link, child)| {
                let own = verdicts.get(child).copied().unwrap_or(Behind::Nothing);
                if own == Behind::Nothing && is_wire(topology, *link) { Behind::OnlyWires } else { own }
            });
            let verdict = if self.parent.contains_key(node) && feeds_load(topology, *node) {
                Behind::OnlyWires
            } else if exits(topology, *node, self.parent.get(node).map(|(via, _)| *via)).next().is_some() {
                Behind::Device
            } else {
                behind.fold(Behind::Nothing, worst)
            };
            verdicts.insert(*node, verdict);
        }
        verdicts
    }

    /// The branches with no device, each as near to the feed as all its neighbours are without one too.
    fn missing(&self, topology: &Topology, verdicts: &BTreeMap<NodeId, Behind>) -> Vec<Branch> {
        let mut branches = Vec::new();
        for node in &self.order {
            let is_root = !self.parent.contains_key(node);
            if verdicts.get(node) != Some(&Behind::Device) && !is_root {
                continue;
            }
            for (link, child) in self.children_of(*node) {
                let behind = verdicts.get(child).copied().unwrap_or(Behind::Nothing);
                let bare_wire = behind == Behind::Nothing && is_wire(topology, *link);
                if behind == Behind::OnlyWires || bare_wire {
                    branches.extend(self.branch(topology, *link, *child));
                }
            }
        }
        branches
    }

    /// Everything behind `link`, as one branch.
    fn branch(&self, topology: &Topology, link: LinkId, child: NodeId) -> Option<Branch> {
        let mut wires: Vec<WireId> = wire_of(topology, link).into_iter().collect();
        let mut end = child;
        let mut stack = vec![child];
        while let Some(node) = stack.pop() {
            end = node;
            for (link, next) in self.children_of(node).iter().rev() {
                wires.extend(wire_of(topology, *link));
                stack.push(*next);
            }
        }
        wires.sort_unstable();
        let first = self.first_wire(topology, link, child)?;
        Some(Branch { first, wires, end: End::NoDevice(end) })
    }

    /// The wire nearest to the feed from `link` on.
    fn first_wire(&self, topology: &Topology, link: LinkId, child: NodeId) -> Option<WireId> {
        let mut front = vec![(link, child)];
        while !front.is_empty() {
            if let Some(wire) = front.iter().find_map(|(link, _)| wire_of(topology, *link)) {
                return Some(wire);
            }
            front = front.iter().flat_map(|(_, node)| self.children_of(*node).iter().copied()).collect();
        }
        None
    }

    /// Devices that stand too far out, grouped by the first wire on the way to them; none behind a bare wire, for there
    /// a device is missing nearer by.
    fn too_far(
        &self,
        feed: &Feed,
        design: &Design,
        topology: &Topology,
        allowance: Allowance,
        bare: &BTreeSet<WireId>,
    ) -> Vec<Branch> {
        let mut groups: BTreeMap<WireId, Branch> = BTreeMap::new();
        for node in &self.order {
            let Some(reached) = feed.at(*node) else { continue };
            // The path is walked only where a device may be too far.
            let near = reached.metres <= allowance.bare.min(allowance.sheathed);
            if near || exits(topology, *node, reached.via).next().is_none() {
                continue;
            }
            let path: Vec<WireId> = feed
                .path_to(topology, *node)
                .into_iter()
                .filter_map(|link| wire_of(topology, link))
                .collect();
            let Some(first) = path.first().copied() else { continue };
            let sheathed = path.iter().all(|wire| design.wire(*wire).sheathed);
            let allowed = if sheathed { allowance.sheathed } else { allowance.bare };
            if reached.metres <= allowed || path.iter().any(|wire| bare.contains(wire)) {
                continue;
            }
            for device in exits(topology, *node, reached.via) {
                let empty =
                    Branch { first, wires: Vec::new(), end: End::TooFar { devices: Vec::new(), allowed } };
                let group = groups.entry(first).or_insert(empty);
                group.wires.extend(path.iter().copied());
                if let End::TooFar { devices, allowed: least } = &mut group.end {
                    devices.push((device, reached.metres));
                    *least = least.min(allowed);
                }
            }
        }
        groups.into_values().map(tidied).collect()
    }
}

/// Sorts what was collected: each wire once, the nearest device first.
fn tidied(mut branch: Branch) -> Branch {
    branch.wires.sort_unstable();
    branch.wires.dedup();
    if let End::TooFar { devices, .. } = &mut branch.end {
        devices.sort_by(|a, b| a.1.0.total_cmp(&b.1.0).then(a.0.cmp(&b.0)));
        devices.dedup_by_key(|(device, _)| *device);
    }
    branch
}

/// Whether a load, a coil or the input of a part hangs on a node.
fn feeds_load(topology: &Topology, node: NodeId) -> bool {
    let links = topology.links_at.get(node.0 as usize).into_iter().flatten();
    links.filter_map(|link| topology.link(*link)).any(|link| {
        matches!(
            link.nature,
            Nature::Load | Nature::Coil(_) | Nature::ConverterInput | Nature::DriverInput | Nature::Winding
        )
    })
}

fn worst(a: Behind, b: Behind) -> Behind {
    match (a, b) {
        (Behind::Device, _) | (_, Behind::Device) => Behind::Device,
        (Behind::OnlyWires, _) | (_, Behind::OnlyWires) => Behind::OnlyWires,
        _ => Behind::Nothing,
    }
}

/// What ends the unprotected length at a node, other than the link the path came through: devices, limiting resistors,
/// and the negative pole of the next pack of a series string, for its own positive pole is the next source.
pub(super) fn exits(
    topology: &Topology,
    node: NodeId,
    via: Option<LinkId>,
) -> impl Iterator<Item = LinkId> + '_ {
    topology.links_at.get(node.0 as usize).into_iter().flatten().copied().filter(move |id| {
        Some(*id) != via
            && topology.link(*id).is_some_and(|link| match link.nature {
                Nature::Protective { .. } | Nature::Resistor(_) => true,
                Nature::Cells { .. } => link.b == node && via.is_some(),
                _ => false,
            })
    })
}

fn is_wire(topology: &Topology, link: LinkId) -> bool {
    wire_of(topology, link).is_some()
}

fn wire_of(topology: &Topology, link: LinkId) -> Option<WireId> {
    match topology.links.get(link.0 as usize)?.owner {
        Owner::Wire(wire) => Some(wire),
        _ => None,
    }
}
