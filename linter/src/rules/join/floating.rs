//! A powered part that no source reaches.

use std::collections::{BTreeMap, BTreeSet};

use wattle_grammar::kind::{Family, KindId, Role};

use crate::{
    design::{TerminalId, ThingId},
    finding::{Finding, Mend, Severity},
    inquiry::Inquiry,
    naming,
    rule::{Rule, Source},
    topology::{Nature, Owner},
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
                contacts, or the negative leads home to none of the sources that reach the positive, or both lie on one \
                rail. Parts that float together are one finding. A terminal that is wired the wrong way round, or a \
                connector whose halves disagree, is reported as that.",
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
    Difference,
}

fn check(inquiry: &mut Inquiry<'_>) {
    let mut groups: BTreeMap<(Lack, u32), Vec<ThingId>> = BTreeMap::new();
    let around = Surroundings::new(inquiry);
    for (id, _) in inquiry.design.things() {
        if inquiry.design.is_in_doubt(id) {
            continue;
        }
        let lacking = supplies(inquiry, id).into_iter().find_map(|(plus, minus)| {
            lack(inquiry, &around, id, (plus, minus)).map(|lack| (lack, plus, minus))
        });
        let Some((lack, plus, minus)) = lacking else { continue };
        let terminal = if lack == Lack::Return { minus } else { plus };
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

/// The supply terminals of a part that needs a supply. A side of an isolator with nothing on its positive needs none.
fn supplies(inquiry: &Inquiry<'_>, id: ThingId) -> Vec<(TerminalId, TerminalId)> {
    let design = inquiry.design;
    let kind = design.thing(id).kind;
    let named = |plus, minus| Some((design.terminal_named(id, plus)?, design.terminal_named(id, minus)?));
    if kind.id == KindId::Isolator {
        let sides = [named("pos1", "neg1"), named("pos2", "neg2")];
        return sides.into_iter().flatten().filter(|(plus, _)| is_joined(inquiry, *plus)).collect();
    }
    let is_powered = matches!(kind.family, Family::Load | Family::Conversion | Family::Control);
    let with = |role| design.terminals_of(id).find(|(_, terminal)| terminal.role == role).map(|(at, _)| at);
    let supply = with(Role::SupplyPositive).zip(with(Role::SupplyNegative));
    supply.filter(|_| is_powered).into_iter().collect()
}

/// Whether anything but the inside of its own thing is at a terminal.
fn is_joined(inquiry: &Inquiry<'_>, terminal: TerminalId) -> bool {
    let Some(node) = inquiry.topology.node(terminal) else { return false };
    let thing = inquiry.design.terminal(terminal).thing;
    let links = inquiry.topology.links_at.get(node.0 as usize).into_iter().flatten();
    links
        .filter_map(|link| inquiry.topology.link(*link))
        .any(|link| !matches!(link.owner, Owner::Thing(owner, _) if owner == thing))
}

/// What a part lacks.
fn lack(
    inquiry: &Inquiry<'_>,
    around: &Surroundings,
    id: ThingId,
    (plus, minus): (TerminalId, TerminalId),
) -> Option<Lack> {
    let (plus, minus) = (inquiry.topology.node(plus)?, inquiry.topology.node(minus)?);
    let trace = inquiry.trace;
    let rails = (trace.rail(plus), trace.rail(minus));
    if around.tells(id, (trace.half_rail(plus), trace.half_rail(minus))) {
        return None;
    }
    if rails.0 == rails.1 {
        return Some(Lack::Difference);
    }
    // Packs in parallel share their negative rail: each way home is looked for once.
    let homes: BTreeSet<RailId> = trace.feeds_at(plus).map(|feed| trace.rail(feed.minus)).collect();
    if homes.is_empty() {
        let reversed = !trace.indices_at(minus).is_empty();
        return (!reversed && !around.joins(id, Side::Plus, rails.0)).then_some(Lack::Feed);
    }
    let leads = |home: &RailId| trace.leads_home_through_sources(inquiry.topology, minus, *home, rails.0);
    (!homes.iter().any(leads) && !around.joins(id, Side::Minus, rails.1)).then_some(Lack::Return)
}

/// What hangs behind a clashing way has the wrong pole, and that is the connector's mistake; what hangs on a source's own
/// half has not.
fn behind_swaps(inquiry: &Inquiry<'_>) -> BTreeSet<RailId> {
    let trace = inquiry.trace;
    let poles = trace.feeds.iter().flat_map(|feed| [feed.plus, feed.minus]);
    let fed: BTreeSet<RailId> = poles.map(|node| trace.half_rail(node)).collect();
    let ways =
        trace.swaps.iter().flat_map(|swap| swap.clashes.iter().flat_map(|(first, second)| [*first, *second]));
    let rails = ways.filter_map(|way| inquiry.topology.node(way)).map(|node| trace.half_rail(node));
    rails.filter(|rail| !fed.contains(rail)).collect()
}

/// Which supply terminal of a part is looked at.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Side {
    Plus,
    Minus,
}

/// What lies around the parts, once for all of them.
#[derive(Default)]
struct Surroundings {
    /// Whether a source is shorted or reversed: what it feeds is that mistake's.
    idle: bool,
    /// Parts that stand backwards.
    backwards: BTreeSet<ThingId>,
    /// The rails behind the clashing ways of connectors whose halves disagree, on the halves that have no source.
    swapped: BTreeSet<RailId>,
    /// The rails that a diode, a resistor or a coil joins to the rest.
    through: BTreeSet<RailId>,
    /// The loads whose opposite terminal lies on a rail: what hangs there with this side is in series with them.
    series: BTreeMap<(Side, RailId), Vec<ThingId>>,
}

impl Surroundings {
    fn new(inquiry: &Inquiry<'_>) -> Self {
        let trace = inquiry.trace;
        let mut around = Self {
            idle: trace.feeds.iter().any(|feed| feed.shorted || feed.reversed),
            backwards: trace.backwards.iter().map(|one| one.thing).collect(),
            swapped: behind_swaps(inquiry),
            ..Self::default()
        };
        for link in &inquiry.topology.links {
            let (a, b) = (trace.rail(link.a), trace.rail(link.b));
            match (link.nature, link.owner) {
                (Nature::Resistor(_) | Nature::Diode | Nature::Coil(_), _) => around.through.extend([a, b]),
                (Nature::Load, Owner::Thing(owner, _)) => {
                    around.series.entry((Side::Minus, a)).or_default().push(owner);
                    around.series.entry((Side::Plus, b)).or_default().push(owner);
                }
                _ => {}
            }
        }
        around
    }

    /// Whether another mistake tells of this part already.
    fn tells(&self, id: ThingId, (plus, minus): (RailId, RailId)) -> bool {
        let swapped = self.swapped.contains(&plus) || self.swapped.contains(&minus);
        self.idle || swapped || self.backwards.contains(&id)
    }

    /// Whether something other than a conductor joins the rail to the rest.
    fn joins(&self, id: ThingId, side: Side, rail: RailId) -> bool {
        let in_series = self.series.get(&(side, rail)).into_iter().flatten().any(|owner| *owner != id);
        self.through.contains(&rail) || in_series
    }
}

/// What completes the circuit.
fn mend(lack: Lack) -> &'static str {
    match lack {
        Lack::Feed => {
            "join its positive terminal to a rail that a source feeds, behind a device that suits the wire"
        }
        Lack::Return => "run a return of the same size beside its feed, to the source that feeds it",
        Lack::Difference => "move one of its supply terminals to the other pole",
    }
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
        Lack::Difference => (
            format!("{names} {verb} no voltage: both supply terminals are on the same rail"),
            "plus and minus of this are joined",
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
        help: vec![Mend::told(mend(lack))],
        accepted: None,
    })
}
