//! Two mated connector halves that put plus on minus.

use crate::{
    design::TerminalId,
    finding::{Edit, Finding, Mend, Severity},
    inquiry::Inquiry,
    naming,
    rule::{Rule, Source},
    trace::Swap,
};

/// The rule.
pub static RULE: Rule = Rule {
    name: "polarity.swapped-ways",
    severity: Severity::Danger,
    summary: "The halves of a mated connector disagree: a way that is positive in one half is negative or a signal in the other.",
    why: "Each half looks right on its own drawing. Joined, the supply meets ground or an input: a short, or a dead part. \
          It is the commonest harness mistake, because one half is drawn from its wire side and the other from its face.",
    condition: "Each half is judged on its own, with the connector open: a way whose rail holds positive supply terminals \
                and no negative ones is positive, the other way round it is negative, with signals only a signal. Ways \
                that are joined and disagree about the supply are reported.",
    source: Source::CommonPractice(
        "harness inspection: pin maps compared half against half before first mating",
    ),
    legitimate: "A cable that crosses over on purpose: state `crossover` on the mate. Halves counted from opposite sides: \
                 state `mirrored`.",
    mend: "Re-pin one half, or state that the halves are mirrored if that is how the metal is.",
    bad: r#"wattle 1
robot "Hut" { ambient 30 degC }
battery PACK lead-acid 6S 7 Ah 20 mohm
fuse F1 5 A blade
plug P1 2 way
socket J1 2 way
light LAMP 12 V { typical 1 A }
wire W1 PACK.pos to F1.line 14 AWG red 100 mm
wire W2 F1.load to J1.1 14 AWG red 300 mm
wire W3 J1.2 to PACK.neg 14 AWG black 400 mm
wire W4 P1.2 to LAMP.pos 14 AWG red 300 mm
wire W5 P1.1 to LAMP.neg 14 AWG black 300 mm
mate P1 with J1
"#,
    good: r#"wattle 1
robot "Hut" { ambient 30 degC }
battery PACK lead-acid 6S 7 Ah 20 mohm
fuse F1 5 A blade
plug P1 2 way
socket J1 2 way
light LAMP 12 V { typical 1 A }
wire W1 PACK.pos to F1.line 14 AWG red 100 mm
wire W2 F1.load to J1.1 14 AWG red 300 mm
wire W3 J1.2 to PACK.neg 14 AWG black 400 mm
wire W4 P1.1 to LAMP.pos 14 AWG red 300 mm
wire W5 P1.2 to LAMP.neg 14 AWG black 300 mm
mate P1 with J1
"#,
    check,
};

fn check(inquiry: &mut Inquiry<'_>) {
    let findings: Vec<Finding> = inquiry.trace.swaps.iter().map(|swap| finding(inquiry, swap)).collect();
    for finding in findings {
        inquiry.report(finding);
    }
}

fn finding(inquiry: &Inquiry<'_>, swap: &Swap) -> Finding {
    let design = inquiry.design;
    let mate = &design.mates[swap.mate.index()];
    let (first, second) = (naming::thing(design, mate.first.0), naming::thing(design, mate.second.0));
    let ways: Vec<String> = swap.clashes.iter().map(|(a, b)| pair(inquiry, *a, *b)).collect();
    let because = if swap.mirrored_agrees && mate.ways.len() > 2 {
        vec![
            "counted from the other side the halves agree: one of the two was drawn in mirror image"
                .to_owned(),
        ]
    } else {
        Vec::new()
    };
    Finding {
        rule: RULE.name,
        severity: Severity::Danger,
        span: mate.span,
        subject: design.thing(mate.first.0).name.clone(),
        message: format!(
            "{first} and {second} disagree on {} of {} ways: {}",
            ways.len(),
            mate.ways.len(),
            ways.join("; ")
        ),
        label: "joins plus to what is not plus".to_owned(),
        related: vec![
            (design.thing(mate.first.0).span, "one half".to_owned()),
            (design.thing(mate.second.0).span, "the other half".to_owned()),
        ],
        figures: Vec::new(),
        because,
        mode: None,
        help: help(inquiry, swap),
        accepted: None,
    }
}

fn pair(inquiry: &Inquiry<'_>, a: TerminalId, b: TerminalId) -> String {
    let design = inquiry.design;
    format!(
        "{} ({}) meets {} ({})",
        naming::terminal(design, a),
        far(inquiry, a),
        naming::terminal(design, b),
        far(inquiry, b)
    )
}

/// What a way is wired to in its own half: the far end of its first wire.
fn far(inquiry: &Inquiry<'_>, way: TerminalId) -> String {
    let wires = inquiry.design.wires.iter();
    wires
        .filter_map(|wire| match (wire.from.0 == way, wire.to.0 == way) {
            (true, _) => Some(wire.to.0),
            (_, true) => Some(wire.from.0),
            _ => None,
        })
        .map(|terminal| format!("from {}", naming::terminal(inquiry.design, terminal)))
        .next()
        .unwrap_or_else(|| "no wire".to_owned())
}

/// Exchanging two ways of the second half, where that clears it.
fn help(inquiry: &Inquiry<'_>, swap: &Swap) -> Vec<Mend> {
    let Some((a, b)) = swap.exchange else { return Vec::new() };
    let (name_a, name_b) = (inquiry.design.terminal_name(a), inquiry.design.terminal_name(b));
    let mut edits = Vec::new();
    for (terminal, span) in inquiry.design.wires.iter().flat_map(|wire| [wire.from, wire.to]) {
        if terminal == a {
            edits.push(Edit { span, text: name_b.clone() });
        } else if terminal == b {
            edits.push(Edit { span, text: name_a.clone() });
        }
    }
    vec![Mend { title: format!("exchange the wires at `{name_a}` and `{name_b}`"), edits, sure: false }]
}
