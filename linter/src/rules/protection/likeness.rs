//! Devices with one mistake in common, told as one finding.

use wattle_grammar::span::Span;

use crate::{inquiry::Inquiry, naming, protection::DeviceProtection};

/// So many are named.
const NAMED: usize = 6;

/// A sentence on the others, when there are any.
pub(super) fn others(
    inquiry: &Inquiry<'_>,
    devices: &[&DeviceProtection],
    told: &DeviceProtection,
) -> Vec<String> {
    let others = devices.iter().filter(|device| device.device.link != told.device.link);
    let names: Vec<String> =
        others.map(|device| naming::thing(inquiry.design, device.device.thing)).collect();
    if names.is_empty() {
        return Vec::new();
    }
    let more = names.len().saturating_sub(NAMED);
    let more = if more > 0 { format!(" and {more} more") } else { String::new() };
    let named = names.get(..NAMED.min(names.len())).unwrap_or_default();
    vec![format!("the same is true of {}{more}", naming::listed(named))]
}

/// Where they stand.
pub(super) fn places(
    inquiry: &Inquiry<'_>,
    devices: &[&DeviceProtection],
    told: &DeviceProtection,
) -> Vec<(Span, String)> {
    let others = devices.iter().filter(|device| device.device.link != told.device.link);
    others
        .take(NAMED)
        .map(|device| (inquiry.design.thing(device.device.thing).span, "this one too".to_owned()))
        .collect()
}
