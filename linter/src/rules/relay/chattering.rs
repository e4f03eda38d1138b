//! A relay that opens and closes for ever.

use std::collections::BTreeMap;

use crate::{
    finding::{Finding, Severity},
    inquiry::Inquiry,
    naming,
    network::Unsolved,
    rule::{Rule, Source},
    topology::{LinkId, Owner},
};

/// The rule.
pub static RULE: Rule = Rule {
    name: "relay.chattering",
    severity: Severity::Damage,
    summary: "The relay has no position in which it stays: closing takes away what holds it, opening gives it back.",
    why: "The contacts hammer many times a second, arc every time, and weld. It is how a bell works, and how a contactor on a \
          sagging supply dies.",
    condition: "With the coil's solved voltage and its operate and release voltages, no position of the contacts agrees with \
                the voltages that the position itself causes, in some mode and state of charge.",
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
    let mut findings: BTreeMap<Owner, Finding> = BTreeMap::new();
    for point in &inquiry.figures.points {
        let Err(Unsolved::Chatter(contacts)) = &point.outcome else { continue };
        let mode = inquiry.design.modes.get(point.mode.index());
        for contact in contacts {
            let Some(follower) = point.network.followers.get(*contact) else { continue };
            let Some(coil) = point.link_of(follower.coil) else { continue };
            let Some(owner) = inquiry.topology.links.get(coil.0 as usize).map(|link| link.owner) else {
                continue;
            };
            let mode = mode.map_or("", |mode| mode.name.as_str());
            if let Some(finding) = finding(inquiry, coil, mode) {
                findings.entry(owner).or_insert(finding);
            }
        }
    }
    for finding in findings.into_values() {
        inquiry.report(finding);
    }
}

fn finding(inquiry: &Inquiry<'_>, coil: LinkId, mode: &str) -> Option<Finding> {
    let name = naming::link(inquiry.design, inquiry.topology, coil);
    Some(Finding {
        rule: RULE.name,
        severity: Severity::Damage,
        span: naming::link_span(inquiry.design, inquiry.topology, coil)?,
        subject: name.trim_matches('`').to_owned(),
        message: format!(
            "{name} chatters in `{mode}`: closed, its coil loses its voltage; open, it gets it back"
        ),
        label: "no position in which it stays".to_owned(),
        related: Vec::new(),
        figures: Vec::new(),
        because: Vec::new(),
        mode: Some(mode.to_owned()),
        help: Vec::new(),
        accepted: None,
    })
}
