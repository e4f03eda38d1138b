//! A conductor that a source can feed with nothing to open it, or with the device too far from the source.

use wattle_grammar::quantity::{Amps, Metres, Ohms};

use crate::{
    design::WireId,
    finding::{Edit, Finding, Mend, NotAssessed, Severity},
    inquiry::Inquiry,
    naming,
    physics::standard_fuse,
    quantity_text::Figure,
    rule::{Rule, Source},
    topology::Nature,
    trace::{End, Feed, RailId},
    unprotected::Unprotected,
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
    let cases = std::mem::take(&mut inquiry.unprotected);
    for case in &cases {
        note_missing_lengths(inquiry, case);
        let finding = if case.is_too_far() { distant(inquiry, case) } else { unprotected(inquiry, case) };
        inquiry.report(finding);
    }
    inquiry.unprotected = cases;
}

/// The feeds that show the case.
fn feeds<'a>(inquiry: &Inquiry<'a>, case: &Unprotected) -> Vec<&'a Feed> {
    case.feeds.iter().filter_map(|index| inquiry.trace.feeds.get(*index)).collect()
}

fn note_missing_lengths(inquiry: &mut Inquiry<'_>, case: &Unprotected) {
    if !case.is_too_far() {
        return;
    }
    for id in &case.branch.wires {
        let wire = inquiry.design.wire(*id);
        if wire.length.is_none() {
            let entry = NotAssessed {
                subject: wire.name.clone(),
                span: wire.span,
                missing: "length".to_owned(),
                blocks: vec![RULE.name],
            };
            inquiry.not_assessed(entry);
        }
    }
}

fn unprotected(inquiry: &Inquiry<'_>, case: &Unprotected) -> Finding {
    let design = inquiry.design;
    let (first, feeds) = (case.branch.first, feeds(inquiry, case));
    let wire = design.wire(first);
    let name = naming::wire(design, first);
    let sources: Vec<String> = feeds.iter().map(|feed| naming::feed(design, feed)).collect();
    let (fault, figures) = figures(inquiry, first, &feeds);
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
        help: vec![insert_fuse(inquiry, first, case)],
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
    let (device, metres) = devices.first().copied().unwrap_or((crate::topology::LinkId(0), Metres(0.0)));
    let device_name = naming::link(design, inquiry.topology, device);
    let source = feeds.first().map_or_else(String::new, |feed| naming::feed(design, feed));
    let mut related = related(inquiry, &feeds);
    related.extend(
        naming::link_span(design, inquiry.topology, device)
            .map(|span| (span, "the first device is here".to_owned())),
    );
    let others = devices.len().saturating_sub(1);
    let more = if others > 0 {
        vec![format!("{others} more devices on this way stand too far out as well")]
    } else {
        Vec::new()
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
            Figure::new("allowed distance", *allowed, inquiry.profile.distance_source),
        ],
        because: more,
        mode: None,
        help: nearer(inquiry, case, &device_name, metres),
        accepted: None,
    }
}

/// The fault current and the wire's limit as words and as figures; empty words when the fault current is not known.
fn figures(inquiry: &Inquiry<'_>, first: WireId, feeds: &[&Feed]) -> (String, Vec<Figure>) {
    let known = feeds.iter().all(|feed| feed.resistance.0 > 0.0 || feed.limit.is_some());
    let fault: Amps = feeds.iter().map(|feed| feed.prospective(Ohms(0.0))).sum();
    let mut figures = Vec::new();
    let mut words = String::new();
    if known {
        words = format!(": a short draws up to {fault}");
        figures.push(Figure::new(
            "fault current at the source",
            fault,
            "V_full / R_internal, summed over the sources",
        ));
    }
    if let Some(limit) = inquiry.ampacity(first) {
        words.push_str(&format!("{} the wire's limit is {}", if known { "," } else { ":" }, limit.amps));
        figures.push(Figure::new("ampacity of the wire", limit.amps, limit.basis.clone()));
    }
    (words, figures)
}

fn related(inquiry: &Inquiry<'_>, feeds: &[&Feed]) -> Vec<(wattle_grammar::span::Span, String)> {
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
    let id = crate::topology::LinkId(u32::try_from(link).ok()?);
    Some(naming::link(inquiry.design, inquiry.topology, id))
}

/// A fuse on the source's terminal: a new fuse tied to it, and the wire moved to the fuse's load side.
fn insert_fuse(inquiry: &Inquiry<'_>, first: WireId, case: &Unprotected) -> Mend {
    let design = inquiry.design;
    let wire = design.wire(first);
    let thinnest =
        case.branch.wires.iter().filter_map(|wire| inquiry.ampacity(*wire)).map(|limit| limit.amps);
    let limit = thinnest.reduce(Amps::min);
    let rating = limit.and_then(standard_fuse::largest_up_to);
    let source = feeds(inquiry, case).first().map_or_else(String::new, |feed| naming::feed(design, feed));
    let size =
        rating.map_or_else(|| "sized to its thinnest wire".to_owned(), |amps| format!("of at most {amps}"));
    let title = format!("fit a fuse {size} in {} at {source}", naming::wire(design, first));
    let edits = match (rating, feeds(inquiry, case).first()) {
        (Some(rating), Some(feed)) if wire.harness.is_none() => fuse_edits(inquiry, first, feed, rating),
        _ => Vec::new(),
    };
    Mend { title, edits, sure: false }
}

/// The text of that fuse. Only where the wire ends at the feed's own terminal, so that no length is left before it.
fn fuse_edits(inquiry: &Inquiry<'_>, first: WireId, feed: &Feed, rating: Amps) -> Vec<Edit> {
    let design = inquiry.design;
    let wire = design.wire(first);
    let Some((_, end)) = [wire.from, wire.to].into_iter().find(|(terminal, _)| *terminal == feed.terminal)
    else {
        return Vec::new();
    };
    let name = format!("F-{}", wire.name.replace('.', "-"));
    if design.things.iter().any(|thing| thing.name == name) {
        return Vec::new();
    }
    let source = design.terminal_name(feed.terminal);
    let lines = format!("fuse {name} {} A blade\ntie {source} to {name}.line\n", rating.0);
    let mut before = wire.statement;
    before.end = before.start;
    vec![Edit { span: before, text: lines }, Edit { span: end, text: format!("{name}.load") }]
}

fn nearer(inquiry: &Inquiry<'_>, case: &Unprotected, device: &str, metres: Metres) -> Vec<Mend> {
    let bare = inquiry.profile.bare_distance;
    let told = |title: String| Mend { title, edits: Vec::new(), sure: false };
    let mut help = vec![told(format!("move {device} to within {bare} of conductor from the source"))];
    if metres <= inquiry.profile.sheathed_distance {
        let wires: Vec<String> =
            case.branch.wires.iter().map(|wire| naming::wire(inquiry.design, *wire)).collect();
        help.push(told(format!(
            "sheathe or enclose {} over the whole length and state `sheathed`",
            naming::listed(&wires)
        )));
    }
    help
}

/// Shared with the pages: how the limit of a wire is found.
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
