//! Batteries in a ring: the voltages round it must cancel.

use std::collections::{BTreeMap, BTreeSet};

use wattle_grammar::{kind::KindId, quantity::Volts};

use super::{Feed, RailId, Swap, rails};
use crate::{
    design::{Design, MateId, ThingId},
    topology::{Owner, Topology},
};

/// Packs in parallel may differ by this share of the largest by tolerance of what is written. Common practice.
const TOLERATED: f64 = 0.02;

/// A battery as an edge between rails.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pack {
    /// The battery.
    pub thing: ThingId,
    /// The rail of its negative pole.
    pub minus: RailId,
    /// The rail of its positive pole.
    pub plus: RailId,
    /// Its full-charge voltage.
    pub volts: Volts,
}

/// A ring of batteries whose voltages do not cancel.
#[derive(Clone, Debug, PartialEq)]
pub struct Ring {
    /// The battery that closes it.
    pub pack: Pack,
    /// The batteries it closes it with.
    pub partners: Vec<Pack>,
    /// The voltage that drives round it; positive in the closing battery's own direction.
    pub net: Volts,
    /// Whether it closes only through a connector whose halves disagree: then that is the mistake.
    pub through_swap: bool,
}

impl Ring {
    /// Whether the closing battery stands the wrong way round, rather than being of another voltage.
    #[must_use]
    pub fn is_reversed(&self) -> bool {
        self.net.abs() > self.pack.volts
    }
}

/// Every ring that does not cancel, named by the battery that closes it.
pub(super) fn find(design: &Design, rail_of: &[RailId], feeds: &[Feed]) -> Vec<Ring> {
    let packs = majority_first(packs(design, rail_of, feeds));
    let largest = packs.iter().map(|pack| pack.volts).fold(Volts(0.0), Volts::max);
    let mut potentials = Potentials::new(rail_of.len());
    let mut rings = Vec::new();
    for (index, pack) in packs.iter().enumerate() {
        if let Some(net) = potentials.tie(pack).filter(|net| net.0.abs() > TOLERATED * largest.0) {
            let partners = partners(pack, packs.get(..index).unwrap_or_default());
            rings.push(Ring { pack: *pack, partners, net, through_swap: false });
        }
    }
    rings
}

/// Marks the rings that are not there when the connectors whose halves disagree are parted.
pub(super) fn mark_through_swaps(
    rings: &mut [Ring],
    design: &Design,
    topology: &Topology,
    feeds: &[Feed],
    swaps: &[Swap],
) {
    if rings.is_empty() || swaps.is_empty() {
        return;
    }
    let swapped: BTreeSet<MateId> = swaps.iter().map(|swap| swap.mate).collect();
    let rail_of = rails::find_by(topology, |link| {
        let parted = matches!(link.owner, Owner::MatedWay(mate, _) if swapped.contains(&mate));
        rails::joins(&link.nature) && !parted
    });
    let left = find(design, &rail_of, feeds);
    for ring in rings {
        ring.through_swap = left.iter().all(|other| other.pack.thing != ring.pack.thing);
    }
}

/// Every battery that is not shorted.
fn packs(design: &Design, rail_of: &[RailId], feeds: &[Feed]) -> Vec<Pack> {
    let whole = feeds.iter().filter(|feed| {
        let is_battery = design.thing(feed.thing).id() == KindId::Battery;
        is_battery && design.terminal(feed.terminal).name == "pos" && !feed.shorted
    });
    whole
        .filter_map(|feed| {
            let rail = |node: crate::network::NodeId| rail_of.get(node.0 as usize).copied();
            Some(Pack {
                thing: feed.thing,
                minus: rail(feed.minus)?,
                plus: rail(feed.plus)?,
                volts: feed.volts,
            })
        })
        .collect()
}

/// The packs with those first that stand as most of their neighbours do, so that the odd one out is the one that is told.
fn majority_first(packs: Vec<Pack>) -> Vec<Pack> {
    let mut standing: BTreeMap<(RailId, RailId), usize> = BTreeMap::new();
    for pack in &packs {
        *standing.entry((pack.plus, pack.minus)).or_default() += 1;
    }
    let count = |plus, minus| standing.get(&(plus, minus)).copied().unwrap_or(0);
    let is_odd = |pack: &Pack| count(pack.minus, pack.plus) > count(pack.plus, pack.minus);
    let (odd, usual): (Vec<Pack>, Vec<Pack>) = packs.iter().partition(|pack| is_odd(pack));
    usual.into_iter().chain(odd).collect()
}

/// The packs before it that share both its rails, or all before it when the ring is a longer one.
fn partners(pack: &Pack, before: &[Pack]) -> Vec<Pack> {
    let rails = [pack.plus, pack.minus];
    let shares = |other: &&Pack| rails.contains(&other.plus) && rails.contains(&other.minus);
    let direct: Vec<Pack> = before.iter().filter(shares).take(1).copied().collect();
    if direct.is_empty() { before.to_vec() } else { direct }
}

/// Rails tied together by packs, each with its potential against the root's.
struct Potentials {
    parent: Vec<u32>,
    /// Potential against the parent, volt.
    above: Vec<f64>,
}

impl Potentials {
    fn new(count: usize) -> Self {
        let count = u32::try_from(count).unwrap_or(u32::MAX);
        Self { parent: (0..count).collect(), above: vec![0.0; count as usize] }
    }

    /// The root of a rail and the rail's potential against it.
    fn root(&self, rail: RailId) -> (u32, f64) {
        let (mut rail, mut volts) = (rail.0, 0.0);
        while let (Some(up), Some(step)) = (self.parent.get(rail as usize), self.above.get(rail as usize)) {
            if *up == rail {
                break;
            }
            volts += step;
            rail = *up;
        }
        (rail, volts)
    }

    /// Ties the pack's rails; when they are tied already, the voltage by which the ring does not cancel.
    fn tie(&mut self, pack: &Pack) -> Option<Volts> {
        let ((plus, at_plus), (minus, at_minus)) = (self.root(pack.plus), self.root(pack.minus));
        if plus == minus {
            return Some(Volts(pack.volts.0 - (at_plus - at_minus)));
        }
        if let (Some(parent), Some(above)) =
            (self.parent.get_mut(plus as usize), self.above.get_mut(plus as usize))
        {
            *parent = minus;
            *above = at_minus + pack.volts.0 - at_plus;
        }
        None
    }
}
