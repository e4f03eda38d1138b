//! Batteries joined in a ring whose voltages do not cancel: a reversed pack, or packs of different voltage in parallel.

use wattle_grammar::{kind::key, quantity::Ohms};

use crate::{
    finding::{Finding, Mend, Severity},
    inquiry::Inquiry,
    naming,
    quantity_text::Figure,
    rule::{Rule, Source},
    trace::{Pack, Ring},
};

/// The rule.
pub static RULE: Rule = Rule {
    name: "polarity.opposed-sources",
    severity: Severity::Danger,
    summary: "Batteries stand in a ring whose voltages do not cancel: one is reversed, or they are not alike.",
    why: "Only milliohms limit the current round such a ring. A reversed pack among parallel ones meets twice the voltage; \
          a flat or smaller pack is charged by the others without any limit. Packs vent and burn.",
    condition: "Batteries are followed from rail to rail (conductors, mated contacts, devices, shunts; not contacts that \
                open). Round every ring the full-charge voltages must cancel to within 2 % of the largest. A ring that is \
                there only through a connector whose halves disagree is reported as that.",
    source: Source::Physics(
        "Kirchhoff's voltage law round the ring; current = net voltage over the packs' own resistances",
    ),
    legitimate: "Different packs joined through diodes or converters are not a ring of conductors and are not reported.",
    mend: "Turn the reversed pack round. Parallel only packs of the same chemistry, cell count and state of charge, \
           measured before they are joined.",
    bad: r#"wattle 1
robot "Hut" { ambient 30 degC }
battery PACK-A, PACK-B lead-acid 6S 7 Ah 20 mohm
fuse F-A, F-B 15 A blade
light LAMP 12 V { typical 1 A }
wire W1 PACK-A.pos to F-A.line 10 AWG red 100 mm
wire W2 PACK-B.neg to F-B.line 10 AWG red 100 mm
wire W3 PACK-B.pos to PACK-A.neg 10 AWG black 100 mm
wire W4 F-B.load to F-A.load 10 AWG red 100 mm
wire W5 F-A.load to LAMP.pos 10 AWG red 100 mm
wire W6 LAMP.neg to PACK-A.neg 10 AWG black 100 mm
"#,
    good: r#"wattle 1
robot "Hut" { ambient 30 degC }
battery PACK-A, PACK-B lead-acid 6S 7 Ah 20 mohm
fuse F-A, F-B 15 A blade
light LAMP 12 V { typical 1 A }
wire W1 PACK-A.pos to F-A.line 10 AWG red 100 mm
wire W2 PACK-B.pos to F-B.line 10 AWG red 100 mm
wire W3 PACK-B.neg to PACK-A.neg 10 AWG black 100 mm
wire W4 F-B.load to F-A.load 10 AWG red 100 mm
wire W5 F-A.load to LAMP.pos 10 AWG red 100 mm
wire W6 LAMP.neg to PACK-A.neg 10 AWG black 100 mm
"#,
    check,
};

fn check(inquiry: &mut Inquiry<'_>) {
    let rings = inquiry.trace.rings.iter().filter(|ring| !ring.through_swap);
    let findings: Vec<Finding> = rings.map(|ring| finding(inquiry, ring)).collect();
    for finding in findings {
        inquiry.report(finding);
    }
}

fn finding(inquiry: &Inquiry<'_>, ring: &Ring) -> Finding {
    let design = inquiry.design;
    let Ring { pack, partners, net, .. } = ring;
    let thing = design.thing(pack.thing);
    let name = naming::thing(design, pack.thing);
    let others: Vec<String> = partners.iter().map(|other| naming::thing(design, other.thing)).collect();
    let resistance = |pack: Pack| design.thing(pack.thing).get::<Ohms>(key::RESISTANCE);
    let loop_ohms: Option<Ohms> = partners
        .iter()
        .copied()
        .chain([*pack])
        .map(resistance)
        .collect::<Option<Vec<_>>>()
        .map(|all| all.into_iter().sum());
    let current = loop_ohms.filter(|ohms| ohms.0 > 0.0).map(|ohms| net.abs() / ohms);
    let reversed = ring.is_reversed();
    let what = if reversed { "stands reversed in a ring with" } else { "is not like" };
    let through = current.map_or_else(String::new, |amps| format!(", {amps} through packs of milliohms"));
    let mut figures = vec![Figure::new(
        "net voltage round the ring",
        net.abs(),
        "full-charge voltages added with their sign",
    )];
    figures.extend(
        current.map(|amps| Figure::new("ring current", amps, "net voltage / sum of internal resistances")),
    );
    let help = if reversed {
        format!("with the packs unplugged, exchange the two leads of {name}")
    } else {
        "join only packs of one chemistry, cell count and state of charge, measured before they are joined"
            .to_owned()
    };
    Finding {
        rule: RULE.name,
        severity: Severity::Danger,
        span: thing.span,
        subject: thing.name.clone(),
        message: format!(
            "{name} ({}) {what} {}: {} drive round it{through}",
            pack.volts,
            naming::listed(&others),
            net.abs()
        ),
        label: if reversed { "this way round it adds to the others" } else { "a different voltage" }
            .to_owned(),
        related: partners
            .iter()
            .map(|other| (design.thing(other.thing).span, format!("{} here", other.volts)))
            .collect(),
        figures,
        because: Vec::new(),
        mode: None,
        help: vec![Mend::told(help)],
        accepted: None,
    }
}
