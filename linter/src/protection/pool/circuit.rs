//! What can be shorted to one negative rail: its pools, solved one after the other.

use std::collections::BTreeSet;

use wattle_grammar::quantity::Amps;

use super::{
    super::{
        chain::{self, Chain},
        highest::{Bound, Far, Highest, Reduced, Through},
        inverse::{Grid, Inverse},
        links_at,
        resistance::{Passage, Warmth, passage},
        source::Strength,
    },
    Member, Pools,
    solved::{Pool, nearest},
    split::Split,
    stand::{Behind, MOST_RINGS, meet, ways_to_stand},
};
use crate::{
    design::Design,
    network::NodeId,
    topology::{LinkId, Nature, Topology},
    trace::{RailId, Trace},
};

/// A link within a circuit, its ends as positions of nodes.
#[derive(Clone, Copy)]
pub(super) struct Joint {
    pub(super) link: LinkId,
    pub(super) a: usize,
    pub(super) b: usize,
    pub(super) passage: Passage,
}

/// What can be shorted to one negative rail.
pub(super) struct Circuit<'a> {
    pub(super) topology: &'a Topology,
    pub(super) home: RailId,
    pub(super) members: &'a [Member<'a>],
    /// In order.
    pub(super) nodes: Vec<NodeId>,
    pub(super) joints: Vec<Joint>,
    /// The sources of it that are not limited.
    pub(super) chains: Vec<Chain>,
}

impl Joint {
    /// The ends of one that conducts one way without a limit: from, to.
    pub(super) fn one_way(&self) -> Option<(usize, usize)> {
        match self.passage {
            Passage::Forward(_) => Some((self.a, self.b)),
            Passage::Backward(_) => Some((self.b, self.a)),
            _ => None,
        }
    }
}

/// What a pool is made of.
struct Inside<'a> {
    /// Positions in [`Circuit::members`].
    members: &'a [usize],
    /// Those with an end in it.
    joints: &'a [Joint],
    chains: &'a [&'a Chain],
}

