//! The highest prospective current at every node and through every wire and device.
//!
//! For every negative rail: the nodes that its sources reach, joined by what conducts either way, are a **pool**. Every
//! source stands between that negative and its pole, full and at 20 °C, every contact is closed, loads draw nothing:
//! each of these only adds to a short. Cells stand between their taps, and packs in series on each other (see [`chain`]).
//! Within a pool the currents are exact (Kirchhoff's laws, one inversion for all nodes), so packs behind a common cable
//! are not added. Through a diode one pool feeds the next as a source with the
//! voltage and resistance at the diode, as long as that is above the voltage behind it: a diode lets nothing back, however
//! far a weaker pack lies below a stronger one. What limits itself adds its limit to every short it can reach.

use std::collections::{BTreeMap, BTreeSet};

use wattle_grammar::quantity::{Amps, Ohms, Volts};

use super::{
    chain::{self, Chain},
    highest::{Bound, Far, Highest, Reduced, Through},
    inverse::{Grid, Inverse},
    links_at,
    resistance::{Passage, Warmth, passage},
    source::{Levels, Source, Strength, is_idle},
};
use crate::{
    design::Design,
    network::NodeId,
    order::order,
    topology::{LinkId, Nature, Topology, sets::Sets},
    trace::{Feed, RailId, Trace},
};

/// All of it.
#[derive(Clone, Debug, Default)]
pub(super) struct Pools {
    /// By node.
    pub(super) at: Vec<Highest>,
    through: Throughs,
}

/// Of wires and protective devices what passes them, in from `a` and in from `b`.
#[derive(Clone, Debug, Default)]
struct Throughs {
    /// By [`LinkId`] the position in `held`, from 1 on; 0 for none.
    at: Vec<u32>,
    held: Vec<[Through; 2]>,
}

impl Throughs {
    fn of(&mut self, link: LinkId) -> Option<&mut [Through; 2]> {
        let at = self.at.get_mut(link.0 as usize)?;
        if *at == 0 {
            self.held.push(<[Through; 2]>::default());
            *at = self.held.len() as u32;
        }
        self.held.get_mut(*at as usize - 1)
    }
}

impl Pools {
    /// What passes a wire or a protective device, in from `a` and in from `b`; none where nothing reaches.
    pub(super) fn through(&self, link: LinkId) -> Option<&[Through; 2]> {
        let at = self.through.at.get(link.0 as usize)?;
        self.through.held.get(at.checked_sub(1)? as usize)
    }
}

/// Searches all pools.
pub(super) fn find(design: &Design, topology: &Topology, trace: &Trace, levels: &[Levels]) -> Pools {
    let through = Throughs { at: vec![0; topology.links.len()], held: Vec::new() };
    let mut pools = Pools { at: vec![Highest::default(); topology.nodes as usize], through };
    let mut homes: BTreeMap<RailId, Vec<Member<'_>>> = BTreeMap::new();
    for (index, feed) in trace.feeds.iter().enumerate().filter(|(_, feed)| !is_idle(feed)) {
        let Some((levels, own)) = levels.get(index).and_then(|levels| Some((levels, levels.own()?))) else {
            continue;
        };
        for source in levels.all() {
            homes.entry(source.home).or_default().push(Member { feed, source, own });
        }
    }
    for (home, members) in &homes {
        Circuit::new(design, topology, trace, *home, members).solve(&mut pools);
    }
    pools
}

/// A source that stands on a negative rail.
#[derive(Clone, Copy)]
pub(super) struct Member<'a> {
    pub(super) feed: &'a Feed,
    /// Against that rail.
    pub(super) source: &'a Source,
    /// Against its own negative.
    pub(super) own: &'a Source,
}

/// A link within a circuit, its ends as positions of nodes.
#[derive(Clone, Copy)]
struct Joint {
    link: LinkId,
    a: usize,
    b: usize,
    passage: Passage,
}

/// What can be shorted to one negative rail.
struct Circuit<'a> {
    topology: &'a Topology,
    home: RailId,
    members: &'a [Member<'a>],
    /// In order.
    nodes: Vec<NodeId>,
    joints: Vec<Joint>,
    /// The sources of it that are not limited.
    chains: Vec<Chain>,
}

/// So many diodes into one pool are taken away one by one; of more there are all or these.
const MOST_DIODES: usize = 8;

/// Of so many diodes within one pool every choice is looked at.
const MOST_RINGS: usize = 3;

/// Of one pool so many ways to stand are looked at from the next.
const MOST_FACES: usize = 8;

/// What a pool is made of.
struct Inside<'a> {
    /// Positions in [`Circuit::members`].
    members: &'a [usize],
    /// Those with an end in it.
    joints: &'a [Joint],
    chains: &'a [&'a Chain],
}

/// One pool, solved.
struct Pool {
    /// Once for each way in which the diodes may stand, see [`ways_to_stand`].
    stands: Vec<Inverse>,
    /// Positions in [`Circuit::members`] of sources that are not in the inversion, or of usual resistance.
    special: BTreeSet<usize>,
    /// Limits of links that let something in.
    limits: f64,
    /// Whether currents get through cells in it, or in what feeds it: from one tap to another, into a pack from above.
    through_cells: bool,
    /// The pools that feed it through diodes.
    before: Vec<usize>,
    /// Why its currents are not exact.
    bound: Option<Bound>,
}

