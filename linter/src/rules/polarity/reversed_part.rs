//! A part connected backwards: its negative on a positive rail, its positive on the negative rail.

use wattle_grammar::kind::{KindId, Role};

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

/// The rule.
pub static RULE: Rule = Rule {
    name: "polarity.reversed-part",
    severity: Severity::Danger,
    summary: "The part is connected backwards: its negative terminal on a positive rail, its positive one on the negative rail.",
    why: "Drivers and regulators conduct hard through their transistors' own diodes when reversed and burn; electronics \
          die; a reversed charger drives the pack the wrong way.",
    condition: "A source reaches the part's negative supply terminal through conductors, contacts and devices, and the \
                part's positive supply terminal leads to that source's negative rail. Where a mated connector with \
                swapped ways is the cause, that is reported instead.",
    source: Source::Physics(
        "the voltage across the part has the opposite sign to the one its terminals are marked for",
    ),
    legitimate: "Never for a marked part. A part that works either way round has no marked terminals: a resistor, a motor.",
    mend: "Exchange the two wires at the part.",
    bad: r#"wattle 1
robot "Hut" { ambient 30 degC }
battery PACK lead-acid 6S 7 Ah 20 mohm
fuse F1 5 A blade
light LAMP 12 V { typical 1 A }
wire W1 PACK.pos to F1.line 14 AWG red 100 mm
wire W2 F1.load to LAMP.neg 14 AWG red 300 mm
wire W3 LAMP.pos to PACK.neg 14 AWG black 400 mm
"#,
    good: r#"wattle 1
robot "Hut" { ambient 30 degC }
battery PACK lead-acid 6S 7 Ah 20 mohm
fuse F1 5 A blade
light LAMP 12 V { typical 1 A }
wire W1 PACK.pos to F1.line 14 AWG red 100 mm
wire W2 F1.load to LAMP.pos 14 AWG red 300 mm
wire W3 LAMP.neg to PACK.neg 14 AWG black 400 mm
"#,
    check,
};

fn check(inquiry: &mut Inquiry<'_>) {
    let findings: Vec<Finding> = inquiry
        .design
        .things()
        .filter_map(|(id, _)| {
            let (plus, minus) = poles(inquiry.design, id)?;
            let feed = feeds_backwards(inquiry, id, plus, minus)?;
            Some(finding(inquiry, id, plus, minus, feed))
        })
        .collect();
    for finding in findings {
        inquiry.report(finding);
    }
}

/// The supply terminals of a load, or the poles of a charger or supply; batteries are judged as a ring of sources.
fn poles(design: &Design, id: ThingId) -> Option<(TerminalId, TerminalId)> {
    let outward = matches!(design.thing(id).id(), KindId::Charger | KindId::Supply | KindId::Generator);
    let (plus, minus) = if outward {
        (Role::SourcePositive, Role::SourceNegative)
    } else {
        (Role::SupplyPositive, Role::SupplyNegative)
    };
    let with = |role| design.terminals_of(id).find(|(_, terminal)| terminal.role == role).map(|(at, _)| at);
    Some((with(plus)?, with(minus)?))
}

fn feeds_backwards<'a>(
    inquiry: &Inquiry<'a>,
    id: ThingId,
    plus: TerminalId,
    minus: TerminalId,
) -> Option<&'a Feed> {
    let node = |terminal: TerminalId| inquiry.topology.node_of.get(terminal.index()).copied();
    let (plus, minus) = (node(plus)?, node(minus)?);
    inquiry.trace.feeds_at(minus).find(|feed| {
        let home = inquiry.trace.rail(feed.minus);
        feed.thing != id
            && feed.at(plus).is_none()
            && inquiry.trace.leads_home(inquiry.topology, plus, home, inquiry.trace.rail(minus))
            && !through_swapped_mate(inquiry, &feed.path_to(inquiry.topology, minus))
    })
}

fn through_swapped_mate(inquiry: &Inquiry<'_>, path: &[LinkId]) -> bool {
    path.iter().filter_map(|link| inquiry.topology.links.get(link.0 as usize)).any(|link| match link.owner {
        Owner::MatedWay(mate, _) => {
            link.nature == Nature::Mated && inquiry.trace.swaps.iter().any(|swap| swap.mate == mate)
        }
        _ => false,
    })
}

fn finding(inquiry: &Inquiry<'_>, id: ThingId, plus: TerminalId, minus: TerminalId, feed: &Feed) -> Finding {
    let design = inquiry.design;
    let thing = design.thing(id);
    let name = naming::thing(design, id);
    let (plus_name, minus_name) = (naming::terminal(design, plus), naming::terminal(design, minus));
    let source = naming::feed(design, feed);
    Finding {
        rule: RULE.name,
        severity: Severity::Danger,
        span: thing.span,
        subject: thing.name.clone(),
        message: format!(
            "{name} is connected backwards: {source} ({}) reaches {minus_name}, and {plus_name} leads to the negative",
            feed.volts
        ),
        label: format!("{minus_name} is positive here"),
        related: wires_at(inquiry, &[plus, minus]),
        figures: vec![Figure::new("reverse voltage", feed.volts, "full voltage of the source")],
        because: Vec::new(),
        mode: None,
        help: exchange(inquiry, plus, minus).into_iter().collect(),
        accepted: None,
    }
}

fn wires_at(inquiry: &Inquiry<'_>, terminals: &[TerminalId]) -> Vec<(wattle_grammar::span::Span, String)> {
    let ends = inquiry.design.wires.iter().flat_map(|wire| [wire.from, wire.to]);
    ends.filter(|(terminal, _)| terminals.contains(terminal))
        .map(|(_, span)| (span, "this end".to_owned()))
        .collect()
}

/// The two terminals exchanged in every wire end; none where a tie is involved.
fn exchange(inquiry: &Inquiry<'_>, plus: TerminalId, minus: TerminalId) -> Option<Mend> {
    let design = inquiry.design;
    let (plus_name, minus_name) = (design.terminal_name(plus), design.terminal_name(minus));
    let edits: Vec<Edit> = design
        .wires
        .iter()
        .flat_map(|wire| [wire.from, wire.to])
        .filter_map(|(terminal, span)| match terminal {
            at if at == plus => Some(Edit { span, text: minus_name.clone() }),
            at if at == minus => Some(Edit { span, text: plus_name.clone() }),
            _ => None,
        })
        .collect();
    (edits.len() >= 2).then(|| Mend {
        title: format!("exchange the wires at `{plus_name}` and `{minus_name}`"),
        edits,
        sure: false,
    })
}
