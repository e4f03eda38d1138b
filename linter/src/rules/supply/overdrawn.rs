//! A load that asks for more power than its source can carry to it.

use std::collections::BTreeMap;

use wattle_grammar::quantity::{Volts, Watts};

use crate::{
    design::ModeOrigin,
    figures::Point,
    finding::{Finding, Severity},
    inquiry::Inquiry,
    naming,
    network::{ElementId, Law, Unsolved},
    quantity_text::Figure,
    rule::{Rule, Source},
    topology::{Charge, LinkId},
};

/// The rule.
pub static RULE: Rule = Rule {
    name: "supply.overdrawn",
    severity: Severity::Malfunction,
    summary: "The source cannot carry this load: its voltage collapses before the power is reached.",
    why: "A regulator draws more current as its input sags. Past half the source's open-circuit voltage no working point is \
          left: the rail collapses, the controller resets, relays drop out.",
    condition: "In some mode and state of charge the network has no solution in which the constant-power loads get their \
                power (P > E²/4R in the simplest case), or one of them ends below its cut-off voltage.",
    source: Source::Physics("maximum power a source of EMF E behind R can give: E²/4R"),
    legitimate: "Never in a mode that is meant to last.",
    mend: "Thicker or shorter wire, a stiffer source, less load at once.",
    bad: r#"wattle 1
robot "Hut" { ambient 30 degC }
battery PACK lead-acid 6S 7 Ah 600 mohm
fuse F1 15 A blade
regulator REG 5 V 12 A buck
load HEAVY 5 V { typical 10 A }
wire W1 PACK.pos to F1.line 10 AWG red 100 mm
wire W2 F1.load to REG.in 10 AWG red 300 mm
wire W3 REG.in-neg to PACK.neg 10 AWG black 400 mm
wire W4 REG.out to HEAVY.pos 10 AWG red 300 mm
wire W5 HEAVY.neg to REG.out-neg 10 AWG black 300 mm
"#,
    good: r#"wattle 1
robot "Hut" { ambient 30 degC }
battery PACK lead-acid 6S 7 Ah 20 mohm
fuse F1 15 A blade
regulator REG 5 V 12 A buck
load HEAVY 5 V { typical 10 A }
wire W1 PACK.pos to F1.line 10 AWG red 100 mm
wire W2 F1.load to REG.in 10 AWG red 300 mm
wire W3 REG.in-neg to PACK.neg 10 AWG black 400 mm
wire W4 REG.out to HEAVY.pos 10 AWG red 300 mm
wire W5 HEAVY.neg to REG.out-neg 10 AWG black 300 mm
"#,
    check,
};

fn check(inquiry: &mut Inquiry<'_>) {
    let mut findings: BTreeMap<LinkId, Finding> = BTreeMap::new();
    for point in &inquiry.figures.points {
        let Err(Unsolved::Overdrawn(loads)) = &point.outcome else { continue };
        let Some(heaviest) = loads.first() else { continue };
        let Some(link) = point.link_of(*heaviest) else { continue };
        if let Some(finding) = finding(inquiry, point, link, *heaviest) {
            findings.entry(link).or_insert(finding);
        }
    }
    for finding in findings.into_values() {
        inquiry.report(finding);
    }
}

fn finding(inquiry: &Inquiry<'_>, point: &Point, link: LinkId, element: ElementId) -> Option<Finding> {
    let design = inquiry.design;
    let mode = design.modes.get(point.mode.index())?;
    let name = naming::link(design, inquiry.topology, link);
    let span = naming::link_span(design, inquiry.topology, link)?;
    let (watts, cutoff) = match point.network.elements.get(element.0 as usize)?.law {
        Law::PowerLoad { watts, cutoff } => (watts, cutoff),
        _ => (Watts(0.0), Volts(0.0)),
    };
    let charge = match point.charge {
        Charge::Full => "full",
        Charge::Nominal => "half-charged",
        Charge::Empty => "empty",
    };
    let derived = if mode.origin == ModeOrigin::Derived { " (derived)" } else { "" };
    Some(Finding {
        rule: RULE.name,
        severity: Severity::Malfunction,
        span,
        subject: name.trim_matches('`').to_owned(),
        message: format!(
            "{name} asks for {watts} in `{}`{derived}, more than its {charge} source can carry to it",
            mode.name
        ),
        label: "no working point".to_owned(),
        related: Vec::new(),
        figures: vec![
            Figure::new("power asked for", watts, "as declared, divided by the efficiency of converters"),
            Figure::new("cut-off voltage", cutoff, "lowest supply voltage"),
        ],
        because: Vec::new(),
        mode: Some(mode.name.clone()),
        help: Vec::new(),
        accepted: None,
    })
}
