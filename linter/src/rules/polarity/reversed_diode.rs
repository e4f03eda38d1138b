//! A diode that conducts straight from a positive rail to the negative one: a suppression diode the wrong way round.

use wattle_grammar::{
    kind::KindId,
    quantity::{Amps, Ohms, Volts},
};

use crate::{
    design::{Design, TerminalId, ThingId},
    finding::{Edit, Finding, Mend, Severity},
    inquiry::Inquiry,
    naming,
    quantity_text::Figure,
    rule::{Rule, Source},
    topology::{LinkId, Nature, Owner},
    trace::Feed,
};

/// Forward drop of a silicon diode under a fault current. Common practice.
const FORWARD: Volts = Volts(0.9);

/// The rule.
pub static RULE: Rule = Rule {
    name: "polarity.reversed-diode",
    severity: Severity::Danger,
    summary: "The diode conducts straight from a positive rail to the negative one.",
    why: "A suppression diode the wrong way round is a dead short across the supply the moment the switch closes: it blows \
          the coil's fuse, or burns the switch, or burst its own case when nothing opens.",
    condition: "A source reaches the diode's anode through conductors, contacts and devices, and its cathode leads to that \
                source's negative rail through conductors and contacts alone, so that nothing but the forward drop limits \
                the current once the contacts close.",
    source: Source::Physics("forward conduction: current = (V - 0.9 V) over the resistance of the loop"),
    legitimate: "A diode in series with a load, or one from the bus back to the battery for returned energy, is not \
                 reported: its cathode does not lead to the negative.",
    mend: "Turn it round: the cathode (ring) goes to the positive end of the coil. With a coil switched in its negative \
           lead, the cathode goes to the end that is always live.",
    bad: r#"wattle 1
robot "Hut" { ambient 30 degC }
battery PACK lead-acid 6S 7 Ah 20 mohm
fuse F1 3 A blade
switch S1 5 A
relay K1 12 V 10 A { coil 80 mA }
diode D1 1 A
wire W1 PACK.pos to F1.line 14 AWG red 100 mm
wire W2 F1.load to S1.1 18 AWG red 300 mm
wire W3 S1.2 to K1.A1 18 AWG red 300 mm
wire W4 K1.A2 to PACK.neg 18 AWG black 400 mm
tie D1.anode to K1.A1
tie D1.cathode to K1.A2
"#,
    good: r#"wattle 1
robot "Hut" { ambient 30 degC }
battery PACK lead-acid 6S 7 Ah 20 mohm
fuse F1 3 A blade
switch S1 5 A
relay K1 12 V 10 A { coil 80 mA }
diode D1 1 A
wire W1 PACK.pos to F1.line 14 AWG red 100 mm
wire W2 F1.load to S1.1 18 AWG red 300 mm
wire W3 S1.2 to K1.A1 18 AWG red 300 mm
wire W4 K1.A2 to PACK.neg 18 AWG black 400 mm
tie D1.cathode to K1.A1
tie D1.anode to K1.A2
"#,
    check,
};

fn check(inquiry: &mut Inquiry<'_>) {
    let (topology, trace) = (inquiry.topology, inquiry.trace);
    let findings: Vec<Finding> = trace
        .forward
        .iter()
        .filter_map(|forward| {
            let link = topology.links.get(forward.diode.0 as usize)?;
            let Owner::Thing(thing, _) = link.owner else { return None };
            let feed = trace.feeds.get(forward.feed)?;
            Some(finding(inquiry, thing, feed, &feed.path_to(topology, link.a)))
        })
        .collect();
    for finding in findings {
        inquiry.report(finding);
    }
}

fn finding(inquiry: &Inquiry<'_>, id: ThingId, feed: &Feed, path: &[LinkId]) -> Finding {
    let design = inquiry.design;
    let diode = design.thing(id);
    let inside = diode.id() != KindId::Diode;
    let name = naming::thing(design, id);
    let name = if inside { format!("the diode inside {name}") } else { name };
    let label = if inside { "its coil has to be turned round" } else { "its anode is on the positive side" };
    let ohms: Ohms = path.iter().filter_map(|link| resistance(inquiry, *link)).sum();
    let current = Amps(((feed.volts.0 - FORWARD.0) / (feed.resistance.0 + ohms.0).max(1e-4)).max(0.0));
    let opens = path.iter().rev().find(|link| {
        let link = inquiry.topology.links.get(link.0 as usize);
        link.is_some_and(|link| matches!(link.nature, Nature::Protective { .. }))
    });
    let because = match opens {
        Some(device) => {
            format!("{} opens, if anything does", naming::link(design, inquiry.topology, *device))
        }
        None => "nothing on the way opens".to_owned(),
    };
    let source = naming::feed(design, feed);
    Finding {
        rule: RULE.name,
        severity: Severity::Danger,
        span: diode.span,
        subject: diode.name.clone(),
        message: format!("{name} conducts from {source} straight to the negative: up to {current} forward"),
        label: label.to_owned(),
        related: vec![(design.thing(feed.thing).span, "fed from here".to_owned())],
        figures: vec![Figure::new("forward current", current, "(V_full - 0.9 V) / (R_internal + R_way)")],
        because: vec![because],
        mode: None,
        help: turn_round(design, id).into_iter().collect(),
        accepted: None,
    }
}

fn resistance(inquiry: &Inquiry<'_>, link: LinkId) -> Option<Ohms> {
    let Owner::Wire(wire) = inquiry.topology.links.get(link.0 as usize)?.owner else { return None };
    let wire = inquiry.design.wires.get(wire.index())?;
    let twenty = wattle_grammar::quantity::Celsius(20.0);
    Some(crate::physics::conductor::resistance(wire.size.as_ref()?.area, wire.length?, twenty))
}

/// Anode and cathode exchanged in every wire end and tie.
fn turn_round(design: &Design, id: ThingId) -> Option<Mend> {
    let (anode, cathode) = (design.terminal_named(id, "anode")?, design.terminal_named(id, "cathode")?);
    let wires = design.wires.iter().flat_map(|wire| [wire.from, wire.to]);
    let ties = design.ties.iter().flat_map(|tie| tie.ends.iter().copied());
    let other = |terminal: TerminalId| match terminal {
        at if at == anode => Some(cathode),
        at if at == cathode => Some(anode),
        _ => None,
    };
    let edits: Vec<Edit> = wires
        .chain(ties)
        .filter_map(|(terminal, span)| Some(Edit { span, text: design.terminal_name(other(terminal)?) }))
        .collect();
    let title = format!("turn `{}` round", design.thing(id).name);
    (!edits.is_empty()).then_some(Mend { title, edits, sure: false })
}
