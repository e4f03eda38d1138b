//! What is missing to judge how long a short lasts: one entry a device or source.

use wattle_grammar::kind::key;

use super::RULE;
use crate::{
    finding::NotAssessed,
    inquiry::Inquiry,
    naming,
    protection::{Gap, Verdict, WayIn, WireProtection},
    trace::Weakest,
};

/// Notes what a wire lacks.
pub(super) fn note(inquiry: &mut Inquiry<'_>, wire: &WireProtection, way: &WayIn) {
    let entry = match wire.verdict {
        Verdict::NotAssessed(gap) => entry(inquiry, gap, way),
        Verdict::TooSlow(slow) => slow.usual.map(|thing| {
            let thing = inquiry.design.thing(thing);
            of(&thing.name, thing.span, key::RESISTANCE.to_owned())
        }),
        _ => None,
    };
    if let Some(entry) = entry {
        inquiry.not_assessed(entry);
    }
}

fn of(subject: &str, span: wattle_grammar::span::Span, missing: String) -> NotAssessed {
    NotAssessed { subject: subject.to_owned(), span, missing, blocks: vec![RULE.name] }
}

fn entry(inquiry: &Inquiry<'_>, gap: Gap, way: &WayIn) -> Option<NotAssessed> {
    let design = inquiry.design;
    match gap {
        // Told with the ampacity.
        Gap::Size => None,
        // One entry for all wires behind a device, about the first of them.
        Gap::Length(_) => {
            let (Weakest::Device(link, _) | Weakest::Unrated(link)) = way.guard else { return None };
            let span = naming::link_span(design, inquiry.topology, link)?;
            let name = naming::link(design, inquiry.topology, link);
            Some(of(name.trim_matches('`'), span, "the `length` of wires behind it".to_owned()))
        }
        Gap::Source(thing) => {
            let missing = crate::protection::missing_strength(design, thing);
            let thing = design.thing(thing);
            Some(of(&thing.name, thing.span, missing.to_owned()))
        }
        Gap::Device(link) => {
            let device = inquiry.device(link)?;
            let thing = design.thing(device.thing);
            Some(of(&thing.name, thing.span, device.missing_band(design)?))
        }
    }
}
