//! A relay that opens and closes for ever.

use std::collections::BTreeSet;

use crate::{
    figures::Point,
    finding::{Finding, Mend, Severity},
    inquiry::Inquiry,
    naming,
    network::Unsolved,
    rule::{Rule, Source},
    topology::LinkId,
};

/// The rule.
pub static RULE: Rule = Rule {
    name: "relay.chattering",
    severity: Severity::Damage,
    summary: "The relay has no position in which it stays: closing takes away what holds it, opening gives it back.",
    why: "The contacts hammer many times a second, arc every time, and weld. It is how a bell works, and how a contactor on a \
          sagging supply dies.",
    condition: "With the coil's solved voltage and its operate and release voltages, no position of the contacts agrees with \
                the voltages that the position itself causes, in some mode and state of charge. Relays that drive one \
                another round are one finding.",
    source: Source::Physics("fixed point of contact positions and solved coil voltages, with hysteresis"),
    legitimate: "A bell or a flasher is not a relay for this purpose.",
    mend: "Feed the coil from a node that its own contacts and the load behind them do not pull down.",
    bad: r#"wattle 1
robot "Bell" { ambient 30 degC }
battery PACK lead-acid 6S 7 Ah 20 mohm
fuse F1 3 A blade
relay K1 12 V 10 A { coil 80 mA }
wire W1 PACK.pos to F1.line 14 AWG red 100 mm
wire W2 F1.load to K1.11 18 AWG red 300 mm
wire W3 K1.12 to K1.A1 18 AWG red 300 mm
wire W4 K1.A2 to PACK.neg 18 AWG black 400 mm
"#,
    good: r#"wattle 1
robot "Bell" { ambient 30 degC }
battery PACK lead-acid 6S 7 Ah 20 mohm
fuse F1 3 A blade
relay K1 12 V 10 A { coil 80 mA }
wire W1 PACK.pos to F1.line 14 AWG red 100 mm
wire W2 F1.load to K1.A1 18 AWG red 300 mm
wire W4 K1.A2 to PACK.neg 18 AWG black 400 mm
"#,
    check,
};

fn check(inquiry: &mut Inquiry<'_>) {
    let mut told: BTreeSet<LinkId> = BTreeSet::new();
    let mut findings = Vec::new();
    for point in &inquiry.figures.points {
        let Err(Unsolved::Chatter(contacts)) = &point.outcome else { continue };
        let coils = coils(point, contacts);
        // Relays that drive one another round are one mistake, whatever the mode.
        if coils.iter().any(|coil| told.insert(*coil)) {
            let mode = inquiry.design.modes.get(point.mode.index()).map_or("", |mode| mode.name.as_str());
            findings.extend(finding(inquiry, &coils, mode));
        }
        told.extend(coils);
    }
    for finding in findings {
        inquiry.report(finding);
    }
}

/// The coils of the contacts that do not come to rest, each once, in link order.
fn coils(point: &Point, contacts: &[usize]) -> BTreeSet<LinkId> {
    let followers = contacts.iter().filter_map(|contact| point.network.followers.get(*contact));
    followers.filter_map(|follower| point.link_of(follower.coil)).collect()
}

fn finding(inquiry: &Inquiry<'_>, coils: &BTreeSet<LinkId>, mode: &str) -> Option<Finding> {
    let name = |coil: &LinkId| naming::link(inquiry.design, inquiry.topology, *coil);
    let span = |coil: &LinkId| naming::link_span(inquiry.design, inquiry.topology, *coil);
    let names: Vec<String> = coils.iter().map(name).collect();
    let [first, others @ ..] = names.as_slice() else { return None };
    let message = if others.is_empty() {
        format!("{first} chatters in `{mode}`: closed, its coil loses its voltage; open, it gets it back")
    } else {
        format!(
            "{} chatter in `{mode}`: no position of their contacts agrees with the coil voltages it causes",
            naming::listed(&names)
        )
    };
    Some(Finding {
        rule: RULE.name,
        severity: Severity::Damage,
        span: span(coils.first()?)?,
        subject: first.trim_matches('`').to_owned(),
        message,
        label: "no position in which it stays".to_owned(),
        related: coils
            .iter()
            .skip(1)
            .filter_map(span)
            .map(|span| (span, "nor this one".to_owned()))
            .collect(),
        figures: Vec::new(),
        because: Vec::new(),
        mode: Some(mode.to_owned()),
        help: vec![Mend::told(
            "feed the coil from a node that its own contacts and their load do not pull down",
        )],
        accepted: None,
    })
}
