//! Finds the feeds: every pole that can push a fault current.

use wattle_grammar::{
    kind::{KindId, Role, key},
    quantity::{Amps, Ohms, Volts},
};

use super::{Feed, RailId};
use crate::{
    design::{Design, Terminal, TerminalId, Thing, ThingId},
    network::NodeId,
    topology::Topology,
};

/// A source that states no limit folds back somewhat above its rating; 1.5 times is the careful side. Common practice.
const FOLD_BACK: f64 = 1.5;

/// Every feed, in thing order: of a battery its positive pole, then its taps from the lowest.
pub(super) fn find(design: &Design, topology: &Topology, rail_of: &[RailId]) -> Vec<Feed> {
    design
        .things()
        .flat_map(|(id, thing)| match thing.id() {
            KindId::Battery => battery(design, topology, id, thing),
            KindId::Charger | KindId::Supply | KindId::Generator => {
                single(design, topology, id, thing, "pos", "neg", limit(thing))
            }
            KindId::Regulator => single(design, topology, id, thing, "out", "out-neg", limit(thing)),
            _ => Vec::new(),
        })
        .map(|feed| Feed {
            shorted: rail_of.get(feed.plus.0 as usize) == rail_of.get(feed.minus.0 as usize),
            ..feed
        })
        .collect()
}

/// The stated limit, else a charger's current, which it holds by design, else somewhat more than the rating.
fn limit(thing: &Thing) -> Option<Amps> {
    let above = if thing.id() == KindId::Charger { 1.0 } else { FOLD_BACK };
    let rated = || thing.get::<Amps>(key::CURRENT).map(|rated| rated * above);
    thing.get::<Amps>(key::CURRENT_LIMIT).or_else(rated)
}

/// The highest open-circuit voltage that is stated.
fn highest_volts(thing: &Thing) -> Volts {
    [key::FULL, key::OUTPUT, key::VOLTAGE]
        .iter()
        .find_map(|key| thing.get::<Volts>(key))
        .unwrap_or(Volts(0.0))
}

fn single(
    design: &Design,
    topology: &Topology,
    id: ThingId,
    thing: &Thing,
    plus: &str,
    minus: &str,
    limit: Option<Amps>,
) -> Vec<Feed> {
    let (Some(terminal), Some(minus)) = (design.terminal_named(id, plus), design.terminal_named(id, minus))
    else {
        return Vec::new();
    };
    let feed = feed(topology, id, terminal, minus, thing, highest_volts(thing), limit);
    feed.into_iter().collect()
}

fn feed(
    topology: &Topology,
    thing_id: ThingId,
    terminal: TerminalId,
    minus: TerminalId,
    thing: &Thing,
    volts: Volts,
    limit: Option<Amps>,
) -> Option<Feed> {
    Some(Feed {
        thing: thing_id,
        terminal,
        plus: node(topology, terminal)?,
        minus: node(topology, minus)?,
        volts,
        resistance: thing.get::<Ohms>(key::RESISTANCE).unwrap_or(Ohms(0.0)),
        limit,
        shorted: false,
        reversed: false,
        reached: Vec::new(),
    })
}

fn node(topology: &Topology, terminal: TerminalId) -> Option<NodeId> {
    topology.node_of.get(terminal.index()).copied()
}

/// The positive pole, and each inner tap with its share of voltage and resistance.
fn battery(design: &Design, topology: &Topology, id: ThingId, thing: &Thing) -> Vec<Feed> {
    let Some(minus) = design.terminal_named(id, "neg") else { return Vec::new() };
    let built_in = thing.get::<Amps>(key::BUILT_IN_FUSE);
    let full = highest_volts(thing);
    let mut feeds = Vec::new();
    if let Some(plus) = design.terminal_named(id, "pos") {
        feeds.extend(feed(topology, id, plus, minus, thing, full, built_in));
    }
    let cells = thing.number(key::CELLS).unwrap_or(0.0);
    // A fuse in the pack sits between the highest tap and the pole: then that tap is a way out past it.
    let highest = if built_in.is_some() { cells } else { cells - 1.0 };
    for (terminal, tap) in design.terminals_of(id).filter(|(_, terminal)| is_own_tap(terminal, highest)) {
        let share = f64::from(tap.number) / cells.max(1.0);
        if let Some(mut feed) = feed(topology, id, terminal, minus, thing, full * share, None) {
            feed.resistance = feed.resistance * share;
            feeds.push(feed);
        }
    }
    feeds
}

/// The lowest tap is the negative pole and is no feed.
fn is_own_tap(terminal: &Terminal, highest: f64) -> bool {
    terminal.role == Role::Tap && terminal.number > 0 && f64::from(terminal.number) <= highest
}
