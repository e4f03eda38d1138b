//! The sources of a circuit as they stand in it: cells in series between negative, taps and positive pole.
//!
//! A short on a tap is fed by the cells below it, and through the cells above it by whatever stands beside the pack. So
//! every stretch between two poles stands between its own two nodes, with its share of voltage and resistance, and a pack
//! that stands on another between that one's positive and its own. Kirchhoff's laws then hold for all of it at once.

use wattle_grammar::quantity::{Ohms, Volts};

use super::{
    pool::Member,
    source::{Source, Strength, fuse_inside},
};
use crate::{
    network::NodeId,
    topology::Topology,
    trace::{Feed, RailId, Trace},
    unfold::usual,
};

/// A source as it stands in a circuit. Nodes are positions in the circuit.
#[derive(Clone, Debug)]
pub(super) struct Chain {
    /// Where it stands; none: on the negative of the circuit.
    bottom: Option<usize>,
    /// Its poles from below.
    poles: Vec<Pole>,
}

/// A pole of a chain.
#[derive(Clone, Copy, Debug)]
struct Pole {
    node: usize,
    /// Voltage against the bottom when full, without load.
    volts: Volts,
    /// Resistance from there.
    ohms: Ohms,
}

/// What lies between two neighbouring poles of a chain.
pub(super) struct Stretch {
    /// None: the negative of the circuit.
    pub(super) lower: Option<usize>,
    pub(super) upper: usize,
    pub(super) emf: Volts,
    pub(super) ohms: Ohms,
}

impl Chain {
    /// The stretches, from below.
    pub(super) fn stretches(&self) -> impl Iterator<Item = Stretch> + '_ {
        let mut below = (self.bottom, Volts(0.0), Ohms(0.0));
        self.poles.iter().map(move |pole| {
            let (lower, volts, ohms) =
                std::mem::replace(&mut below, (Some(pole.node), pole.volts, pole.ohms));
            let ohms = (pole.ohms - ohms).max(usual::LEAST);
            Stretch { lower, upper: pole.node, emf: pole.volts - volts, ohms }
        })
    }

    /// Every node of it.
    pub(super) fn nodes(&self) -> impl Iterator<Item = usize> + '_ {
        self.bottom.into_iter().chain(self.poles.iter().map(|pole| pole.node))
    }

    /// Whether anything gets through it from one node of the circuit to another.
    pub(super) fn leads_through(&self) -> bool {
        self.nodes().nth(1).is_some()
    }
}

/// The chains of all sources of a circuit that are not limited; `nodes` are its nodes, rising.
pub(super) fn find(
    topology: &Topology,
    trace: &Trace,
    (home, nodes): (RailId, &[NodeId]),
    members: &[Member<'_>],
) -> Vec<Chain> {
    let groups = members.chunk_by(|one, other| one.feed.thing == other.feed.thing);
    let chain = |group: &[Member<'_>]| {
        let foot = foot(trace, home, nodes, group)?;
        let poles = poles(topology, nodes, group, foot);
        (!poles.is_empty()).then_some(Chain { bottom: foot.node(), poles })
    };
    groups.filter_map(chain).collect()
}

/// Where a source stands in a circuit.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Foot {
    /// On the negative of the circuit.
    Home,
    /// On a node of it.
    On(usize),
    /// On something that no wiring of the circuit shows: it is taken with what it stands on, from the negative.
    Unseen,
}

impl Foot {
    const fn node(self) -> Option<usize> {
        if let Self::On(node) = self { Some(node) } else { None }
    }
}

/// Where the source of some poles stands; none for one that limits itself, or of which nothing is known.
fn foot(trace: &Trace, home: RailId, nodes: &[NodeId], group: &[Member<'_>]) -> Option<Foot> {
    let first = group.first()?;
    let foot = if trace.rail(first.feed.minus) == home {
        Foot::Home
    } else {
        nodes.binary_search(&first.feed.minus).map_or(Foot::Unseen, Foot::On)
    };
    is_driven(told(first, foot)).then_some(foot)
}

/// The figures that hold from the foot of a source.
fn told<'a>(member: &Member<'a>, foot: Foot) -> &'a Source {
    if foot == Foot::Unseen { member.source } else { member.own }
}

/// Whether nothing but resistance limits a source.
pub(super) const fn is_driven(source: &Source) -> bool {
    matches!(source.strength, Strength::Resistance | Strength::UsualResistance)
}

fn poles(topology: &Topology, nodes: &[NodeId], group: &[Member<'_>], foot: Foot) -> Vec<Pole> {
    let mut poles: Vec<Pole> = group
        .iter()
        .filter_map(|member| {
            let node = nodes.binary_search(&top_of_cells(topology, member.feed)).ok()?;
            let source = told(member, foot);
            Some(Pole { node, volts: source.full, ohms: source.resistance })
        })
        .collect();
    poles.sort_by(|one, other| one.volts.0.total_cmp(&other.volts.0).then(one.node.cmp(&other.node)));
    poles.dedup_by_key(|pole| pole.node);
    poles
}

/// Where the cells of a pole end: before the fuse that sits in the pack.
fn top_of_cells(topology: &Topology, feed: &Feed) -> NodeId {
    fuse_inside(topology, feed).map_or(feed.plus, |(_, fuse)| fuse.a)
}
