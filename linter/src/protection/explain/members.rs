//! The sources behind a short: those whose poles reach it, and those that come there through the cells of others.

use std::collections::BTreeSet;

use wattle_grammar::kind::{KindId, Role, key};

use crate::{
    analysis::Analysis,
    design::ThingId,
    naming,
    network::NodeId,
    protection::{
        chain::is_driven,
        source::{Levels, Source, tolerance},
    },
    trace::{Feed, RailId},
};

/// A source that reaches a short.
pub(super) struct Member<'a> {
    pub(super) feed: &'a Feed,
    pub(super) source: &'a Source,
    /// Whether it is told with others that it stands on in series.
    pub(super) stacked: bool,
    /// The things of its string, itself included.
    string: BTreeSet<ThingId>,
}

/// What is behind a short at a node.
pub(super) struct Members<'a> {
    /// Every pole that reaches it, each against the end of its string.
    pub(super) direct: Vec<Member<'a>>,
    /// Every source once, its highest pole against its own negative: what comes through the cells of others included.
    pub(super) all: Vec<Member<'a>>,
}

impl<'a> Members<'a> {
    /// Those of a node, shorted to a negative.
    pub(super) fn at(analysis: &'a Analysis, levels: &'a [Levels], node: NodeId, home: RailId) -> Self {
        let feeds = &analysis.trace.feeds;
        let direct = |index: usize| {
            let (feed, levels) = (feeds.get(index)?, levels.get(index)?);
            let (string, source) = levels.at(home)?;
            let things = string.iter().filter_map(|index| feeds.get(*index)).map(|feed| feed.thing);
            Some(Member { feed, source, stacked: string.len() > 1, string: things.collect() })
        };
        let top = |thing: &ThingId| {
            let poles = feeds.iter().zip(levels).filter(|(feed, _)| feed.thing == *thing);
            let poles = poles.filter_map(|(feed, levels)| Some((feed, levels.own()?)));
            let top = poles.reduce(|held, next| if next.1.full > held.1.full { next } else { held });
            top.map(|(feed, source)| Member {
                feed,
                source,
                stacked: false,
                string: BTreeSet::from([*thing]),
            })
        };
        Self {
            direct: analysis.trace.indices_at(node).iter().filter_map(|index| direct(*index)).collect(),
            all: things_behind(analysis, levels, node, home).iter().filter_map(top).collect(),
        }
    }

    /// The pole that all of it comes from, where it is one alone.
    pub(super) fn sole(&self) -> Option<&Member<'a>> {
        let mut driven = self.direct.iter().filter(|member| is_driven(member.source));
        let only = driven.next().filter(|_| driven.next().is_none())?;
        let mut others = self.all.iter().filter(|member| is_driven(member.source));
        others.all(|other| only.string.contains(&other.feed.thing)).then_some(only)
    }
}

/// Every source that reaches a node, directly or through the cells of one that does.
fn things_behind(analysis: &Analysis, levels: &[Levels], node: NodeId, home: RailId) -> BTreeSet<ThingId> {
    let trace = &analysis.trace;
    let mut things = BTreeSet::new();
    let mut stack = vec![node];
    let mut seen = BTreeSet::from([node]);
    while let Some(node) = stack.pop() {
        for index in trace.indices_at(node) {
            let (Some(feed), Some(levels)) = (trace.feeds.get(*index), levels.get(*index)) else { continue };
            if levels.at(home).is_none() {
                continue;
            }
            let passes = levels.own().is_some_and(is_driven);
            if !things.insert(feed.thing) || !passes {
                continue;
            }
            let poles = trace.feeds.iter().filter(|other| other.thing == feed.thing);
            for pole in poles.flat_map(|pole| [pole.plus, pole.minus]) {
                if trace.rail(pole) != home && seen.insert(pole) {
                    stack.push(pole);
                }
            }
        }
    }
    things
}

/// At which end of its range a source stands, for its voltage without load: `full`, `when empty`, `at the high end of its
/// tolerance of 5 %`.
pub(super) fn range_end(analysis: &Analysis, feed: &Feed, high: bool) -> String {
    let thing = analysis.design.thing(feed.thing);
    let end = if high { "high" } else { "low" };
    match (thing.id(), tolerance(thing)) {
        (KindId::Battery, _) if high => "full".to_owned(),
        (KindId::Battery, _) => "when empty".to_owned(),
        (_, Some(share)) => {
            let from = if thing.states(key::TOLERANCE) { "as stated" } else { "common practice" };
            format!("at the {end} end of its tolerance of {share}, {from}")
        }
        (_, None) => format!("at its {end}est"),
    }
}

/// What a feed is called: the pack for its whole, the tap for a part of it.
pub(super) fn name_of(analysis: &Analysis, feed: &Feed) -> String {
    let is_tap = analysis.design.terminal(feed.terminal).role == Role::Tap;
    if is_tap { naming::feed(&analysis.design, feed) } else { naming::thing(&analysis.design, feed.thing) }
}
