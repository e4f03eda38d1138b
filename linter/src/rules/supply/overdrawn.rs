//! A load that asks for more power than its source can carry to it.

use std::collections::BTreeMap;

use wattle_grammar::{
    kind::key,
    quantity::{Dimension, Volts, Watts},
    unit::{base_symbol, told_apart},
};

use crate::{
    design::{ModeOrigin, Origin},
    figures::Point,
    finding::{Finding, Mend, Severity},
    inquiry::Inquiry,
    naming,
    network::{ElementId, Law, Unsolved},
    quantity_text::Figure,
    rule::{Rule, Source},
    topology::{LinkId, Owner},
};

/// The rule.
pub static RULE: Rule = Rule {
    name: "supply.overdrawn",
    severity: Severity::Malfunction,
    summary: "The source cannot carry this load: its voltage collapses before the power is reached.",
    why: "A regulator draws more current as its input sags. Past half the source's open-circuit voltage no working point is \
          left: the rail collapses, the controller resets, relays drop out.",
    condition: "In some mode that may last and at some corner (state of charge, regulators low or high within their `tolerance`, wires cold or warm) the network has no solution in which the constant-power \
                loads get their power (P > E²/4R in the simplest case), or a load whose supply range is written is fed and \
                yet stands below the lower end of that range.",
    source: Source::Physics("maximum power a source of EMF E behind R can give: E²/4R"),
    legitimate: "Never in a mode that is meant to last.",
    mend: "Thicker or shorter wire, a stiffer source, less load at once.",
    bad: r#"wattle 1
robot "Hut" { ambient 30 degC }
battery PACK lead-acid 6S 7 Ah 600 mohm
fuse F1 15 A blade
regulator REG 5 V 12 A buck
load HEAVY 5 V { typical 10 A; supply 4.5 V .. 5.5 V }
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
load HEAVY 5 V { typical 10 A; supply 4.5 V .. 5.5 V }
wire W1 PACK.pos to F1.line 10 AWG red 100 mm
wire W2 F1.load to REG.in 10 AWG red 300 mm
wire W3 REG.in-neg to PACK.neg 10 AWG black 400 mm
wire W4 REG.out to HEAVY.pos 10 AWG red 300 mm
wire W5 HEAVY.neg to REG.out-neg 10 AWG black 300 mm
"#,
    check,
};

/// An emptier battery has to leave a load with less by this factor to be told in place of a fuller one.
const CLEARLY: f64 = 1.01;

/// A fed load stands above this share of the voltage it needs; below, it is not fed at all in that mode.
const FED: f64 = 0.2;

fn check(inquiry: &mut Inquiry<'_>) {
    let mut findings: BTreeMap<LinkId, Finding> = BTreeMap::new();
    let mut lowest: BTreeMap<LinkId, Volts> = BTreeMap::new();
    for point in &inquiry.figures.points {
        match &point.outcome {
            Err(Unsolved::Overdrawn(loads) | Unsolved::Unsettled(loads)) if point.ordinary => {
                let mut asking = loads.iter().filter(|load| asks(point, **load));
                let heaviest = asking.next().and_then(|load| Some((point.link_of(*load)?, *load)));
                if let Some((link, load)) = heaviest {
                    let finding = finding(inquiry, point, link, load);
                    findings.extend(
                        finding.filter(|_| !findings.contains_key(&link)).map(|finding| (link, finding)),
                    );
                }
            }
            Ok(working) if point.ordinary => {
                for load in working.below_cutoff.iter().filter_map(|load| point.link_of(*load)) {
                    if let Some((volts, finding)) = starved(inquiry, point, load) {
                        let held = lowest.get(&load).copied().unwrap_or(Volts(f64::INFINITY));
                        if volts * CLEARLY < held && (held.0.is_finite() || !findings.contains_key(&load)) {
                            lowest.insert(load, volts);
                            findings.insert(load, finding);
                        }
                    }
                }
            }
            _ => {}
        }
    }
    for finding in findings.into_values() {
        inquiry.report(finding);
    }
}

/// Whether an element is a load that asks for something.
fn asks(point: &Point, load: ElementId) -> bool {
    let element = point.network.elements.get(load.0 as usize);
    element.is_some_and(|element| matches!(element.law, Law::PowerLoad { .. } | Law::CurrentLoad { .. }))
}

/// A load that is fed, but with less than the lowest voltage that is written for it, and with how much.
fn starved(inquiry: &Inquiry<'_>, point: &Point, link: LinkId) -> Option<(Volts, Finding)> {
    let design = inquiry.design;
    let Owner::Thing(thing, _) = inquiry.topology.links.get(link.0 as usize)?.owner else { return None };
    let rated = design.thing(thing).rated(key::SUPPLY)?;
    if matches!(rated.origin, Origin::Default(_)) {
        return None;
    }
    let (least, _) = design.thing(thing).range::<Volts>(key::SUPPLY)?;
    let volts = point.supply_volts(design, inquiry.topology, thing)?;
    let mode = design.modes.get(point.mode.index())?;
    if volts >= least || volts.0 < FED * least.0 {
        return None;
    }
    let name = naming::thing(design, thing);
    let corner = naming::corner(design, point.corner);
    let (gets, needs) = told_apart(volts.0, least.0, base_symbol(Dimension::Voltage));
    let finding = Finding {
        rule: RULE.name,
        severity: Severity::Malfunction,
        span: design.thing(thing).span,
        subject: design.thing(thing).name.clone(),
        message: format!("{name} gets {gets} in `{}` with {corner}, it needs {needs}", mode.name),
        label: "not enough reaches it".to_owned(),
        related: Vec::new(),
        figures: vec![
            Figure::new(
                "supply voltage",
                volts,
                format!("network solved in mode `{}` with {corner}", mode.name),
            ),
            Figure::new("lowest supply voltage", least, "as stated"),
        ],
        because: Vec::new(),
        mode: Some(mode.name.clone()),
        help: vec![Mend::told("use a thicker or shorter feed, a stiffer source, or less load at once")],
        accepted: None,
    };
    Some((volts, finding))
}

fn finding(inquiry: &Inquiry<'_>, point: &Point, link: LinkId, element: ElementId) -> Option<Finding> {
    let design = inquiry.design;
    let mode = design.modes.get(point.mode.index())?;
    let name = naming::link(design, inquiry.topology, link);
    let span = naming::link_span(design, inquiry.topology, link)?;
    let asked = match point.network.elements.get(element.0 as usize)?.law {
        // Of a converter the power follows from its output: there is no figure before there is a solution.
        Law::PowerLoad { watts, .. } if watts > Watts(0.0) => Some(watts),
        _ => None,
    };
    let asks = asked.map_or_else(|| "asks for more".to_owned(), |watts| format!("asks for {watts}"));
    let more = if asked.is_some() { ", more" } else { "" };
    let corner = naming::corner(design, point.corner);
    let derived = if mode.origin == ModeOrigin::Derived { " (derived)" } else { "" };
    Some(Finding {
        rule: RULE.name,
        severity: Severity::Malfunction,
        span,
        subject: name.trim_matches('`').to_owned(),
        message: format!(
            "{name} {asks} in `{}`{derived}{more} than its source can carry to it, with {corner}",
            mode.name
        ),
        label: "no working point".to_owned(),
        related: Vec::new(),
        figures: asked
            .map(|watts| Figure::new("power asked for", watts, "as declared"))
            .into_iter()
            .collect(),
        because: Vec::new(),
        mode: Some(mode.name.clone()),
        help: vec![Mend::told("use a thicker or shorter feed, a stiffer source, or less load at once")],
        accepted: None,
    })
}
