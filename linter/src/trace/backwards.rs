//! Parts that stand backwards between a source and its negative, and sources behind which every part does.

use std::collections::BTreeMap;

use wattle_grammar::kind::{KindId, Role, key};

use super::{Feed, RailId, Trace};
use crate::{
    design::{Design, TerminalId, Thing, ThingId},
    network::NodeId,
    topology::{LinkId, Nature, Owner, Topology},
};

/// From this many parts on, all of them backwards on one source, it is the source that stands backwards.
const MANY: usize = 2;

/// A part, or a source, that stands backwards.
#[derive(Clone, Debug, PartialEq)]
pub struct Backwards {
    /// It.
    pub thing: ThingId,
    /// Its positive terminal.
    pub plus: TerminalId,
    /// Its negative terminal.
    pub minus: TerminalId,
    /// Index of the feed that reaches the negative terminal, in [`Trace::feeds`]; of a source behind which all parts are
    /// backwards, its own.
    pub feed: usize,
    /// The parts that are all backwards behind this source; empty when it is the part itself that is.
    pub parts: Vec<ThingId>,
    /// The source in parallel with it that is told in its place.
    pub beside: Option<ThingId>,
}

/// Everything that stands backwards, in thing order of the first part concerned.
pub(super) fn find(trace: &Trace, design: &Design, topology: &Topology) -> Vec<Backwards> {
    let mut right = vec![0_usize; trace.feeds.len()];
    let mut wrong: BTreeMap<usize, Vec<Backwards>> = BTreeMap::new();
    for (thing, _) in design.things() {
        let Some((plus, minus)) = poles(design, thing) else { continue };
        match sense(trace, topology, thing, (plus, minus)) {
            Some(Sense::Right(feed)) => right[feed] += 1,
            Some(Sense::Wrong(feed)) => {
                let part = Backwards { thing, plus, minus, feed, parts: Vec::new(), beside: None };
                if !through_swapped_mate(trace, topology, &part) {
                    wrong.entry(feed).or_default().push(part);
                }
            }
            None => {}
        }
    }
    let merged = wrong.into_iter().map(|(feed, parts)| {
        let source = trace.feeds.get(feed).filter(|_| right[feed] == 0 && parts.len() >= MANY);
        let whole = source.and_then(|source| whole_source(design, source, feed, &parts));
        whole.map_or(parts, |one| with_parallel(trace, design, one))
    });
    let mut found: Vec<Backwards> = merged.flatten().collect();
    found.sort_by_key(|one| one.parts.first().copied().unwrap_or(one.thing));
    found
}

/// The supply terminals of a load, or the poles of a charger or supply; batteries are judged as a ring of sources.
fn poles(design: &Design, id: ThingId) -> Option<(TerminalId, TerminalId)> {
    let thing = design.thing(id);
    if !has_a_right_way_round(thing) {
        return None;
    }
    let outward = matches!(thing.id(), KindId::Charger | KindId::Supply | KindId::Generator);
    let (plus, minus) = if outward {
        (Role::SourcePositive, Role::SourceNegative)
    } else {
        (Role::SupplyPositive, Role::SupplyNegative)
    };
    let with = |role| design.terminals_of(id).find(|(_, terminal)| terminal.role == role).map(|(at, _)| at);
    Some((with(plus)?, with(minus)?))
}

/// A capacitor that is not polarised has none, nor a varistor.
fn has_a_right_way_round(thing: &Thing) -> bool {
    match thing.id() {
        KindId::Capacitor => thing.flag(key::POLARISED) != Some(false),
        KindId::Clamp => thing.word(key::STYLE) != Some("varistor"),
        _ => true,
    }
}

/// Which way round a part stands, and the index of the feed that says so.
enum Sense {
    Right(usize),
    Wrong(usize),
}

/// What a source whose two poles it lies between says comes first; then what sources in series say.
fn sense(
    trace: &Trace,
    topology: &Topology,
    thing: ThingId,
    (plus, minus): (TerminalId, TerminalId),
) -> Option<Sense> {
    let ways: [LeadsHome; 2] = [Trace::leads_home, Trace::leads_home_in_series];
    ways.into_iter().find_map(|leads| {
        let right = position(trace, topology, leads, thing, (plus, minus)).map(Sense::Right);
        right.or_else(|| position(trace, topology, leads, thing, (minus, plus)).map(Sense::Wrong))
    })
}

/// Whether a node leads to the rail that is home, without crossing another.
type LeadsHome = fn(&Trace, &Topology, NodeId, RailId, RailId) -> bool;

/// The first feed of another thing that reaches `fed` and to whose negative `home` leads.
fn position(
    trace: &Trace,
    topology: &Topology,
    leads: LeadsHome,
    thing: ThingId,
    (fed, home): (TerminalId, TerminalId),
) -> Option<usize> {
    let (fed, home) = (topology.node(fed)?, topology.node(home)?);
    trace.indices_at(fed).iter().copied().find(|index| {
        trace.feeds.get(*index).is_some_and(|feed| {
            feed.thing != thing
                && feed.at(home).is_none()
                && leads(trace, topology, home, trace.rail(feed.minus), trace.rail(fed))
        })
    })
}

/// Whether the way to it leads through a connector whose halves disagree: then that is the mistake.
fn through_swapped_mate(trace: &Trace, topology: &Topology, part: &Backwards) -> bool {
    let node: Option<NodeId> = topology.node(part.minus);
    let path = trace.feeds.get(part.feed).zip(node).map(|(feed, node)| feed.path_to(topology, node));
    path.into_iter().flatten().filter_map(|link: LinkId| topology.link(link)).any(|link| match link.owner {
        Owner::MatedWay(mate, _) => {
            link.nature == Nature::Mated && trace.swaps.iter().any(|swap| swap.mate == mate)
        }
        _ => false,
    })
}

/// The source, in place of all its parts; not a regulator, whose output may be joined to the wrong rail.
fn whole_source(design: &Design, source: &Feed, feed: usize, parts: &[Backwards]) -> Option<Backwards> {
    let thing = source.thing;
    if design.thing(thing).id() == KindId::Regulator {
        return None;
    }
    let (plus, minus) = (design.terminal_named(thing, "pos")?, design.terminal_named(thing, "neg")?);
    let parts = parts.iter().map(|part| part.thing).collect();
    Some(Backwards { thing, plus, minus, feed, parts, beside: None })
}

/// The source with those that stand in parallel with it, and so the same way round.
fn with_parallel(trace: &Trace, design: &Design, one: Backwards) -> Vec<Backwards> {
    let rails = |feed: &Feed| (trace.rail(feed.plus), trace.rail(feed.minus));
    let Some(own) = trace.feeds.get(one.feed).map(rails) else { return vec![one] };
    let parallel = trace.feeds.iter().filter(|feed| feed.thing != one.thing && rails(feed) == own);
    let others: Vec<Backwards> = parallel
        .filter_map(|feed| {
            let minus = design.terminal_named(feed.thing, "neg")?;
            let beside = Some(one.thing);
            Some(Backwards { thing: feed.thing, plus: feed.terminal, minus, beside, ..one.clone() })
        })
        .collect();
    std::iter::once(one).chain(others).collect()
}
