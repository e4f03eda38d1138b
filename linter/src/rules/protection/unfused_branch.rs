//! A conductor that a source can feed with nothing to open it, or with the device too far from the source.

mod mend;

use wattle_grammar::{quantity::Metres, span::Span};

use crate::{
    design::WireId,
    finding::{Finding, NotAssessed, Severity},
    inquiry::Inquiry,
    naming,
    profile::Ampacity,
    quantity_text::Figure,
    rule::{Rule, Source},
    topology::{LinkId, Nature},
    trace::{End, Feed, RailId},
    unprotected::{self, Unprotected},
};

/// The rule.
pub static RULE: Rule = Rule {
    name: "protection.unfused-branch",
    severity: Severity::Danger,
    summary: "A source can feed this conductor with no fuse or breaker between them, or with the first one too far away.",
    why: "When such a wire chafes through, nothing opens: the wire itself becomes the fuse, at whatever current the \
          source can give, until its insulation burns. Every pack, charger and supply counts on its own: with packs in \
          parallel, one pack's lead is also fed by all the others.",
    condition: "For every pole of every source (packs, their cell taps, chargers, supplies, regulator outputs) the least \
                protected path to each conductor is found, through contacts, connectors and diodes in their direction. \
                If nothing on it opens or limits the current, the conductor is reported, unless the source's own short-\
                circuit current is within the conductor's ampacity. Between a source and its first device the profile's \
                distance is allowed: 178 mm (7 in), or 1016 mm (40 in) where the conductor is sheathed or enclosed over \
                its whole length. A fuse in the return does not count: a positive that touches the frame does not pass it.",
    source: Source::Published("33 CFR 183.455(a) and (b): overcurrent protection, 7 in and 40 in"),
    legitimate: "A source that cannot give more than the conductor bears: state `current-limit` on it (a bench supply, a \
                 tap with a resistor), or on the wire. A conductor inside a sheath or an enclosure: state `sheathed`.",
    mend: "Put a fuse or breaker at the source's end of the branch, sized to its thinnest wire. Do not put it in the \
           return, and do not put it at the load: what lies before it stays unprotected.",
    bad: r#"wattle 1
robot "Hut" { ambient 30 degC }
battery PACK lead-acid 6S 7 Ah 20 mohm
light LAMP 12 V { typical 1 A }
wire W1 PACK.pos to LAMP.pos 18 AWG red 400 mm
wire W2 LAMP.neg to PACK.neg 18 AWG black 400 mm
"#,
    good: r#"wattle 1
robot "Hut" { ambient 30 degC }
battery PACK lead-acid 6S 7 Ah 20 mohm
fuse F1 5 A blade
light LAMP 12 V { typical 1 A }
wire W1 PACK.pos to F1.line 18 AWG red 100 mm
wire W3 F1.load to LAMP.pos 18 AWG red 300 mm
wire W2 LAMP.neg to PACK.neg 18 AWG black 400 mm
"#,
    check,
};

fn check(inquiry: &mut Inquiry<'_>) {
    note_missing(inquiry);
    let search = std::mem::take(&mut inquiry.unprotected);
    for case in &search.cases {
        let finding = if case.is_too_far() { distant(inquiry, case) } else { unprotected(inquiry, case) };
        inquiry.report(finding);
    }
    inquiry.unprotected = search;
}

/// The feeds that show the case.
fn feeds<'a>(inquiry: &Inquiry<'a>, case: &Unprotected) -> Vec<&'a Feed> {
    case.feeds.iter().filter_map(|index| inquiry.trace.feeds.get(*index)).collect()
}

/// What cannot be told: how far a first device stands out, and how much a source gives.
fn note_missing(inquiry: &mut Inquiry<'_>) {
    let design = inquiry.design;
    let lengths = inquiry.unprotected.unmeasured.iter().map(|id| {
        let wire = design.wire(*id);
        (wire.name.clone(), wire.span, "length")
    });
    let currents = inquiry.unprotected.unknown.iter().map(|id| {
        let thing = design.thing(*id);
        (thing.name.clone(), thing.span, "current")
    });
    let entries: Vec<NotAssessed> = lengths
        .chain(currents)
        .map(|(subject, span, missing)| NotAssessed {
            subject,
            span,
            missing: missing.to_owned(),
            blocks: vec![RULE.name],
        })
        .collect();
    for entry in entries {
        inquiry.not_assessed(entry);
    }
}

fn unprotected(inquiry: &Inquiry<'_>, case: &Unprotected) -> Finding {
    let design = inquiry.design;
    let (first, feeds) = (case.branch.first, feeds(inquiry, case));
    let wire = design.wire(first);
    let name = naming::wire(design, first);
    let sources: Vec<String> = feeds.iter().map(|feed| naming::feed(design, feed)).collect();
    let (fault, figures) = figures(inquiry, case, &feeds);
    let mut finding = Finding {
        rule: RULE.name,
        severity: Severity::Danger,
        span: wire.span,
        subject: wire.name.clone(),
        message: format!("{name} can be fed by {} with nothing to open it{fault}", naming::listed(&sources)),
        label: "no fuse or breaker on this way in".to_owned(),
        related: related(inquiry, &feeds),
        figures,
        because: causes(inquiry, first, case),
        mode: None,
        help: vec![mend::insert_fuse(inquiry, case, &feeds)],
        accepted: None,
    };
    if let End::NoDevice(node) = case.branch.end {
        finding.related.extend(
            inquiry.thing_at(node).map(|thing| (design.thing(thing).span, "it ends here".to_owned())),
        );
    }
    finding
}

