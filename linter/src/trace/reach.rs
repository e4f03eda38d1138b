//! The search: from a feed outwards, always along the least protected way first.

use std::{cmp::Ordering, collections::BinaryHeap};

use wattle_grammar::{
    kind::key,
    quantity::{Amps, Metres, Volts},
};

use super::{Feed, RailId, Reached, Weakest, inflow};
use crate::{
    design::Design,
    network::NodeId,
    topology::{Link, LinkId, Nature, Owner, Topology},
};

/// What a feed can push current into, sorted by node.
///
/// A widest-path search (Dijkstra with "smallest device on the way" in place of length): nodes are settled in the order
/// of falling protection current, so the first time a node is settled its path is the least protected one. Among equals
/// the shorter conductor wins. The rail that the current comes home to is never entered: what lies there is at the
/// other pole.
pub(super) fn search(
    design: &Design,
    topology: &Topology,
    rail_of: &[RailId],
    feed: &Feed,
) -> Vec<(NodeId, Reached)> {
    let home = rail_of.get(feed.minus.0 as usize).copied();
    let start = inflow::source_cap(topology, feed);
    let mut is_settled = vec![false; topology.nodes as usize];
    let mut settled: Vec<(NodeId, Reached)> = Vec::new();
    let mut queue = BinaryHeap::new();
    queue.push(Candidate {
        node: feed.plus,
        reached: Reached { weakest: start, via: None, metres: Metres(0.0) },
    });
    while let Some(Candidate { node, reached }) = queue.pop() {
        if is_settled.get_mut(node.0 as usize).is_none_or(|settled| std::mem::replace(settled, true)) {
            continue;
        }
        settled.push((node, reached));
        for at in topology.links_at.get(node.0 as usize).into_iter().flatten() {
            let Some(link) = topology.links.get(at.0 as usize) else { continue };
            let Some(step) = step(design, topology, *at, link, node, feed.volts) else { continue };
            if is_settled.get(step.to.0 as usize) == Some(&true)
                || rail_of.get(step.to.0 as usize).copied() == home
            {
                continue;
            }
            let next = Reached {
                weakest: reached.weakest.and(step.weakest),
                via: Some(*at),
                metres: reached.metres + step.metres,
            };
            queue.push(Candidate { node: step.to, reached: next });
        }
    }
    settled.sort_unstable_by_key(|(node, _)| *node);
    settled
}

/// One passable step.
pub(super) struct Step {
    pub(super) to: NodeId,
    pub(super) weakest: Weakest,
    pub(super) metres: Metres,
}

/// The step over `link` from `from`, or `None` when a fault current does not pass it that way.
pub(super) fn step(
    design: &Design,
    topology: &Topology,
    id: LinkId,
    link: &Link,
    from: NodeId,
    volts: Volts,
) -> Option<Step> {
    let to = if link.a == from { link.b } else { link.a };
    let pass = |weakest| Some(Step { to, weakest, metres: Metres(0.0) });
    match link.nature {
        Nature::Wire => wire_step(design, link, to),
        Nature::Mated | Nature::HandContact { .. } | Nature::CoilContact { .. } | Nature::Shunt(_) => {
            pass(Weakest::Nothing)
        }
        Nature::Protective { rated } => {
            pass(rated.map_or(Weakest::Unrated(id), |amps| Weakest::Device(id, amps)))
        }
        Nature::Resistor(ohms) => pass(Weakest::Limit(volts / ohms)),
        Nature::Diode if from == link.a => pass(Weakest::Nothing),
        Nature::BridgeDiode if from == link.b && is_positive_rail(design, topology, link) => {
            pass(driver_limit(design, link))
        }
        _ => None,
    }
}

fn wire_step(design: &Design, link: &Link, to: NodeId) -> Option<Step> {
    let Owner::Wire(id) = link.owner else { return None };
    let wire = design.wires.get(id.index())?;
    let weakest = wire.current_limit.map_or(Weakest::Nothing, |(amps, _)| Weakest::Limit(amps));
    Some(Step { to, weakest, metres: wire.length.unwrap_or(Metres(0.0)) })
}

/// Whether the diode's cathode is the driver's positive supply: then the bridge above it can drive the lead.
fn is_positive_rail(design: &Design, topology: &Topology, link: &Link) -> bool {
    let Owner::Thing(thing, _) = link.owner else { return false };
    design.terminal_named(thing, "pos").and_then(|pos| topology.node_of.get(pos.index())) == Some(&link.b)
}

fn driver_limit(design: &Design, link: &Link) -> Weakest {
    let Owner::Thing(thing, _) = link.owner else { return Weakest::Nothing };
    design.thing(thing).get::<Amps>(key::CURRENT_LIMIT).map_or(Weakest::Nothing, Weakest::Limit)
}

/// A node that can be settled next.
struct Candidate {
    node: NodeId,
    reached: Reached,
}

impl Candidate {
    fn key(&self) -> (f64, f64, u32) {
        (self.reached.weakest.amps(), -self.reached.metres.0, self.node.0)
    }
}

impl Ord for Candidate {
    fn cmp(&self, other: &Self) -> Ordering {
        let (a, b) = (self.key(), other.key());
        a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1)).then(b.2.cmp(&a.2))
    }
}

impl PartialOrd for Candidate {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl PartialEq for Candidate {
    fn eq(&self, other: &Self) -> bool {
        self.cmp(other) == Ordering::Equal
    }
}

impl Eq for Candidate {}
