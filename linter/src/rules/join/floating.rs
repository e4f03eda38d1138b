//! A powered part that no source reaches.

use std::collections::{BTreeMap, BTreeSet};

use wattle_grammar::kind::{Family, Role};

use crate::{
    design::{Design, TerminalId, ThingId},
    finding::{Finding, Severity},
    inquiry::Inquiry,
    naming,
    network::NodeId,
    rule::{Rule, Source},
    topology::Nature,
    trace::RailId,
};

/// The rule.
pub static RULE: Rule = Rule {
    name: "join.floating",
    severity: Severity::Malfunction,
    summary: "No source can ever feed this part: its feed or its return leads to none.",
    why: "A part with no complete circuit is dead, or finds another way home through a signal lead, a shield or the frame, \
          at a current that lead was not made for.",
    condition: "A part with supply terminals, of which the positive is reached by no source in any position of the \
                contacts, or the negative leads home to none of the sources that reach the positive. Parts that float \
                together are one finding. A terminal that is wired the wrong way round is reported as that.",
    source: Source::Physics("Kirchhoff's current law: what does not come home does not flow"),
    legitimate: "A part kept ready but not wired: remove it from the text, or leave it as a comment.",
    mend: "Complete the circuit: feed and return, side by side.",
    bad: r#"wattle 1
robot "Hut" { ambient 30 degC }
battery PACK lead-acid 6S 7 Ah 20 mohm
fuse F1 5 A blade
light LAMP 12 V { typical 1 A }
wire W1 PACK.pos to F1.line 14 AWG red 100 mm
wire W2 F1.load to LAMP.pos 14 AWG red 300 mm
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

/// Why a part floats.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Lack {
    Feed,
    Return,
}

fn check(inquiry: &mut Inquiry<'_>) {
    let mut groups: BTreeMap<(Lack, u32), Vec<ThingId>> = BTreeMap::new();
    let through_parts = rails_at_parts(inquiry);
    for (id, _) in inquiry.design.things() {
        if inquiry.design.is_in_doubt(id) {
            continue;
        }
        let Some((plus, minus)) = supply(inquiry.design, id) else { continue };
        let Some(lack) = lack(inquiry, &through_parts, plus, minus) else { continue };
        let terminal = if lack == Lack::Feed { plus } else { minus };
        let rail =
            inquiry.topology.node_of.get(terminal.index()).map_or(0, |node| inquiry.trace.rail(*node).0);
        groups.entry((lack, rail)).or_default().push(id);
    }
    let findings: Vec<Finding> =
        groups.iter().filter_map(|((lack, _), things)| finding(inquiry, *lack, things)).collect();
    for finding in findings {
        inquiry.report(finding);
    }
}

/// The supply terminals of a part that needs a supply.
fn supply(design: &Design, id: ThingId) -> Option<(TerminalId, TerminalId)> {
    let powered = matches!(design.thing(id).kind.family, Family::Load | Family::Conversion | Family::Control);
    let with = |role| design.terminals_of(id).find(|(_, terminal)| terminal.role == role).map(|(at, _)| at);
    powered.then_some(())?;
    Some((with(Role::SupplyPositive)?, with(Role::SupplyNegative)?))
}

/// What a part lacks. Whatever something other than a conductor joins to the rest (`through_parts`) does not float.
fn lack(
    inquiry: &Inquiry<'_>,
    through_parts: &BTreeSet<RailId>,
    plus: TerminalId,
    minus: TerminalId,
) -> Option<Lack> {
    let node = |terminal: TerminalId| inquiry.topology.node_of.get(terminal.index()).copied();
    let (plus, minus) = (node(plus)?, node(minus)?);
    let trace = inquiry.trace;
    if !trace.shorts.is_empty() {
        return None;
    }
    let joined = |node: NodeId| through_parts.contains(&trace.rail(node));
    // Packs in parallel share their negative rail: each way home is looked for once.
    let homes: BTreeSet<RailId> = trace.feeds_at(plus).map(|feed| trace.rail(feed.minus)).collect();
    if homes.is_empty() {
        let reversed = !trace.indices_at(minus).is_empty();
        return (!reversed && !joined(plus)).then_some(Lack::Feed);
    }
    let comes_home =
        homes.iter().any(|home| trace.leads_home(inquiry.topology, minus, *home, trace.rail(plus)));
    (!comes_home && !joined(minus)).then_some(Lack::Return)
}

/// The rails that something other than a conductor joins to the rest: a series load, a diode, a resistor.
fn rails_at_parts(inquiry: &Inquiry<'_>) -> BTreeSet<RailId> {
    let is_part = |nature: Nature| {
        matches!(
            nature,
            Nature::Resistor(_) | Nature::Diode | Nature::Coil(_) | Nature::Cells { .. } | Nature::Supply
        )
    };
    let parts = inquiry.topology.links.iter().filter(|link| is_part(link.nature));
    parts.flat_map(|link| [link.a, link.b]).map(|node| inquiry.trace.rail(node)).collect()
}

fn finding(inquiry: &Inquiry<'_>, lack: Lack, things: &[ThingId]) -> Option<Finding> {
    let design = inquiry.design;
    let first = design.thing(*things.first()?);
    let names: Vec<String> = things.iter().take(6).map(|id| naming::thing(design, *id)).collect();
    let more = things.len().saturating_sub(names.len());
    let names = naming::listed(&names) + &if more > 0 { format!(" and {more} more") } else { String::new() };
    let verb = if things.len() == 1 { "has" } else { "have" };
    let (message, label) = match lack {
        Lack::Feed => {
            (format!("{names} {verb} no feed: no source reaches the positive terminal"), "nothing feeds this")
        }
        Lack::Return => (
            format!("{names} {verb} no return: the negative terminal leads home to no source"),
            "no way home from here",
        ),
    };
    Some(Finding {
        rule: RULE.name,
        severity: Severity::Malfunction,
        span: first.span,
        subject: first.name.clone(),
        message,
        label: label.to_owned(),
        related: things
            .iter()
            .skip(1)
            .take(5)
            .map(|id| (design.thing(*id).span, "floats as well".to_owned()))
            .collect(),
        figures: Vec::new(),
        because: Vec::new(),
        mode: None,
        help: Vec::new(),
        accepted: None,
    })
}
