//! A short that the device may let flow for longer than the wire's insulation lasts.

mod gaps;

use std::collections::{BTreeMap, BTreeSet};

use wattle_grammar::{
    quantity::{Amps, Seconds},
    span::Span,
};

use crate::{
    design::WireId,
    finding::{Finding, Mend, Severity},
    inquiry::Inquiry,
    naming,
    protection::{Corner, Slow, Stands, Verdict, WayIn, WireProtection},
    quantity_text::Figure,
    rule::{Rule, Source},
    topology::LinkId,
    trace::Weakest,
};

/// The rule.
pub static RULE: Rule = Rule {
    name: "protection.slow-clearing",
    severity: Severity::Danger,
    summary: "A short on this wire may last longer than its insulation, or never open the device at all.",
    why: "A fuse opens at once only on many times its rating. A long thin wire, a tired pack or a source that limits itself \
          can hold a dead short down to a current that the fuse takes for a heavy load: it waits, and the wire burns \
          meanwhile. That the fuse is not larger than the wire carries does not prevent it.",
    condition: "For every source alone the lowest current of a short at the wire's far end is worked out: empty, conductors \
                at the temperature class of their insulation, fuses hot, the way back included (as long and thick as the \
                way out where no load hangs at that end). From there up to the highest current, the latest opening time of \
                the devices on the way is held against the time that the insulation lasts: t = (k S / I)² up to 5 s; above, \
                where that law is too careful, the heat that leaves the wire is counted. Reported where the devices may take \
                longer, or need not open at all while the wire carries more than its ampacity. Wires whose device is missing, \
                stands too far out or is larger than the profile's plain rule are left to those findings.",
    source: Source::Published("IEC 60364-4-43, 434.5.2; ISO 8820-3, IEC 60127-2 and IEC 60898-1 time limits"),
    legitimate: "A source that cannot give more than the wire carries: state its `current-limit`. A pack whose resistance was \
                 measured: state `resistance`.",
    mend: "A thicker or shorter wire, or a smaller device where the load allows it. Never a larger one.",
    bad: r#"wattle 1
robot "Hut" { ambient 30 degC; insulation 105 degC }
battery PACK lead-acid 6S 7 Ah 0.6 ohm
fuse F1 7.5 A blade
light LAMP 12 V { typical 2 A }
wire W1 PACK.pos to F1.line 10 AWG red 100 mm
wire W2 F1.load to LAMP.pos 20 AWG red 6 m
wire W3 LAMP.neg to PACK.neg 20 AWG black 6 m
"#,
    good: r#"wattle 1
robot "Hut" { ambient 30 degC; insulation 105 degC }
battery PACK lead-acid 6S 7 Ah 0.6 ohm
fuse F1 3 A blade
light LAMP 12 V { typical 2 A }
wire W1 PACK.pos to F1.line 10 AWG red 100 mm
wire W2 F1.load to LAMP.pos 20 AWG red 6 m
wire W3 LAMP.neg to PACK.neg 20 AWG black 6 m
"#,
    check,
};

/// A wire and the way on which it fails.
struct Case<'a> {
    wire: &'a WireProtection,
    way: &'a WayIn,
    slow: Slow,
}

fn check(inquiry: &mut Inquiry<'_>) {
    let protection = std::mem::take(&mut inquiry.protection);
    let mut by_device: BTreeMap<LinkId, Vec<Case<'_>>> = BTreeMap::new();
    let unprotected: BTreeSet<usize> =
        inquiry.unprotected.cases.iter().flat_map(|case| case.feeds.iter().copied()).collect();
    for wire in &protection.wires {
        if !is_judged(inquiry, wire) {
            continue;
        }
        let Some(way) = wire.worst.and_then(|at| wire.ways.get(at)) else { continue };
        if unprotected.contains(&way.feed) {
            continue;
        }
        match wire.verdict {
            Verdict::TooSlow(slow) if slow.usual.is_none() => {
                by_device.entry(slow.device).or_default().push(Case { wire, way, slow });
            }
            Verdict::NotAssessed(_) | Verdict::TooSlow(_) => gaps::note(inquiry, wire, way),
            _ => {}
        }
    }
    let findings: Vec<Finding> = by_device.values_mut().filter_map(|cases| finding(inquiry, cases)).collect();
    drop(by_device);
    inquiry.protection = protection;
    for finding in findings {
        inquiry.report(finding);
    }
}

/// Whether no other finding governs the wire.
fn is_judged(inquiry: &Inquiry<'_>, wire: &WireProtection) -> bool {
    let id = wire.wire;
    if inquiry.design.wire(id).spare
        || inquiry.bare_wires.contains(&id)
        || inquiry.distant_wires.contains(&id)
    {
        return false;
    }
    let feeds = wire.ways.iter().filter_map(|way| inquiry.trace.feeds.get(way.feed));
    let volts = feeds.map(|feed| feed.volts).reduce(wattle_grammar::quantity::Volts::max);
    let limit = inquiry
        .conductors
        .worst(inquiry.design, id)
        .zip(volts)
        .and_then(|(conductor, volts)| inquiry.profile.device_limit(&conductor, volts));
    // What a part limits is governed in the same way as what a device lets pass.
    let most =
        wire.ways.iter().map(|way| way.guard.amps()).filter(|amps| *amps < f64::MAX).fold(0.0, f64::max);
    limit.is_none_or(|limit| {
        most <= limit.preferred.0 && [true, false].into_iter().all(|end| guards(wire, end) <= limit.preferred)
    })
}

