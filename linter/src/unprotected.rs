//! Where a device is missing or stands too far out, once for all rules: each place with every feed that shows it.

use std::collections::{BTreeMap, BTreeSet};

use wattle_grammar::quantity::Ohms;

use crate::{
    design::{Design, WireId},
    profile::{Ampacity, Profile},
    topology::Topology,
    trace::{Allowance, Branch, End, Feed, Trace},
};

/// One missing or distant device.
#[derive(Clone, Debug)]
pub struct Unprotected {
    /// The branch, as the first of its feeds sees it.
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

/// Every missing or distant device that matters: those whose feed can push more through some wire than the wire bears.
#[must_use]
pub fn find(
    design: &Design,
    topology: &Topology,
    trace: &Trace,
    profile: &Profile,
    ampacities: &[Option<Ampacity>],
) -> Vec<Unprotected> {
    let allowance = Allowance { bare: profile.bare_distance, sheathed: profile.sheathed_distance };
    let mut cases: BTreeMap<(WireId, bool), Unprotected> = BTreeMap::new();
    for (index, feed) in trace.feeds.iter().enumerate().filter(|(_, feed)| !feed.shorted) {
        for branch in feed.unprotected(design, topology, allowance) {
            if !can_overheat(ampacities, feed, &branch) {
                continue;
            }
            let key = (branch.first, matches!(branch.end, End::TooFar { .. }));
            cases.entry(key).or_insert_with(|| Unprotected { branch, feeds: Vec::new() }).feeds.push(index);
        }
    }
    cases.into_values().collect()
}

/// The wires that some feed reaches with no device at all.
#[must_use]
pub fn bare_wires(cases: &[Unprotected]) -> BTreeSet<WireId> {
    cases
        .iter()
        .filter(|case| !case.is_too_far())
        .flat_map(|case| case.branch.wires.iter().copied())
        .collect()
}

fn can_overheat(ampacities: &[Option<Ampacity>], feed: &Feed, branch: &Branch) -> bool {
    let fault = feed.prospective(Ohms(0.0));
    branch.wires.iter().any(|wire| {
        let limit = ampacities.get(wire.index()).and_then(Option::as_ref);
        limit.is_none_or(|limit| fault > limit.amps)
    })
}
