//! What each feed gives into a short: at most when full and cold, at least when empty.

use std::collections::BTreeMap;

use wattle_grammar::{
    kind::{KindId, key},
    quantity::{Amps, Ohms, Share, Volts},
};

use crate::{
    design::{Design, Thing, ThingId},
    network::NodeId,
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

/// A feed against its own negative, then against that of each lower source it stands on: packs in series.
#[derive(Clone, Debug, Default)]
pub(super) struct Levels {
    all: Vec<Source>,
    /// How many of these hold whatever is switched. The others hold while contacts between the packs are closed: they make a
    /// short worse and are no base for the least it draws.
    fixed: usize,
    /// The indices of the feeds in [`Trace::feeds`], its own first.
    feeds: Vec<usize>,
}

impl Levels {
    /// Against its own negative.
    pub(super) fn own(&self) -> Option<&Source> {
        self.all.first()
    }

    /// Against every negative, its own first, contacts closed.
    pub(super) fn all(&self) -> &[Source] {
        &self.all
    }

    /// Against a negative that it stands on, with the feeds of the string down to there, its own first.
    pub(super) fn at(&self, home: RailId) -> Option<(&[usize], &Source)> {
        let at = self.all.iter().position(|source| source.home == home)?;
        Some((self.feeds.get(..=at)?, self.all.get(at)?))
    }

    /// Against the end of the string that holds whatever is switched.
    pub(super) fn deepest(&self) -> Option<&Source> {
        self.all.get(self.fixed.checked_sub(1)?)
    }

    /// The highest voltage against any of them.
    pub(super) fn volts(&self) -> Volts {
        self.all.iter().map(|source| source.full).fold(Volts(0.0), Volts::max)
    }
}

/// A string of more sources than this is cut here: 64 blocks of 12 V are 768 V, far above what a robot has.
const LONGEST_STRING: usize = 64;

/// The levels of each feed, by its index in [`Trace::feeds`].
pub(super) fn levels(design: &Design, topology: &Topology, trace: &Trace) -> Vec<Levels> {
    let mut on_rail: BTreeMap<RailId, usize> = BTreeMap::new();
    for (index, feed) in trace.feeds.iter().enumerate().filter(|(_, feed)| !is_idle(feed)) {
        on_rail.entry(trace.rail(feed.plus)).or_insert(index);
    }
    let single = trace.feeds.iter().map(|feed| single(design, trace, feed)).collect();
    let strings = Strings { topology, trace, single, on_rail };
    (0..trace.feeds.len()).map(|index| strings.of(index)).collect()
}

/// Whether a feed's currents are another mistake's.
pub(super) fn is_idle(feed: &Feed) -> bool {
    feed.shorted || feed.reversed
}

/// Which feed stands on which.
struct Strings<'a> {
    topology: &'a Topology,
    trace: &'a Trace,
    /// Each feed against its own negative.
    single: Vec<Source>,
    /// The first feed whose pole is on a rail.
    on_rail: BTreeMap<RailId, usize>,
}

impl Strings<'_> {
    /// A feed and what it stands on. A ring of sources ends where it comes back.
    fn of(&self, index: usize) -> Levels {
        let Some(first) = self.single.get(index).copied() else { return Levels::default() };
        let mut levels = Levels { all: vec![first], fixed: 1, feeds: vec![index] };
        while let Some(lower) = self.on_its_rail(&levels)
            && self.add(&mut levels, lower)
        {
            levels.fixed = levels.all.len();
        }
        while let Some(lower) = self.behind_contacts(&levels)
            && self.add(&mut levels, lower)
        {}
        levels
    }

    /// Puts a string on one more source; whether there was one to stand on.
    fn add(&self, levels: &mut Levels, lower: usize) -> bool {
        let (Some(next), Some(feed)) = (self.single.get(lower), self.trace.feeds.get(lower)) else {
            return false;
        };
        let Some(whole) = levels.all.last().copied() else { return false };
        let ends = self.trace.rail(feed.minus) == whole.home || levels.feeds.contains(&lower);
        if ends || levels.feeds.len() >= LONGEST_STRING {
            return false;
        }
        levels.all.push(on_top(whole, next));
        levels.feeds.push(lower);
        true
    }

    /// The source whose pole is on the negative that a string stands on.
    fn on_its_rail(&self, levels: &Levels) -> Option<usize> {
        self.on_rail.get(&levels.all.last()?.home).copied()
    }

    /// The source whose pole is joined to the lowest negative of a string, past contacts where it must be.
    fn behind_contacts(&self, levels: &Levels) -> Option<usize> {
        let feeds = &self.trace.feeds;
        let last = feeds.get(*levels.feeds.last()?)?;
        let is_own = |feed: &Feed| levels.feeds.iter().any(|own| feeds[*own].thing == feed.thing);
        let mut reaching = self.trace.indices_at(last.minus).iter().copied();
        reaching.find(|index| {
            feeds.get(*index).is_some_and(|feed| !is_own(feed) && self.is_joined(feed, last.minus))
        })
    }

    /// Whether conductors, devices and contacts alone lead from a feed to a node.
    fn is_joined(&self, feed: &Feed, node: NodeId) -> bool {
        let path = feed.path_to(self.topology, node);
        path.into_iter().filter_map(|id| self.topology.link(id)).all(|link| {
            matches!(
                link.nature,
                Nature::Wire
                    | Nature::Mated
                    | Nature::Protective { .. }
                    | Nature::Shunt(_)
                    | Nature::HandContact { .. }
                    | Nature::CoilContact { .. }
            )
        })
    }
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
