//! Values that cannot be meant as they stand: a slipped prefix, one unit for another, a gauge for an area.

pub mod charge_as_current;
pub mod contradictory;
pub mod gauge_as_area;
pub mod length_as_size;
pub mod size_as_length;
pub mod unlike_part;
pub mod unlike_pull;
pub mod unusual;

use std::collections::BTreeSet;

use wattle_grammar::span::Span;

use crate::{
    design::Wire,
    finding::Finding,
    inquiry::Inquiry,
    slips::{self, Entry},
};

/// What the rules find that know of one slip in particular. They are asked before the value is only called unusual, so
/// that one slip is told once.
const PARTICULAR: [fn(&Inquiry<'_>) -> Vec<Finding>; 6] = [
    charge_as_current::find,
    gauge_as_area::find,
    length_as_size::find,
    size_as_length::find,
    unlike_part::find,
    unlike_pull::find,
];

/// The places of the values that those rules tell of.
fn told(inquiry: &Inquiry<'_>) -> BTreeSet<Span> {
    PARTICULAR.iter().flat_map(|find| find(inquiry)).map(|finding| finding.span).collect()
}

/// What `finding` says of the values under `key` of the wires that are suspected; each value once.
fn on_wires(
    inquiry: &Inquiry<'_>,
    suspected: impl Fn(&Wire) -> bool,
    key: &str,
    finding: impl Fn(&Entry<'_>) -> Option<Finding>,
) -> Vec<Finding> {
    let wires = inquiry.design.wires.iter().filter(|wire| suspected(wire));
    let names: BTreeSet<&str> = wires.map(|wire| wire.name.as_str()).collect();
    if names.is_empty() {
        return Vec::new();
    }
    let entries = slips::entries(inquiry, |row| row.key == key);
    entries.iter().filter(|entry| names.contains(entry.subject)).filter_map(finding).collect()
}

fn report(inquiry: &mut Inquiry<'_>, findings: Vec<Finding>) {
    findings.into_iter().for_each(|finding| inquiry.report(finding));
}
