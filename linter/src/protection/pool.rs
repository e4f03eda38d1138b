//! The highest prospective current at every node and through every wire and device.
//!
//! For every negative rail: the nodes that its sources reach, joined by what conducts either way, are a **pool**. Every
//! source stands between that negative and its pole, full and at 20 °C, every contact is closed, loads draw nothing:
//! each of these only adds to a short. Cells stand between their taps, and packs in series on each other (see
//! [`super::chain`]). Within a pool the currents are exact (Kirchhoff's laws, one inversion for all nodes), so packs behind
//! a common cable are not added. Through a diode one pool feeds the next as a source with the voltage and resistance at the
//! diode, as long as that is above the voltage behind it: a diode lets nothing back, however far a weaker pack lies below a
//! stronger one. What limits itself adds its limit to every short it can reach.

mod circuit;
mod solved;
mod split;
mod stand;

use std::collections::BTreeMap;

use self::circuit::Circuit;
use super::{
    highest::{Highest, Through},
    source::{Levels, Source, is_idle},
};
use crate::{
    design::Design,
    topology::{LinkId, Topology},
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