impl<'a> Circuit<'a> {
    pub(super) fn new(
        design: &Design,
        topology: &'a Topology,
        trace: &Trace,
        home: RailId,
        members: &'a [Member<'a>],
    ) -> Self {
        let reached = members.iter().flat_map(|member| member.feed.nodes());
        let mut nodes: Vec<NodeId> = reached.filter(|node| trace.rail(*node) != home).collect();
        nodes.sort_unstable();
        nodes.dedup();
        let mut joints = Vec::new();
        for (a, node) in nodes.iter().enumerate() {
            for id in topology.links_at.get(node.0 as usize).into_iter().flatten() {
                let Some(link) = topology.link(*id).filter(|link| link.a == *node) else { continue };
                let Ok(b) = nodes.binary_search(&link.b) else { continue };
                let passage = passage(design, topology, link, Warmth::Cold);
                if a != b && passage != Passage::Blocked {
                    joints.push(Joint { link: *id, a, b, passage });
                }
            }
        }
        let chains = chain::find(topology, trace, (home, &nodes), members);
        Self { topology, home, members, nodes, joints, chains }
    }

    pub(super) fn solve(&self, into: &mut Pools) {
        let (split, sequence) = self.split();
        let mut pools: Vec<Option<Pool>> = split.sizes.iter().map(|_| None).collect();
        let mut of_pool: Vec<Vec<Joint>> = vec![Vec::new(); split.sizes.len()];
        for joint in &self.joints {
            let (one, other) = (split.pool_of[joint.a], split.pool_of[joint.b]);
            of_pool[one].push(*joint);
            if other != one {
                of_pool[other].push(*joint);
            }
        }
        let mut members: Vec<Vec<usize>> = vec![Vec::new(); split.sizes.len()];
        for (at, member) in self.members.iter().enumerate() {
            if let Ok(node) = self.nodes.binary_search(&member.feed.plus) {
                members[split.pool_of[node]].push(at);
            }
        }
        let mut chains: Vec<Vec<&Chain>> = vec![Vec::new(); split.sizes.len()];
        for chain in &self.chains {
            let pool = chain.nodes().next().and_then(|node| split.pool_of.get(node).copied());
            if let Some(chains) = pool.and_then(|pool| chains.get_mut(pool)) {
                chains.push(chain);
            }
        }
        for pool in sequence {
            let inside = Inside { members: &members[pool], joints: &of_pool[pool], chains: &chains[pool] };
            let solved = self.pool(&split, pool, &inside, &pools);
            pools[pool] = Some(solved);
        }
        self.tell(&split, &pools, into);
    }

    fn pool(&self, split: &Split, pool: usize, inside: &Inside<'_>, solved: &[Option<Pool>]) -> Pool {
        let mut grid = Grid::new(split.sizes[pool]);
        for stretch in inside.chains.iter().flat_map(|chain| chain.stretches()) {
            let upper = split.place[stretch.upper];
            match stretch.lower {
                Some(lower) => grid.between(split.place[lower], upper, stretch.emf.0, stretch.ohms.0),
                None => grid.source(upper, stretch.emf.0, stretch.ohms.0),
            }
        }
        let mut through_cells = inside.chains.iter().any(|chain| chain.leads_through());
        let (mut rings, mut behind) = (Vec::new(), Vec::new());
        let (mut before, mut bound) = (Vec::new(), None);
        let is_special = |at: &usize| {
            self.members.get(*at).is_some_and(|member| member.source.strength != Strength::Resistance)
        };
        let mut special: BTreeSet<usize> = inside.members.iter().copied().filter(is_special).collect();
        let mut limits = 0.0;
        let mut leads = Vec::new();
        for joint in inside.joints {
            let (from_a, from_b) = (split.pool_of[joint.a] == pool, split.pool_of[joint.b] == pool);
            match joint.passage {
                Passage::Both(ohms) => grid.join(split.place[joint.a], split.place[joint.b], ohms.0),
                Passage::Forward(ohms) | Passage::Backward(ohms) => {
                    let (from, to) = joint.one_way().unwrap_or((joint.a, joint.b));
                    if from_a && from_b {
                        rings.push((split.place[from], split.place[to], ohms.0));
                    } else if split.pool_of[to] == pool
                        && let Some(other) = solved.get(split.pool_of[from]).and_then(Option::as_ref)
                    {
                        behind.push(Behind {
                            node: split.place[to],
                            faces: other.faces(split.place[from], ohms),
                        });
                        special.extend(other.special.iter().copied());
                        limits += other.limits;
                        through_cells |= other.through_cells;
                        before.push(split.pool_of[from]);
                        bound = bound.or(other.bound);
                    }
                }
                Passage::Limited(amps) => {
                    let lets_in = (from_b && self.is_fed(joint.a, joint.link))
                        || (from_a && self.is_fed(joint.b, joint.link));
                    limits += if lets_in { amps.0.max(0.0) } else { 0.0 };
                }
                Passage::LimitedBackward(amps) if from_a => leads.push((joint, amps)),
                Passage::LimitedBackward(_) => {}
                Passage::Blocked => {}
            }
        }
        limits += self.through_channels(&leads);
        if !rings.is_empty() {
            bound = Some(if rings.len() > MOST_RINGS { Bound::Rings } else { Bound::Ring });
        } else if bound.is_none() && meet(&before, solved) {
            bound = Some(Bound::Diodes);
        }
        let stands = ways_to_stand(grid, &rings, behind);
        if stands.iter().any(Inverse::is_bound) {
            bound = Some(Bound::Meshed);
        }
        Pool { stands, special, limits, through_cells, before, bound }
    }

    /// What drivers give through their leads, each channel its limit once, whichever of its leads are in the pool.
    fn through_channels(&self, leads: &[(&Joint, Amps)]) -> f64 {
        let mut seen = BTreeSet::new();
        let is_second = |node: NodeId, seen: &BTreeSet<NodeId>| {
            let mut channels = links_at(self.topology, node).map(|(_, link)| link);
            channels.any(|link| link.nature == Nature::BridgeOutput && seen.contains(&link.other(node)))
        };
        let mut sum = 0.0;
        for (joint, amps) in leads {
            let node = self.nodes[joint.a];
            if !is_second(node, &seen) {
                sum += amps.0.max(0.0);
            }
            seen.insert(node);
        }
        sum
    }

    /// Whether a source reaches a node by another way than a link.
    fn is_fed(&self, node: usize, link: LinkId) -> bool {
        let Some(node) = self.nodes.get(node) else { return false };
        let reaches = |member: &Member<'_>| member.feed.at(*node).is_some_and(|at| at.via != Some(link));
        self.members.iter().any(reaches)
    }

    /// Writes down what was found.
    fn tell(&self, split: &Split, pools: &[Option<Pool>], into: &mut Pools) {
        for (at, node) in self.nodes.iter().enumerate() {
            let Some(pool) = pools.get(split.pool_of[at]).and_then(Option::as_ref) else { continue };
            let (linear, reduced) = pool.short(*node, split.place[at]);
            let highest = self.highest(pool, linear, reduced, None);
            if let Some(held) = into.at.get_mut(node.0 as usize) {
                held.keep(&highest);
            }
        }
        for joint in &self.joints {
            let nature = self.topology.link(joint.link).map(|link| link.nature);
            if !matches!(nature, Some(Nature::Wire | Nature::Protective { .. })) {
                continue;
            }
            let found = self.through(split, pools, joint);
            let Some(held) = into.through.of(joint.link) else { continue };
            for (held, found) in held.iter_mut().zip(found) {
                held.near.keep(&found.near);
                held.far = held.far.max(found.far);
            }
        }
    }

    fn through(&self, split: &Split, pools: &[Option<Pool>], joint: &Joint) -> [Through; 2] {
        [(joint.a, joint.b), (joint.b, joint.a)].map(|(from, to)| {
            let Some(pool) = pools.get(split.pool_of[from]).and_then(Option::as_ref) else {
                return Through::default();
            };
            let node = self.nodes[from];
            match joint.passage {
                Passage::Both(ohms) => {
                    let (here, there) = (split.place[from], split.place[to]);
                    let (linear, reduced) = pool.past((node, here), there, ohms);
                    let near = self.highest(pool, linear, reduced, Some(joint.link));
                    let far = pool.at_far_end((node, here), there, ohms, &near.reduced);
                    nearest(near, far, pool.through_cells)
                }
                Passage::Limited(amps) if self.is_fed(from, joint.link) => {
                    let home = Some(self.home);
                    let reduced = Reduced { node: Some(node), home, limits: amps, ..Reduced::default() };
                    let near = Highest { amps, reduced, ..Highest::default() };
                    Through { near, far: Far { amps, reduced } }
                }
                _ => Through::default(),
            }
        })
    }

    /// Whether a source that is not limited itself stands on a node of the circuit, with what limits it below.
    fn is_on_another(&self, member: &Member<'_>) -> bool {
        chain::is_driven(member.own) && self.nodes.binary_search(&member.feed.minus).is_ok()
    }

    /// Adds to what an inversion gives what limits itself.
    fn highest(&self, pool: &Pool, linear: f64, reduced: Reduced, past: Option<LinkId>) -> Highest {
        let linear = linear.max(0.0);
        // What stands beside a pack comes through its cells wherever they give something.
        let through_cells = pool.through_cells && linear > 0.0;
        let mut highest = Highest {
            amps: Amps(linear + pool.limits),
            bound: pool.bound,
            reduced: Reduced { limits: Amps(pool.limits), home: Some(self.home), ..reduced },
            ..Highest::default()
        };
        for member in pool.special.iter().filter_map(|at| self.members.get(*at)) {
            let at = reduced.node.and_then(|node| member.feed.at(node));
            let reaches = at.map_or(through_cells, |at| past.is_none() || at.via != past);
            match member.source.strength {
                _ if !reaches => {}
                // What it stands on is a member itself and comes through it.
                Strength::Limit(_) if through_cells && self.is_on_another(member) => {}
                Strength::Limit(limit) => {
                    highest.amps = highest.amps + limit;
                    highest.reduced.limits = highest.reduced.limits + limit;
                }
                Strength::UsualResistance => highest.usual = highest.usual.or(Some(member.source.about)),
                Strength::Unknown => highest.unknown = highest.unknown.or(Some(member.source.about)),
                Strength::Resistance => {}
            }
        }
        highest
    }
}
