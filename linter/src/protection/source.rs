//! What each feed gives into a short: at most when full and cold, at least when empty.

use std::collections::BTreeMap;

use wattle_grammar::{
    kind::{KindId, key},
    quantity::{Amps, Ohms, Share, Volts},
};

use crate::{
    design::{Design, Thing, ThingId},
    topology::{Charge, Link, LinkId, Nature, Topology},
    trace::{Feed, RailId, Trace},
    unfold::{source_figures, usual},
};

/// What limits the current of a source.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Strength {
    /// Its internal resistance.
    Resistance,
    /// Its internal resistance, of which only the usual figure of its chemistry is known.
    UsualResistance,
    /// It holds its current to this by design.
    Limit(Amps),
    /// Nothing is known of it.
    Unknown,
}

/// A feed as a source of a short.
#[derive(Clone, Copy, Debug)]
pub(super) struct Source {
    /// What limits it.
    pub(super) strength: Strength,
    /// Voltage without load when full, or at the high end of its tolerance, against the negative it is counted from.
    pub(super) full: Volts,
    /// Voltage without load when empty, or at the low end of its tolerance.
    pub(super) empty: Volts,
    /// Internal resistance.
    pub(super) resistance: Ohms,
    /// The least current that one which limits itself surely gives into a short, as far as its voltage drives it.
    pub(super) least: Amps,
    /// The rail of the negative it is counted from.
    pub(super) home: RailId,
    /// Of packs in series the one that the strength is about: whose resistance is not written, or of which nothing is known.
    pub(super) about: ThingId,
}

/// A feed against its own negative, then against that of each lower source it stands on: packs in series. Beside them the
/// indices of these feeds in [`Trace::feeds`], its own first.
#[derive(Clone, Debug)]
pub(super) struct Levels(pub(super) Vec<Source>, pub(super) Vec<usize>);

impl Levels {
    /// Against its own negative.
    pub(super) fn own(&self) -> Option<&Source> {
        self.0.first()
    }

    /// Against a negative that it stands on, with how many others between.
    pub(super) fn at(&self, home: RailId) -> Option<(usize, &Source)> {
        self.0.iter().enumerate().find(|(_, source)| source.home == home)
    }

    /// Against the end of the string.
    pub(super) fn deepest(&self) -> Option<&Source> {
        self.0.last()
    }

    /// The highest voltage against any of them.
    pub(super) fn volts(&self) -> Volts {
        self.0.iter().map(|source| source.full).fold(Volts(0.0), Volts::max)
    }
}

/// A string of more sources than this is cut here: 64 blocks of 12 V are 768 V, far above what a robot has.
const LONGEST_STRING: usize = 64;

/// The levels of each feed, by its index in [`Trace::feeds`].
pub(super) fn levels(design: &Design, trace: &Trace) -> Vec<Levels> {
    let single: Vec<Source> = trace.feeds.iter().map(|feed| single(design, trace, feed)).collect();
    let mut on_rail: BTreeMap<RailId, usize> = BTreeMap::new();
    for (index, feed) in trace.feeds.iter().enumerate().filter(|(_, feed)| !is_idle(feed)) {
        on_rail.entry(trace.rail(feed.plus)).or_insert(index);
    }
    (0..single.len()).map(|index| string(&single, &on_rail, trace, index)).collect()
}

/// Whether a feed's currents are another mistake's.
pub(super) fn is_idle(feed: &Feed) -> bool {
    feed.shorted || feed.reversed
}

/// A feed and what it stands on. A ring of sources ends where it comes back.
fn string(single: &[Source], on_rail: &BTreeMap<RailId, usize>, trace: &Trace, index: usize) -> Levels {
    let Some(first) = single.get(index).copied() else { return Levels(Vec::new(), Vec::new()) };
    let mut levels = vec![first];
    let mut seen = vec![index];
    let mut whole = first;
    while let Some(lower) = on_rail.get(&whole.home).copied().filter(|lower| !seen.contains(lower)) {
        if seen.len() >= LONGEST_STRING {
            break;
        }
        let (Some(next), Some(feed)) = (single.get(lower), trace.feeds.get(lower)) else { break };
        if trace.rail(feed.minus) == whole.home {
            break;
        }
        whole = on_top(whole, next);
        levels.push(whole);
        seen.push(lower);
    }
    Levels(levels, seen)
}

