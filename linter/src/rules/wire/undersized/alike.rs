//! Wires of one size behind one device are one mistake: the device. They are told together.

use std::collections::BTreeMap;

use wattle_grammar::quantity::{Amps, SquareMm};

use crate::{
    design::WireId,
    finding::{Finding, Mend, Severity},
    inquiry::Inquiry,
    naming,
    topology::LinkId,
};

/// Places of further wires that are shown beside the first.
const SHOWN: usize = 4;

/// What makes two findings one: the device and what it lets pass, the size of the wire and what it bears, how bad it is.
/// Figures are kept as bits, since only equal ones count.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Likeness {
    device: LinkId,
    figures: [u64; 3],
    severity: Severity,
}

impl Likeness {
    pub(super) fn new(device: LinkId, rated: Amps, area: SquareMm, bears: Amps, severity: Severity) -> Self {
        Self { device, figures: [rated.0.to_bits(), area.0.to_bits(), bears.0.to_bits()], severity }
    }
}

/// Findings in wire order, those that are alike joined to the first of them.
#[derive(Default)]
pub(super) struct Collection {
    found: Vec<(Finding, Vec<WireId>)>,
    first: BTreeMap<Likeness, usize>,
}

impl Collection {
    /// Adds the finding on a wire; one without a likeness stands alone.
    pub(super) fn add(&mut self, likeness: Option<Likeness>, finding: Finding, wire: WireId) {
        let next = self.found.len();
        let at = likeness.map_or(next, |likeness| *self.first.entry(likeness).or_insert(next));
        let Some((first, others)) = self.found.get_mut(at) else {
            self.found.push((finding, Vec::new()));
            return;
        };
        others.push(wire);
        if others.len() <= SHOWN {
            first.related.push((finding.span, "the same is true here".to_owned()));
        }
        join(&mut first.help, finding.help);
    }

    /// Everything found, each with the wires that are like it.
    pub(super) fn report(self, inquiry: &mut Inquiry<'_>) {
        for (mut finding, others) in self.found {
            let names: Vec<String> = others.iter().map(|wire| naming::wire(inquiry.design, *wire)).collect();
            if !names.is_empty() {
                finding.because.push(format!("the same is true of {}", naming::listed(&names)));
            }
            inquiry.report(finding);
        }
    }
}

/// A mend for both is one that both know, with the edits of both.
fn join(help: &mut Vec<Mend>, other: Vec<Mend>) {
    help.retain(|mend| other.iter().any(|theirs| theirs.title == mend.title));
    for theirs in other {
        let Some(mend) = help.iter_mut().find(|mend| mend.title == theirs.title) else { continue };
        if theirs.edits.is_empty() {
            mend.edits.clear();
        } else if !mend.edits.is_empty() {
            let new: Vec<_> = theirs.edits.into_iter().filter(|edit| !mend.edits.contains(edit)).collect();
            mend.edits.extend(new);
        }
    }
}