/// What the smallest devices at one end let pass together.
fn guards(wire: &WireProtection, at_from: bool) -> Amps {
    let here = wire.ways.iter().filter(|way| way.at_from == at_from);
    let devices: BTreeMap<LinkId, Amps> = here
        .filter_map(|way| match way.guard {
            Weakest::Device(link, amps) => Some((link, amps)),
            _ => None,
        })
        .collect();
    devices.into_values().sum()
}

/// The wires of one device as one finding, about the one that lasts least.
fn finding(inquiry: &Inquiry<'_>, cases: &mut Vec<Case<'_>>) -> Option<Finding> {
    cases.sort_by(|one, other| excess(&other.slow).total_cmp(&excess(&one.slow)));
    let worst = cases.first()?;
    let (design, topology) = (inquiry.design, inquiry.topology);
    let (wire, slow) = (design.wire(worst.wire.wire), &worst.slow);
    let device = naming::link(design, topology, slow.device);
    let related: Vec<(Span, String)> = naming::link_span(design, topology, slow.device)
        .map(|span| (span, "the device is here".to_owned()))
        .into_iter()
        .collect();
    Some(Finding {
        rule: RULE.name,
        severity: Severity::Danger,
        span: wire.span,
        subject: wire.name.clone(),
        message: message(inquiry, worst.wire.wire, &device, slow),
        label: "its insulation may fail first".to_owned(),
        related,
        figures: figures(inquiry, worst),
        because: because(inquiry, cases),
        mode: None,
        help: vec![
            Mend::told(
                "use a thicker or a shorter wire: a short then draws more, and the wire stands it longer",
            ),
            Mend::told(format!("or fit a smaller device than {device} before it, where the load allows one")),
        ],
        accepted: None,
    })
}

/// How many times the device's time is that of the wire, for the order.
fn excess(slow: &Slow) -> f64 {
    match (slow.latest, slow.stands.time()) {
        (Some(latest), Some(stands)) => latest / stands,
        (None, Some(stands)) => 1e9 / stands.0.max(1e-9),
        _ => 1.0,
    }
}

fn message(inquiry: &Inquiry<'_>, id: WireId, device: &str, slow: &Slow) -> String {
    let name = naming::wire(inquiry.design, id);
    let draws = match slow.corner {
        Corner::Lowest => format!("a short at the end of {name} draws {} at least", slow.amps),
        Corner::Between => format!("a short on {name} may draw {}", slow.amps),
        Corner::Highest => format!("a short on {name} draws up to {}", slow.amps),
        Corner::Together => format!("a short on {name} may draw {} from all sources at once", slow.amps),
    };
    let opens = slow.latest.map_or_else(
        || format!("{device} need not open on that"),
        |latest| format!("{device} may take {latest}"),
    );
    let lasts = match slow.stands {
        Stands::Adiabatic(time) | Stands::Cooled(time) => format!("the insulation lasts {time}"),
        Stands::Ages | Stands::ForGood => {
            let ampacity = inquiry.ampacity(id).map_or(Amps(0.0), |found| found.amps);
            format!("the wire carries {ampacity}")
        }
    };
    format!("{draws}: {opens}, {lasts}")
}

fn figures(inquiry: &Inquiry<'_>, case: &Case<'_>) -> Vec<Figure> {
    let slow = &case.slow;
    let mut figures = vec![Figure::new(
        "fault current",
        slow.amps,
        "U / (R source + R way out + R way back), sources alone and empty for the lowest",
    )];
    if let Some(latest) = slow.latest {
        let device = inquiry.device(slow.device);
        let basis = device
            .and_then(|device| device.style?.opening(device.rated?, slow.amps))
            .map_or_else(|| "time–current band of the device".to_owned(), |opening| opening.basis);
        figures.push(Figure::new("latest opening", latest, basis));
    }
    if let Some(time) = slow.stands.time() {
        let law = match slow.stands {
            Stands::Cooled(_) => "heat balance of the wire; (k S / I)² is too careful above 5 s",
            _ => "(k S / I)², IEC 60364-4-43",
        };
        figures.push(Figure::new("insulation lasts", time, law));
    }
    if let Some(withstand) = case.wire.withstand {
        figures.push(Figure::new("energy the insulation stands", withstand.energy, "k² S²"));
    }
    figures
}

fn because(inquiry: &Inquiry<'_>, cases: &[Case<'_>]) -> Vec<String> {
    let mut because = Vec::new();
    let others: Vec<String> =
        cases.iter().skip(1).take(6).map(|case| naming::wire(inquiry.design, case.wire.wire)).collect();
    if !others.is_empty() {
        let more = cases.len() - 1 - others.len();
        let more = if more > 0 { format!(" and {more} more") } else { String::new() };
        because.push(format!("the same is true of {}{more} behind it", naming::listed(&others)));
    }
    if let Some(case) = cases.first() {
        if case.slow.corner == Corner::Lowest
            && matches!(case.way.back, crate::protection::Back::AsTheWayOut(_))
        {
            because.push("the way back is taken as long and as thick as the way out".to_owned());
        }
        if case.wire.withstand.is_some_and(|withstand| !withstand.class_is_stated) {
            because.push("no `insulation` is written: the lowest class is taken".to_owned());
        }
        if case.slow.stands.time().is_some_and(|time| time > Seconds(5.0)) {
            because.push(
                "above 5 s the adiabatic law is careful: the heat that leaves the wire is counted".to_owned(),
            );
        }
    }
    because
}