fn distant(inquiry: &Inquiry<'_>, case: &Unprotected) -> Finding {
    let design = inquiry.design;
    let (first, feeds) = (case.branch.first, feeds(inquiry, case));
    let wire = design.wire(first);
    let End::TooFar { devices, allowed } = &case.branch.end else {
        return unprotected(inquiry, case);
    };
    let (device, metres) = devices.first().copied().unwrap_or((LinkId(0), Metres(0.0)));
    let device_name = naming::link(design, inquiry.topology, device);
    let source = feeds.first().map_or_else(String::new, |feed| naming::feed(design, feed));
    let mut related = related(inquiry, &feeds);
    related.extend(
        naming::link_span(design, inquiry.topology, device)
            .map(|span| (span, arrival(inquiry, device).to_owned())),
    );
    let more = match devices.len() {
        0 | 1 => None,
        2 => Some("1 more device on this way stands too far out as well".to_owned()),
        count => Some(format!("{} more devices on this way stand too far out as well", count - 1)),
    };
    Finding {
        rule: RULE.name,
        severity: Severity::Danger,
        span: wire.span,
        subject: wire.name.clone(),
        message: format!(
            "{metres} of conductor lie between {source} and {device_name}, the limit is {allowed}"
        ),
        label: format!("unprotected up to {device_name}"),
        related,
        figures: vec![
            Figure::new("distance to the first device", metres, "lengths of the wires on the way, added"),
            Figure::new("allowed distance", *allowed, inquiry.profile.distance_source.as_ref()),
        ],
        because: more.into_iter().collect(),
        mode: None,
        help: mend::nearer(inquiry, case, devices, &source),
        accepted: None,
    }
}

/// Whether the length ends at the next pack of a series string.
fn is_pack(inquiry: &Inquiry<'_>, end: LinkId) -> bool {
    inquiry.topology.link(end).is_some_and(|link| matches!(link.nature, Nature::Cells { .. }))
}

fn arrival(inquiry: &Inquiry<'_>, end: LinkId) -> &'static str {
    if is_pack(inquiry, end) { "the next pack is here" } else { "the first device is here" }
}

/// The fault current and the thinnest wire's limit as words and as figures; no current when it is not known.
fn figures(inquiry: &Inquiry<'_>, case: &Unprotected, feeds: &[&Feed]) -> (String, Vec<Figure>) {
    let known = feeds.iter().all(|feed| feed.resistance.0 > 0.0 || feed.limit.is_some());
    let fault = unprotected::fault(inquiry.trace, case);
    let mut figures = Vec::new();
    let mut words = Vec::new();
    if known {
        words.push(format!("a short draws up to {fault}"));
        figures.push(Figure::new(
            "fault current at the source",
            fault,
            "V_full / R_internal, summed over the sources",
        ));
    }
    if let Some((wire, limit)) = weakest(inquiry, case) {
        words.push(if wire == case.branch.first {
            format!("the wire's limit is {}", limit.amps)
        } else {
            format!("the limit of {} behind it is {}", naming::wire(inquiry.design, wire), limit.amps)
        });
        figures.push(Figure::new("ampacity of the wire", limit.amps, limit.basis.clone()));
    }
    let colon = if words.is_empty() { "" } else { ": " };
    (format!("{colon}{}", words.join(", ")), figures)
}

/// The wire of the branch that bears least; among equals the first.
fn weakest<'a>(inquiry: &'a Inquiry<'_>, case: &Unprotected) -> Option<(WireId, &'a Ampacity)> {
    let first = std::iter::once(&case.branch.first);
    let known = first.chain(&case.branch.wires).filter_map(|wire| Some((*wire, inquiry.ampacity(*wire)?)));
    known.reduce(|held, next| if next.1.amps < held.1.amps { next } else { held })
}

fn related(inquiry: &Inquiry<'_>, feeds: &[&Feed]) -> Vec<(Span, String)> {
    feeds
        .iter()
        .take(4)
        .map(|feed| (inquiry.design.thing(feed.thing).span, "fed from here".to_owned()))
        .collect()
}

fn causes(inquiry: &Inquiry<'_>, first: WireId, case: &Unprotected) -> Vec<String> {
    let design = inquiry.design;
    let mut because = Vec::new();
    let others: Vec<String> = case
        .branch
        .wires
        .iter()
        .filter(|wire| **wire != first)
        .take(6)
        .map(|wire| naming::wire(design, *wire))
        .collect();
    if !others.is_empty() {
        let count = case.branch.wires.len() - 1;
        let more =
            if count > others.len() { format!(" and {} more", count - others.len()) } else { String::new() };
        because.push(format!("the same is true of {}{more} behind it", naming::listed(&others)));
    }
    for feed in feeds(inquiry, case) {
        if let Some(device) = device_in_return(inquiry, inquiry.trace.rail(feed.minus)) {
            because.push(format!(
                "{device} stands in the return: it does not open a positive that touches the frame"
            ));
            break;
        }
    }
    because
}

/// A protective device on the rail that the current comes home on.
fn device_in_return(inquiry: &Inquiry<'_>, home: RailId) -> Option<String> {
    let link = inquiry.topology.links.iter().position(|link| {
        matches!(link.nature, Nature::Protective { .. }) && inquiry.trace.rail(link.a) == home
    })?;
    let id = LinkId(u32::try_from(link).ok()?);
    Some(naming::link(inquiry.design, inquiry.topology, id))
}

#[cfg(test)]
mod tests {
    #[test]
    fn the_distances_are_those_of_the_regulation() {
        // 33 CFR 183.455(b): 7 inches and 40 inches.
        let profile = crate::profile::DEFAULT;
        assert!((profile.bare_distance.0 - 7.0 * 0.0254).abs() < 1e-12);
        assert!((profile.sheathed_distance.0 - 40.0 * 0.0254).abs() < 1e-12);
    }
}
