//! A fault behind one device that may open the one before it, and take what hangs on that.

use std::collections::BTreeMap;

use crate::{
    finding::{Finding, Mend, Severity},
    inquiry::Inquiry,
    naming,
    protection::{DeviceProtection, Order, Upstream},
    quantity_text::Figure,
    rule::{Rule, Source},
    topology::LinkId,
};
use wattle_grammar::quantity::Share;

/// The rule.
pub static RULE: Rule = Rule {
    name: "protection.unselective",
    severity: Severity::Malfunction,
    summary: "A fault behind this device may open the one before it as well, and what else hangs on that goes dead.",
    why: "A short in the head should cost the head. When the branch fuse and the main fuse are nearly the same, or the main is a \
          breaker that trips at once, the same short takes radio, brakes and drive with it, and nobody sees where the fault is.",
    condition: "The next device towards the sources feeds loads besides those behind this one, and at the highest fault current \
                behind this one: both are of one family of fuses and the one before is less than twice as large (devices side \
                by side added); or their limits say that the one before opens first; or it is a breaker whose instantaneous \
                trip surely acts while the fuse has not melted within 10 ms. Devices of different families whose limits \
                overlap are not reported: their limits do not tell.",
    source: Source::CommonPractice(
        "ratio of 2 between fuses of one family in a row; makers publish one for each family",
    ),
    legitimate: "Where all off on any fault is meant, `accept` it and say so.",
    mend: "A smaller device for the branch where its load allows one, or the vital loads on a branch of their own beside it. A \
           larger one before it only where every wire behind that bears it.",
    bad: r#"wattle 1
robot "Hut" { ambient 30 degC; insulation 105 degC }
battery PACK lead-acid 6S 7 Ah 40 mohm
fuse F-MAIN 15 A blade
fuse F1 10 A blade
light LAMP, BEACON 12 V { typical 2 A }
splice BUS
wire W1 PACK.pos to F-MAIN.line 10 AWG red 100 mm
wire W2 F-MAIN.load to BUS 14 AWG red 300 mm
wire W3 BUS to F1.line 14 AWG red 100 mm
wire W4 F1.load to LAMP.pos 14 AWG red 300 mm
wire W5 LAMP.neg to PACK.neg 14 AWG black 400 mm
wire W6 BUS to BEACON.pos 14 AWG red 300 mm
wire W7 BEACON.neg to PACK.neg 14 AWG black 400 mm
"#,
    good: r#"wattle 1
robot "Hut" { ambient 30 degC; insulation 105 degC }
battery PACK lead-acid 6S 7 Ah 40 mohm
fuse F-MAIN 15 A blade
fuse F1 5 A blade
light LAMP, BEACON 12 V { typical 2 A }
splice BUS
wire W1 PACK.pos to F-MAIN.line 10 AWG red 100 mm
wire W2 F-MAIN.load to BUS 14 AWG red 300 mm
wire W3 BUS to F1.line 14 AWG red 100 mm
wire W4 F1.load to LAMP.pos 14 AWG red 300 mm
wire W5 LAMP.neg to PACK.neg 14 AWG black 400 mm
wire W6 BUS to BEACON.pos 14 AWG red 300 mm
wire W7 BEACON.neg to PACK.neg 14 AWG black 400 mm
"#,
    check,
};

fn check(inquiry: &mut Inquiry<'_>) {
    // Behind one device all that it is unselective with is one mistake: its own rating.
    let mut by_upper: BTreeMap<LinkId, Vec<(&DeviceProtection, &Upstream)>> = BTreeMap::new();
    let protection = std::mem::take(&mut inquiry.protection);
    for found in &protection.devices {
        for upper in found.upstream.iter().filter(|upper| upper.feeds_others && is_unselective(upper.order)) {
            by_upper.entry(upper.device).or_default().push((found, upper));
        }
    }
    let findings: Vec<Finding> =
        by_upper.values().filter_map(|pairs| finding(inquiry, &protection.devices, pairs)).collect();
    drop(by_upper);
    inquiry.protection = protection;
    findings.into_iter().for_each(|finding| inquiry.report(finding));
}

const fn is_unselective(order: Order) -> bool {
    matches!(order, Order::TooNear | Order::Upper(..) | Order::Instantaneous(_))
}

/// The devices behind one as one finding, about the one that is nearest to it in size.
fn finding(
    inquiry: &Inquiry<'_>,
    devices: &[DeviceProtection],
    pairs: &[(&DeviceProtection, &Upstream)],
) -> Option<Finding> {
    let (lower, upper) = pairs.iter().copied().reduce(|held, next| {
        let ratio = |pair: (&DeviceProtection, &Upstream)| pair.1.ratio.unwrap_or(f64::MAX);
        if ratio(next) < ratio(held) { next } else { held }
    })?;
    let (design, topology) = (inquiry.design, inquiry.topology);
    let named = |link: LinkId| {
        let rated = devices.iter().find(|one| one.device.link == link).and_then(|one| one.device.rated);
        rated.map_or_else(
            || naming::link(design, topology, link),
            |rated| naming::device(design, topology, link, rated),
        )
    };
    let (low, high) = (named(lower.device.link), named(upper.device));
    let why = match upper.order {
        Order::TooNear => "they are of one family and less than twice apart".to_owned(),
        Order::Upper(first, then) => format!("that has opened within {first}, this one holds {then}"),
        Order::Instantaneous(from) => format!("that trips at once from {from}"),
        _ => return None,
    };
    let thing = design.thing(lower.device.thing);
    let others: Vec<String> = pairs
        .iter()
        .filter(|(one, _)| one.device.link != lower.device.link)
        .map(|(one, _)| naming::thing(design, one.device.thing))
        .collect();
    let others = (!others.is_empty()).then(|| format!("the same is true of {}", naming::listed(&others)));
    let mut figures = vec![Figure::new("highest fault current behind it", upper.amps, "network solved")];
    figures.extend(upper.ratio.map(|ratio| {
        Figure::new("rating before it over its own", Share(ratio), "devices side by side added")
    }));
    Some(Finding {
        rule: RULE.name,
        severity: Severity::Malfunction,
        span: thing.span,
        subject: thing.name.clone(),
        message: format!("a fault of {} behind {low} may open {high} before it: {why}", upper.amps),
        label: "not the only one to open".to_owned(),
        related: naming::link_span(design, topology, upper.device)
            .map(|span| (span, "this feeds other loads too".to_owned()))
            .into_iter()
            .collect(),
        figures,
        because: others.into_iter().collect(),
        mode: None,
        help: vec![Mend::told(
            "use a smaller device for the branch where its load allows one, or give the vital loads a branch of their own",
        )],
        accepted: None,
    })
}
