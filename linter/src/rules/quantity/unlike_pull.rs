//! A pull-up, pull-down or terminating resistor far from what such resistors have: `10 Ω` for `10 kΩ`.

use wattle_grammar::{
    kind::{KindId, Role, key},
    quantity::{Dimension, Ohms, Quantity},
};

use super::report;
use crate::{
    design::{Rated, RatedValue, ThingId},
    finding::{Finding, Mend, Severity},
    inquiry::Inquiry,
    naming,
    rule::{Rule, Source},
    slips::{self, Entry, between},
    topology::{Nature, sets::Sets},
};

/// The rule.
pub static RULE: Rule = Rule {
    name: "quantity.unlike-pull",
    severity: Severity::Malfunction,
    summary: "A resistor that holds or ends a signal line has a thousand times too little or too much.",
    why: "A pull-up of 10 Ω instead of 10 kΩ draws hundreds of milliamperes through the output that pulls the line low and \
          destroys it; one of 10 MΩ holds nothing, and the line picks up noise.",
    condition: "A pull-up or pull-down has less than 100 Ω or more than 2 MΩ; a resistor that ends a line has less than \
                20 Ω or more than 2 kΩ. As such counts the `resistance` on a `port` line with `pull-up`, `pull-down` or \
                `terminated`, and a `resistor` between a supply and a line on which there are only signal terminals, \
                connectors and switch contacts.",
    source: Source::CommonPractice("pull resistors of 1 kΩ to 100 kΩ; lines ended with 50 Ω to 150 Ω"),
    legitimate: "A value that was measured: write `measured` and the day behind it. Or say why it is right: `confirmed \"…\"`.",
    mend: "Write the value with its prefix, `10 kΩ`.",
    bad: r#"wattle 1
robot "Hut" { ambient 30 degC }
battery PACK lead-acid 6S 7 Ah 20 mohm
fuse F1 2 A blade
controller CTRL 10 V .. 15 V { typical 100 mA; signals 2; port s1 input pull-up 10 Ω }
switch S1 1 A
wire W1 PACK.pos to F1.line 18 AWG red 100 mm
wire W2 F1.load to CTRL.pos 18 AWG red 300 mm
wire W3 CTRL.neg to PACK.neg 18 AWG black 400 mm
wire W4 CTRL.s1 to S1.1 24 AWG white 300 mm
wire W5 S1.2 to CTRL.neg 24 AWG black 300 mm
"#,
    good: r#"wattle 1
robot "Hut" { ambient 30 degC }
battery PACK lead-acid 6S 7 Ah 20 mohm
fuse F1 2 A blade
controller CTRL 10 V .. 15 V { typical 100 mA; signals 2; port s1 input pull-up 10 kΩ }
switch S1 1 A
wire W1 PACK.pos to F1.line 18 AWG red 100 mm
wire W2 F1.load to CTRL.pos 18 AWG red 300 mm
wire W3 CTRL.neg to PACK.neg 18 AWG black 400 mm
wire W4 CTRL.s1 to S1.1 24 AWG white 300 mm
wire W5 S1.2 to CTRL.neg 24 AWG black 300 mm
"#,
    check,
};

/// What a resistor that holds a line can have, ohm.
const PULL: (Ohms, Ohms) = (Ohms(100.0), Ohms(2e6));
/// What a resistor that ends a line can have, ohm.
const END: (Ohms, Ohms) = (Ohms(20.0), Ohms(2e3));

fn check(inquiry: &mut Inquiry<'_>) {
    let found = find(inquiry);
    report(inquiry, found);
}

pub(super) fn find(inquiry: &Inquiry<'_>) -> Vec<Finding> {
    let beyond = |rated: &Rated| !within(rated, PULL) || !within(rated, END);
    let entries = slips::entries(inquiry, |row| row.key == key::RESISTANCE);
    let suspected =
        entries.iter().filter(|entry| entry.rated.standing.measured.is_none() && beyond(entry.rated));
    let mut lines = None;
    let finding = |entry: &Entry<'_>| match entry.port {
        Some(port) => {
            let (what, span) = of_port(&port.rated)?;
            finding(entry, what, span)
        }
        None => {
            let resistor = pulling(inquiry, entry.subject)?;
            let lines = lines.get_or_insert_with(|| Lines::new(inquiry));
            lines.holds(inquiry, resistor).then(|| finding(entry, "as a pull-up or pull-down", PULL))?
        }
    };
    suspected.filter_map(finding).collect()
}