/// Two sources in series: the voltages and resistances add, the smaller limit holds.
fn on_top(upper: Source, lower: &Source) -> Source {
    let strength = match (upper.strength, lower.strength) {
        (Strength::Limit(one), Strength::Limit(other)) => Strength::Limit(one.min(other)),
        (Strength::Limit(limit), _) | (_, Strength::Limit(limit)) => Strength::Limit(limit),
        (Strength::Unknown, _) | (_, Strength::Unknown) => Strength::Unknown,
        (Strength::UsualResistance, _) | (_, Strength::UsualResistance) => Strength::UsualResistance,
        (Strength::Resistance, Strength::Resistance) => Strength::Resistance,
    };
    Source {
        strength,
        full: upper.full + lower.full,
        empty: upper.empty + lower.empty,
        resistance: upper.resistance + lower.resistance,
        least: upper.least.min(lower.least),
        home: lower.home,
        about: if upper.strength == strength { upper.about } else { lower.about },
    }
}

fn single(design: &Design, trace: &Trace, feed: &Feed) -> Source {
    let thing = design.thing(feed.thing);
    let home = trace.rail(feed.minus);
    let of = |charge| source_figures(thing, charge);
    let whole = of(Charge::Full);
    // A tap gives its share of the pack.
    let share = whole.filter(|whole| whole.emf.0 > 0.0).map_or(1.0, |whole| share(feed, whole.emf));
    let resistance = whole.map_or(usual::LEAST, |whole| whole.resistance * share).max(usual::LEAST);
    let set = whole.map_or(feed.volts, |whole| whole.emf * share).max(feed.volts);
    let off = tolerance(thing).map_or(0.0, |share| share.0);
    let full = set * (1.0 + off);
    let empty = of(Charge::Empty).map_or(set, |figures| figures.emf * share).min(set) * (1.0 - off);
    let strength = match thing.id() {
        // The fuse in a pack opens, it does not limit.
        KindId::Battery if whole.is_none() => Strength::Unknown,
        KindId::Battery if !thing.states(key::RESISTANCE) => Strength::UsualResistance,
        KindId::Battery => Strength::Resistance,
        _ => match feed.limit {
            Some(limit) if limit.0 >= 0.0 => Strength::Limit(limit),
            _ if thing.states(key::RESISTANCE) => Strength::Resistance,
            _ => Strength::Unknown,
        },
    };
    // A limit that is not written is taken high for the highest current, at the rated current for the lowest.
    let least = match strength {
        Strength::Limit(limit) => [key::CURRENT_LIMIT, key::CURRENT]
            .iter()
            .find_map(|key| thing.get::<Amps>(key))
            .map_or(limit, |least| least.min(limit)),
        _ => Amps(f64::INFINITY),
    };
    Source { strength, full, empty, resistance, least, home, about: feed.thing }
}

/// How far the voltage of a regulator, supply or charger may be off what it is set to; none for what is not set.
pub(super) fn tolerance(thing: &Thing) -> Option<Share> {
    let is_set = matches!(thing.id(), KindId::Regulator | KindId::Supply | KindId::Charger);
    is_set.then(|| Share(thing.get(key::TOLERANCE).unwrap_or(usual::TOLERANCE).0.clamp(0.0, 0.5)))
}

/// The fuse inside a pack before this pole of it.
pub(super) fn fuse_inside<'a>(topology: &'a Topology, feed: &Feed) -> Option<(LinkId, &'a Link)> {
    let mut inside = topology.inside(feed.thing);
    inside.find(|(_, link)| link.b == feed.plus && matches!(link.nature, Nature::Protective { .. }))
}

/// The share of the pack below a feed; the whole of it for a positive pole.
fn share(feed: &Feed, whole: Volts) -> f64 {
    if feed.volts.0 > 0.0 { (feed.volts / whole).clamp(0.0, 1.0) } else { 1.0 }
}

/// The rating that is missing to know how much a source gives.
#[must_use]
pub fn missing(design: &Design, thing: ThingId) -> &'static str {
    if design.thing(thing).id() == KindId::Battery { key::RESISTANCE } else { key::CURRENT_LIMIT }
}
