//! A part connected backwards: its negative on a positive rail, its positive on the negative rail.

use crate::{
    design::TerminalId,
    finding::{Edit, Finding, Mend, Severity},
    inquiry::Inquiry,
    naming,
    quantity_text::Figure,
    rule::{Rule, Source},
    trace::{Backwards, Feed},
};

/// So many parts are named; the rest is counted.
const NAMED: usize = 4;

/// The rule.
pub static RULE: Rule = Rule {
    name: "polarity.reversed-part",
    severity: Severity::Danger,
    summary: "The part is connected backwards: its negative terminal on a positive rail, its positive one on the negative rail.",
    why: "Drivers and regulators conduct hard through their transistors' own diodes when reversed and burn; electronics \
          die; a reversed charger drives the pack the wrong way.",
    condition: "A source reaches the part's negative supply terminal through conductors, contacts and devices, and the \
                part's positive supply terminal leads to that source's negative rail, and no source feeds it the right \
                way round. Where a source has two parts or more behind it and all of them are backwards, the source is \
                reported in their place. Where a mated connector with swapped ways is the cause, that is reported \
                instead.",
    source: Source::Physics(
        "the voltage across the part has the opposite sign to the one its terminals are marked for",
    ),
    legitimate: "Never for a marked part. A part that works either way round has no marked terminals: a resistor, a motor. Of a \
                 capacitor that does, state `not polarised`.",
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
    let told = inquiry.trace.backwards.iter().filter(|one| one.beside.is_none());
    let findings: Vec<Finding> = told.filter_map(|one| finding(inquiry, one)).collect();
    for finding in findings {
        inquiry.report(finding);
    }
}

fn finding(inquiry: &Inquiry<'_>, one: &Backwards) -> Option<Finding> {
    let design = inquiry.design;
    let feed = inquiry.trace.feeds.get(one.feed)?;
    let thing = design.thing(one.thing);
    let minus_name = naming::terminal(design, one.minus);
    let label = if one.parts.is_empty() {
        format!("{minus_name} is positive here")
    } else {
        "every part behind it is backwards".to_owned()
    };
    Some(Finding {
        rule: RULE.name,
        severity: Severity::Danger,
        span: thing.span,
        subject: thing.name.clone(),
        message: message(inquiry, one, feed),
        label,
        related: wires_at(inquiry, &[one.plus, one.minus]),
        figures: vec![Figure::new("reverse voltage", feed.volts, "full voltage of the source")],
        because: Vec::new(),
        mode: None,
        help: exchange(inquiry, one).into_iter().collect(),
        accepted: None,
    })
}

fn message(inquiry: &Inquiry<'_>, one: &Backwards, feed: &Feed) -> String {
    let design = inquiry.design;
    let name = naming::thing(design, one.thing);
    let (plus, minus) = (naming::terminal(design, one.plus), naming::terminal(design, one.minus));
    if one.parts.is_empty() {
        let source = naming::feed(design, feed);
        return format!(
            "{name} is connected backwards: {source} ({}) reaches {minus}, and {plus} leads to the negative",
            feed.volts
        );
    }
    let parts: Vec<String> = one.parts.iter().take(NAMED).map(|part| naming::thing(design, *part)).collect();
    let more = one.parts.len() - parts.len();
    let more = if more > 0 { format!(" and {more} more") } else { String::new() };
    let beside = inquiry.trace.backwards.iter().filter(|other| other.beside == Some(one.thing));
    let sources: Vec<String> =
        std::iter::once(name).chain(beside.map(|other| naming::thing(design, other.thing))).collect();
    let (are, their) = if sources.len() == 1 { ("is", "its") } else { ("are", "their") };
    format!(
        "{} ({}) {are} connected backwards: {their} plus reaches the negative terminals of {}{more}",
        naming::listed(&sources),
        feed.volts,
        naming::listed(&parts)
    )
}

fn wires_at(inquiry: &Inquiry<'_>, terminals: &[TerminalId]) -> Vec<(wattle_grammar::span::Span, String)> {
    let ends = inquiry.design.wires.iter().flat_map(|wire| [wire.from, wire.to]);
    ends.filter(|(terminal, _)| terminals.contains(terminal))
        .map(|(_, span)| (span, "this end".to_owned()))
        .collect()
}

/// The terminals exchanged in every wire end, of all parts that are told together; none where one is held by a tie.
fn exchange(inquiry: &Inquiry<'_>, one: &Backwards) -> Option<Mend> {
    let beside = inquiry.trace.backwards.iter().filter(|other| other.beside == Some(one.thing));
    let (mut edits, mut names) = (Vec::new(), Vec::new());
    for (plus, minus) in std::iter::once(one).chain(beside).map(|one| (one.plus, one.minus)) {
        let exchanged = exchanged(inquiry, plus, minus);
        if exchanged.len() < 2 {
            return None;
        }
        edits.extend(exchanged);
        names.push(format!(
            "{} and {}",
            naming::terminal(inquiry.design, plus),
            naming::terminal(inquiry.design, minus)
        ));
    }
    Some(Mend { title: format!("exchange the wires at {}", names.join(", and at ")), edits, sure: false })
}

fn exchanged(inquiry: &Inquiry<'_>, plus: TerminalId, minus: TerminalId) -> Vec<Edit> {
    let design = inquiry.design;
    let other = |terminal: TerminalId| match terminal {
        at if at == plus => Some(minus),
        at if at == minus => Some(plus),
        _ => None,
    };
    let ends = design.wires.iter().flat_map(|wire| [wire.from, wire.to]);
    ends.filter_map(|(terminal, span)| Some(Edit { span, text: design.terminal_name(other(terminal)?) }))
        .collect()
}
