//! Two supplies or regulators of different voltage on one pair of rails.

use wattle_grammar::{
    kind::{KindId, key},
    quantity::Volts,
};

use crate::{
    design::ThingId,
    finding::{Finding, Mend, Severity},
    inquiry::Inquiry,
    naming,
    quantity_text::Figure,
    rule::{Rule, Source},
    trace::{Feed, RailId},
};

/// Outputs in parallel may differ by this share of the larger by tolerance of what is written. Common practice.
const TOLERATED: f64 = 0.02;

/// The rule.
pub static RULE: Rule = Rule {
    name: "supply.unlike-parallel",
    severity: Severity::Damage,
    summary: "Supplies or regulators of different voltage are joined at their outputs.",
    why: "Nothing but copper stands between the two: the one with the higher voltage carries everything, and its voltage stands \
          on the output of the other, which is not made to be fed from there. Some let that voltage through to their input, some \
          switch off, some die; and what hangs on the rail gets the higher voltage.",
    condition: "Two supplies or regulators have their positive outputs on one rail and their negative ones on one rail \
                (conductors, mated contacts, devices, shunts), the voltages they are set to differ by more than 2 % of the \
                larger, and in some mode the output of the lower one really stands at more than its own voltage by that much.",
    source: Source::Physics("Kirchhoff's voltage law round the two outputs"),
    legitimate: "Outputs that meet through diodes or a combiner are on rails of their own and are not reported. Two that are never \
                 there at the same time are `absent` in each other's modes.",
    mend: "Join only outputs of one voltage whose maker allows it, or put a diode or combiner behind each.",
    bad: r#"wattle 1
robot "Hut" { ambient 30 degC }
supply U1 12 V 3 A { current-limit 3.5 A }
supply U2 15 V 3 A { current-limit 3.5 A }
light LAMP 12 V { supply 9 V .. 16 V; typical 1 A }
wire W1 U1.pos to LAMP.pos 16 AWG red 300 mm
wire W2 U2.pos to LAMP.pos 16 AWG red 300 mm
wire W3 LAMP.neg to U1.neg 16 AWG black 300 mm
wire W4 LAMP.neg to U2.neg 16 AWG black 300 mm
"#,
    good: r#"wattle 1
robot "Hut" { ambient 30 degC }
supply U1 12 V 3 A { current-limit 3.5 A; shares-load }
supply U2 12 V 3 A { current-limit 3.5 A; shares-load }
light LAMP 12 V { supply 9 V .. 16 V; typical 1 A }
wire W1 U1.pos to LAMP.pos 16 AWG red 300 mm
wire W2 U2.pos to LAMP.pos 16 AWG red 300 mm
wire W3 LAMP.neg to U1.neg 16 AWG black 300 mm
wire W4 LAMP.neg to U2.neg 16 AWG black 300 mm
"#,
    check,
};

/// An output that holds a voltage.
struct Output<'a> {
    feed: &'a Feed,
    rails: (RailId, RailId),
    set: Volts,
}

fn check(inquiry: &mut Inquiry<'_>) {
    let mut findings: Vec<Finding> = Vec::new();
    {
        let outputs: Vec<Output<'_>> =
            inquiry.trace.feeds.iter().filter_map(|feed| output(inquiry, feed)).collect();
        for lower in &outputs {
            let others = outputs.iter().filter(|other| other.rails == lower.rails);
            let highest = others.max_by(|one, other| one.set.0.total_cmp(&other.set.0));
            findings.extend(highest.and_then(|higher| finding(inquiry, lower, higher)));
        }
    }
    findings.into_iter().for_each(|finding| inquiry.report(finding));
}

fn output<'a>(inquiry: &Inquiry<'_>, feed: &'a Feed) -> Option<Output<'a>> {
    let thing = inquiry.design.thing(feed.thing);
    let set = match thing.id() {
        KindId::Supply => thing.get::<Volts>(key::VOLTAGE),
        KindId::Regulator if thing.flag(key::CONSTANT_CURRENT) != Some(true) => {
            thing.get::<Volts>(key::OUTPUT)
        }
        _ => None,
    }?;
    let rail = |node: crate::network::NodeId| inquiry.trace.rail_of.get(node.0 as usize).copied();
    (!feed.shorted).then_some(Output { feed, rails: (rail(feed.plus)?, rail(feed.minus)?), set })
}

fn finding(inquiry: &Inquiry<'_>, lower: &Output<'_>, higher: &Output<'_>) -> Option<Finding> {
    let most = lower.set + higher.set * TOLERATED;
    if higher.set <= most {
        return None;
    }
    let (volts, mode) = highest_on(inquiry, lower.feed).filter(|(volts, _)| *volts > most)?;
    let (design, thing) = (inquiry.design, inquiry.design.thing(lower.feed.thing));
    let name = |id: ThingId| naming::thing(design, id);
    let (low, high) = (name(lower.feed.thing), name(higher.feed.thing));
    Some(Finding {
        rule: RULE.name,
        severity: RULE.severity,
        span: thing.span,
        subject: thing.name.clone(),
        message: format!("{volts} of {high} stand on the output of {low}, which is set to {}", lower.set),
        label: format!("set to {}", lower.set),
        related: vec![(design.thing(higher.feed.thing).span, format!("{} here", higher.set))],
        figures: vec![
            Figure::new("voltage on the output", volts, format!("network solved in mode `{mode}`")),
            Figure::new("set voltage", lower.set, "as stated"),
        ],
        because: vec![format!("nothing but conductors and devices joins {low} and {high}")],
        mode: Some(mode),
        help: vec![Mend::told(
            "put a diode or a combiner behind each of them, or join outputs of one voltage only",
        )],
        accepted: None,
    })
}

/// The highest voltage on an output in any mode in which its thing is there, and the mode.
fn highest_on(inquiry: &Inquiry<'_>, feed: &Feed) -> Option<(Volts, String)> {
    let points = inquiry.figures.points.iter().filter(|point| {
        let mode = inquiry.design.modes.get(point.mode.index());
        let state = mode.and_then(|mode| mode.states.get(feed.thing.index()));
        state != Some(&crate::design::State::Open)
    });
    let across = points.filter_map(|point| Some((point.volts_across(feed.plus, feed.minus)?, point.mode)));
    let (volts, mode) = across.max_by(|one, other| one.0.0.total_cmp(&other.0.0))?;
    Some((volts, inquiry.design.modes.get(mode.index())?.name.clone()))
}
