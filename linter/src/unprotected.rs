//! Where a device is missing or stands too far out, once for all rules: each place with every feed that shows it.

use std::collections::{BTreeMap, BTreeSet};

use wattle_grammar::{
    kind::KindId,
    quantity::{Amps, Ohms},
};

use crate::{
    design::{Design, ThingId, WireId},
    profile::{Ampacity, Profile},
    topology::Topology,
    trace::{Allowance, Branch, End, Feed, Trace},
};

/// One missing or distant device.
#[derive(Clone, Debug)]
pub struct Unprotected {
    /// The branch, with the wires that any of its feeds sees in it.
    pub branch: Branch,
    /// Indices of the feeds in [`Trace::feeds`].
    pub feeds: Vec<usize>,
}

impl Unprotected {
    /// Whether there is a device, only too far out.
    #[must_use]
    pub fn is_too_far(&self) -> bool {
        matches!(self.branch.end, End::TooFar { .. })
    }
}

/// What the search for missing devices comes to.
#[derive(Clone, Debug, Default)]
pub struct Search {
    /// Every missing or distant device that matters.
    pub cases: Vec<Unprotected>,
    /// Wires before a first device whose length is not stated.
    pub unmeasured: BTreeSet<WireId>,
    /// Sources without a device of which nothing tells how much they give.
    pub unknown: BTreeSet<ThingId>,
}

/// Every missing or distant device that matters: those whose feeds can push more through some wire than the wire bears.
#[must_use]
pub fn find(
    design: &Design,
    topology: &Topology,
    trace: &Trace,
    profile: &Profile,
    ampacities: &[Option<Ampacity>],
) -> Search {
    let allowance = Allowance { bare: profile.bare_distance, sheathed: profile.sheathed_distance };
    let mut search = Search::default();
    let mut cases: BTreeMap<(WireId, bool), Unprotected> = BTreeMap::new();
    for (index, feed) in trace.feeds.iter().enumerate().filter(|(_, feed)| !feed.shorted) {
        let branches = feed.unprotected(design, topology, allowance);
        if is_unknown(design, feed) {
            search.unknown.extend((!branches.is_empty()).then_some(feed.thing));
            continue;
        }
        let unmeasured = feed.unmeasured(design, topology);
        search.unmeasured.extend(
            unmeasured.into_iter().filter(|wire| overheats(ampacities, feed.prospective(Ohms(0.0)), *wire)),
        );
        for branch in branches {
            let key = (branch.first, matches!(branch.end, End::TooFar { .. }));
            cases
                .entry(key)
                .and_modify(|case| join(case, &branch))
                .or_insert_with(|| new(branch))
                .feeds
                .push(index);
        }
    }
    search.cases = cases.into_values().filter(|case| can_overheat(ampacities, trace, case)).collect();
    search
}

fn new(branch: Branch) -> Unprotected {
    Unprotected { branch, feeds: Vec::new() }
}

/// Adds the wires that another feed sees behind the same first wire.
fn join(case: &mut Unprotected, branch: &Branch) {
    case.branch.wires.extend(branch.wires.iter().copied());
    case.branch.wires.sort_unstable();
    case.branch.wires.dedup();
}

/// Whether nothing tells how much a source gives. A battery always gives enough to burn a wire; a regulator of which
/// neither a current nor a limit is stated may be a small one.
fn is_unknown(design: &Design, feed: &Feed) -> bool {
    let is_battery = design.thing(feed.thing).id() == KindId::Battery;
    !is_battery && feed.limit.is_none() && feed.resistance.0 <= 0.0
}

/// The wires that some feed reaches with no device at all.
#[must_use]
pub fn bare_wires(cases: &[Unprotected]) -> BTreeSet<WireId> {
    wires_of(cases.iter().filter(|case| !case.is_too_far()))
}

/// The wires on the way to a device that stands too far out.
#[must_use]
pub fn distant_wires(cases: &[Unprotected]) -> BTreeSet<WireId> {
    wires_of(cases.iter().filter(|case| case.is_too_far()))
}

fn wires_of<'a>(cases: impl Iterator<Item = &'a Unprotected>) -> BTreeSet<WireId> {
    cases.flat_map(|case| case.branch.wires.iter().copied()).collect()
}

/// What all feeds of a case push into a dead short together.
#[must_use]
pub fn fault(trace: &Trace, case: &Unprotected) -> Amps {
    let feeds = case.feeds.iter().filter_map(|index| trace.feeds.get(*index));
    feeds.map(|feed| feed.prospective(Ohms(0.0))).sum()
}

fn can_overheat(ampacities: &[Option<Ampacity>], trace: &Trace, case: &Unprotected) -> bool {
    let fault = fault(trace, case);
    case.branch.wires.iter().any(|wire| overheats(ampacities, fault, *wire))
}

/// Whether a wire bears less than the fault current; one whose limit is not known counts as weak.
fn overheats(ampacities: &[Option<Ampacity>], fault: Amps, wire: WireId) -> bool {
    let limit = ampacities.get(wire.index()).and_then(Option::as_ref);
    limit.is_none_or(|limit| fault > limit.amps)
}