fn within(rated: &Rated, span: (Ohms, Ohms)) -> bool {
    match &rated.value {
        RatedValue::Quantity(found) => (span.0.0..=span.1.0).contains(&found.value),
        _ => true,
    }
}

/// What the resistor on a port line does, and what it can have.
fn of_port(port: &[Rated]) -> Option<(&'static str, (Ohms, Ohms))> {
    let pull = port.iter().find(|rated| rated.key == key::PULL)?;
    match &pull.value {
        RatedValue::Word(word) => Some(match word.as_str() {
            "pull-up" => ("as a pull-up", PULL),
            "pull-down" => ("as a pull-down", PULL),
            "terminated" => ("to end a line", END),
            _ => return None,
        }),
        _ => None,
    }
}

/// The resistor of this name, when it is one whose value could not hold a line.
fn pulling(inquiry: &Inquiry<'_>, name: &str) -> Option<ThingId> {
    let (id, thing) = inquiry.design.things().find(|(_, thing)| thing.name == name)?;
    let rated = thing.rated(key::RESISTANCE)?;
    (thing.id() == KindId::Resistor && !within(rated, PULL)).then_some(id)
}

fn finding(entry: &Entry<'_>, what: &str, span: (Ohms, Ohms)) -> Option<Finding> {
    let RatedValue::Quantity(found) = entry.rated.value else { return None };
    if found.dimension != Dimension::Resistance || within(entry.rated, span) {
        return None;
    }
    let limit = |ohms: Ohms| Quantity { value: ohms.0, dimension: Dimension::Resistance, unit: "" };
    let message = format!(
        "{} has {found} {what}; {} is usual",
        naming::quoted(entry.subject),
        between(limit(span.0), limit(span.1), "to")
    );
    let mut finding = entry.finding(&RULE, message, "prefix slipped?");
    let meant = slips::meant(found, (span.0.0, span.1.0));
    finding.help = meant.iter().take(2).map(|meant| entry.write(&meant.to_string())).collect();
    finding.help.push(Mend::told(format!(
        "if {found} was measured, write `resistance {found}` in the block with `measured` and the day behind it"
    )));
    Some(finding)
}

/// The lines of the robot: what wires and connectors join, and which roles there are on each.
struct Lines {
    sets: Sets,
    roles: Vec<Vec<(ThingId, Role)>>,
}

impl Lines {
    fn new(inquiry: &Inquiry<'_>) -> Self {
        let topology = inquiry.topology;
        let mut sets = Sets::new(topology.nodes as usize);
        for link in topology.links.iter().filter(|link| matches!(link.nature, Nature::Wire | Nature::Mated)) {
            sets.join(link.a.0, link.b.0);
        }
        let mut roles = vec![Vec::new(); topology.nodes as usize];
        for (terminal, node) in inquiry.design.terminals.iter().zip(&topology.node_of) {
            if let Some(found) = roles.get_mut(sets.root(node.0) as usize) {
                found.push((terminal.thing, terminal.role));
            }
        }
        Self { sets, roles }
    }

    /// Whether a resistor stands between a line of signals only and a supply.
    fn holds(&mut self, inquiry: &Inquiry<'_>, resistor: ThingId) -> bool {
        let Some((_, link)) = inquiry.topology.inside(resistor).next() else { return false };
        let ends = [link.a, link.b].map(|node| self.sets.root(node.0) as usize);
        let [first, second] = ends.map(|root| self.roles.get(root).map_or(&[][..], Vec::as_slice));
        (carries_signals(inquiry, first, resistor) && is_supply(second))
            || (carries_signals(inquiry, second, resistor) && is_supply(first))
    }
}

fn carries_signals(inquiry: &Inquiry<'_>, roles: &[(ThingId, Role)], resistor: ThingId) -> bool {
    let contact = |thing: ThingId| matches!(inquiry.design.thing(thing).id(), KindId::Switch | KindId::Stop);
    let fits = |(thing, role): &(ThingId, Role)| match role {
        Role::Signal | Role::Way => true,
        Role::Through => *thing == resistor || contact(*thing),
        _ => false,
    };
    roles.iter().any(|(_, role)| *role == Role::Signal) && roles.iter().all(fits)
}

fn is_supply(roles: &[(ThingId, Role)]) -> bool {
    let supply = |role: Role| {
        matches!(
            role,
            Role::SourcePositive
                | Role::SourceNegative
                | Role::OutputPositive
                | Role::OutputNegative
                | Role::SupplyPositive
                | Role::SupplyNegative
        )
    };
    roles.iter().any(|(_, role)| supply(*role))
}