/// Where each node is: its pool, and its place in it.
struct Split {
    pool_of: Vec<usize>,
    place: Vec<u32>,
    sizes: Vec<usize>,
}

impl<'a> Circuit<'a> {
    fn new(
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

    fn solve(&self, into: &mut Pools) {
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

    /// The pools, and an order in which each comes after those that feed it. Pools that feed each other in a circle are
    /// made one, as if their diodes conducted either way.
    fn split(&self) -> (Split, Vec<usize>) {
        let mut sets = Sets::new(self.nodes.len());
        for joint in self.joints.iter().filter(|joint| matches!(joint.passage, Passage::Both(_))) {
            sets.join(joint.a as u32, joint.b as u32);
        }
        for chain in &self.chains {
            for (one, other) in chain.nodes().zip(chain.nodes().skip(1)) {
                sets.join(one as u32, other as u32);
            }
        }
        loop {
            let split = Split::new(&mut sets, self.nodes.len());
            let mut before: Vec<Vec<usize>> = vec![Vec::new(); split.sizes.len()];
            for (from, to) in self.joints.iter().filter_map(Joint::one_way) {
                let (from, to) = (split.pool_of[from], split.pool_of[to]);
                if from != to {
                    before[to].push(from);
                }
            }
            for before in &mut before {
                before.sort_unstable();
                before.dedup();
            }
            let order = order(&before);
            if order.cycles.is_empty() {
                return (split, order.sequence);
            }
            let mut first: Vec<Option<u32>> = vec![None; split.sizes.len()];
            for (node, pool) in (0u32..).zip(&split.pool_of) {
                first[*pool].get_or_insert(node);
            }
            for cycle in order.cycles {
                let nodes: Vec<u32> = cycle.iter().filter_map(|pool| first[*pool]).collect();
                nodes.windows(2).for_each(|pair| sets.join(pair[0], pair[1]));
            }
        }
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

/// What passes a link: a short at its near end draws the most, but where it also draws through the link from the other
/// side: through cells that something lower hangs on.
fn nearest(near: Highest, far: Far, through_cells: bool) -> Through {
    if far.amps <= near.amps {
        return Through { near, far };
    }
    if through_cells {
        return Through { near: Highest { amps: far.amps, reduced: far.reduced, ..near }, far };
    }
    Through { near, far: Far { amps: near.amps, reduced: near.reduced } }
}

/// So near to each other two figures of one network are the same but for rounding.
const SAME: f64 = 1e-9;

/// What feeds a pool through a diode.
struct Behind {
    node: u32,
    /// Voltage without load and resistance, once for each way in which the diodes before it may stand.
    faces: Vec<(f64, f64)>,
}

impl Behind {
    fn highest(&self) -> f64 {
        self.faces.iter().map(|face| face.0).fold(0.0, f64::max)
    }
}

/// A pool for each way in which its diodes may stand. Of sources behind diodes those conduct that lie highest, down to
/// some voltage; diodes within the pool conduct or do not. A source that should not conduct only takes something away, so
/// that of these ways the one which gives most is the one that holds. A diode within the pool may lead a current back
/// past a link, so that what passes this link may come out too high, never too low.
fn ways_to_stand(grid: Grid, rings: &[(u32, u32, f64)], mut behind: Vec<Behind>) -> Vec<Inverse> {
    if rings.is_empty() && behind.is_empty() {
        return vec![grid.invert()];
    }
    behind.retain(|one| !one.faces.is_empty());
    behind.sort_by(|one, other| other.highest().total_cmp(&one.highest()));
    let mut stands = Vec::new();
    for count in (0..=behind.len()).filter(|count| *count <= MOST_DIODES || *count == behind.len()) {
        let before = behind.iter().take(count);
        let faces = before.clone().map(|one| one.faces.len()).max().unwrap_or(1).min(MOST_FACES);
        for face in 0..faces {
            let mut open = grid.clone();
            for one in before.clone() {
                if let Some((volts, ohms)) = one.faces.get(face).or(one.faces.last()) {
                    open.source(one.node, *volts, *ohms);
                }
            }
            for closed in choices(rings.len()) {
                let mut grid = open.clone();
                let shut = rings.iter().enumerate().filter(|(at, _)| closed & (1 << at.min(&63)) != 0);
                shut.for_each(|(_, (from, to, ohms))| grid.join(*from, *to, *ohms));
                stands.push(grid.invert());
            }
        }
    }
    stands
}

/// Whether what comes through several diodes comes, some way before, from one pool.
fn meet(before: &[usize], solved: &[Option<Pool>]) -> bool {
    let mut met: BTreeSet<usize> = BTreeSet::new();
    for first in before {
        let mut own = BTreeSet::new();
        let mut stack = vec![*first];
        while let Some(pool) = stack.pop() {
            if !own.insert(pool) {
                continue;
            }
            if met.contains(&pool) {
                return true;
            }
            stack.extend(solved.get(pool).and_then(Option::as_ref).into_iter().flat_map(|pool| &pool.before));
        }
        met.extend(own);
    }
    false
}

/// Which of so many diodes within a pool conduct, as bits: every choice of a few, of more none and all.
fn choices(diodes: usize) -> Vec<u64> {
    if diodes <= MOST_RINGS { (0..1 << diodes).collect() } else { vec![0, u64::MAX] }
}

impl Pool {
    /// What the way to stand gives that gives most, and which that is.
    fn most<T: Default>(&self, of: impl Fn(&Inverse) -> (f64, T)) -> (f64, T) {
        let all = self.stands.iter().map(of);
        all.reduce(|held, next| if next.0 > held.0 { next } else { held }).unwrap_or_default()
    }

    /// What a short at a node draws.
    fn short(&self, node: NodeId, place: u32) -> (f64, Reduced) {
        self.most(|stand| (stand.short(place), seen_from(stand, node, place)))
    }

    /// The same without what comes through a resistance from another node.
    fn past(&self, (node, here): (NodeId, u32), there: u32, ohms: Ohms) -> (f64, Reduced) {
        let (linear, reduced) = self.most(|stand| {
            let back = if stand.is_bound() { 0.0 } else { stand.through(there, here, ohms.0) };
            let reduced = Reduced { around: Amps(back), ..seen_from(stand, node, here) };
            let whole = stand.short(here);
            (but_for_rounding(whole - back, whole), reduced)
        });
        (linear.max(0.0), reduced)
    }

    /// What passes a resistance from a node to a short at its far end; what is added and the negative are those of a short at
    /// the node.
    fn at_far_end(&self, (node, here): (NodeId, u32), there: u32, own: Ohms, near: &Reduced) -> Far {
        let (linear, reduced) = self.most(|stand| far(stand, (node, here), there, own));
        let (limits, home) = (near.limits, near.home);
        Far { amps: Amps(linear.max(0.0)) + limits, reduced: Reduced { limits, home, ..reduced } }
    }

    /// How the pool looks from behind a diode at a node, in each way in which its own may stand; where no source reaches,
    /// not at all.
    fn faces(&self, node: u32, diode: Ohms) -> Vec<(f64, f64)> {
        let reached = self.stands.iter().filter(|stand| stand.own(node).is_finite());
        reached.map(|stand| (stand.volts(node), stand.own(node) + diode.0)).collect()
    }
}

/// A current that is a difference: next to nothing beside the whole is rounding, below 0 it flows the other way.
fn but_for_rounding(amps: f64, whole: f64) -> f64 {
    if amps <= SAME * whole { 0.0 } else { amps }
}

/// What stands behind a node, at its place in the inversion.
fn seen_from(inverse: &Inverse, node: NodeId, place: u32) -> Reduced {
    let ohms = inverse.own(place);
    let (volts, ohms) = if ohms.is_finite() { (inverse.volts(place), ohms) } else { (0.0, 0.0) };
    Reduced { node: Some(node), volts: Volts(volts), ohms: Ohms(ohms), ..Reduced::default() }
}

/// What passes a resistance from a node to a short at its far end, ampere. Where nothing else joins the two ends it is the
/// network behind the near one with the resistance before the short, else the voltage over it that was solved.
fn far(inverse: &Inverse, (node, here): (NodeId, u32), there: u32, own: Ohms) -> (f64, Reduced) {
    let linear = but_for_rounding(inverse.through(here, there, own.0), inverse.short(there));
    let (behind, end) = (seen_from(inverse, node, here), seen_from(inverse, node, there));
    let same = |one: f64, other: f64| (one - other).abs() <= SAME * one.abs().max(other.abs());
    let reduced = if inverse.is_bound() {
        end
    } else if same(behind.ohms.0 + own.0, end.ohms.0) && same(behind.volts.0, end.volts.0) {
        Reduced { own, ..behind }
    } else {
        Reduced { volts: Volts(linear * own.0), ohms: Ohms(0.0), own, ..behind }
    };
    (linear, reduced)
}

impl Joint {
    /// The ends of one that conducts one way without a limit: from, to.
    fn one_way(&self) -> Option<(usize, usize)> {
        match self.passage {
            Passage::Forward(_) => Some((self.a, self.b)),
            Passage::Backward(_) => Some((self.b, self.a)),
            _ => None,
        }
    }
}

impl Split {
    fn new(sets: &mut Sets, nodes: usize) -> Self {
        let mut number: Vec<Option<usize>> = vec![None; nodes];
        let (mut pool_of, mut place, mut sizes) = (Vec::new(), Vec::new(), Vec::new());
        for node in 0..nodes as u32 {
            let pool = *number[sets.root(node) as usize].get_or_insert(sizes.len());
            if pool == sizes.len() {
                sizes.push(0);
            }
            pool_of.push(pool);
            place.push(sizes[pool] as u32);
            sizes[pool] += 1;
        }
        Self { pool_of, place, sizes }
    }
}
