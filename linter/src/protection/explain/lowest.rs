//! The lowest fault currents with what an electrician needs to work them out.

use wattle_grammar::{
    kind::key,
    quantity::{Amps, Volts},
};

use super::{
    evidence,
    members::{name_of, range_end},
    parts::{Part, listed, part, part_home, way_out},
    resistance_of,
};
use crate::{
    analysis::Analysis,
    design::WireId,
    explained::{Amount, Explained, Input},
    naming,
    network::NodeId,
    physics::evidence::Evidence,
    protection::{
        Back, Protection, Strength, WayIn,
        homeward::{end_of, root},
        links_at, missing_strength,
        resistance::Warmth,
        source::{Levels, Source},
    },
    topology::LinkId,
    trace::Feed,
};

/// What holds at the lowest.
const LOWEST_CORNER: &str = "corner: that source alone, empty, hot; conductors at the temperature class of their \
                             insulation, fuses as at their rating";

/// A current below another by this share only is the same.
const SAME: f64 = 1e-9;

/// Pieces that come to a whole but for this share are all of it.
const SAME_SUM: f64 = 1e-6;

/// What one source alone gives at least into a short at the far end of a wire.
pub(super) fn lowest(
    analysis: &Analysis,
    protection: &Protection,
    way: &WayIn,
    what: &str,
    wire: WireId,
) -> Explained {
    let (design, levels) = (&analysis.design, &protection.levels);
    let feed = analysis.trace.feeds.get(way.feed);
    let source = levels.get(way.feed).and_then(Levels::deepest);
    let (Some(feed), Some(source)) = (feed, source) else {
        return Explained::new(what, Amount::NotAssessed(key::CURRENT.to_owned()));
    };
    let missing = || Amount::NotAssessed(missing_strength(design, feed.thing).to_owned());
    let explained = Explained::new(what, way.lowest.map_or_else(missing, Amount::of))
        .resting_on(evidence(source))
        .resting_on(Evidence::Practice);
    let explained =
        lowest_worked_out(analysis, (protection, feed, source), way, wire, explained).noting(LOWEST_CORNER);
    if let Back::AsTheWayOut(_) = way.back {
        return explained
            .noting("no load hangs at that end: the way back is as long and thick as the way out");
    }
    explained
}

fn lowest_worked_out(
    analysis: &Analysis,
    (protection, feed, source): (&Protection, &Feed, &Source),
    way: &WayIn,
    wire: WireId,
    explained: Explained,
) -> Explained {
    let law = "Ohm's law on the least protected way";
    let loop_ohms = source.resistance + way.out + way.back.ohms();
    let volts = (source.empty - way.drop).max(Volts(0.0));
    let driven = if loop_ohms.0 > 0.0 { volts / loop_ohms } else { Amps(f64::INFINITY) };
    if let Some(lowest) = way.lowest.filter(|lowest| lowest.0 < driven.0 * (1.0 - SAME)) {
        let held = match source.strength {
            Strength::Limit(limit) => format!("it limits itself: {lowest} at least, up to {limit}"),
            _ => "a limit on the way holds, or all sources together give no more".to_owned(),
        };
        return explained
            .by("I = I_lim", "the least limit on the way")
            .from([Input::of("I_lim", "what surely flows within the limit", lowest)])
            .noting(held)
            .noting(format!("the loop alone would let {driven} flow"));
    }
    let charge = range_end(analysis, feed, false);
    let mut inputs = vec![Input::of(
        "U_empty",
        format!("voltage of {} {charge}, without load", name_of(analysis, feed)),
        source.empty,
    )];
    let has_diode = way.drop.0 > 0.0;
    inputs.extend(
        has_diode.then(|| Input::of("U_d", "what the diodes on the way take, common practice", way.drop)),
    );
    let parts = parts_into(analysis, feed, way, wire);
    inputs.extend([
        resistance_of(analysis, feed, source.resistance),
        Input::of("R_out", format!("way out to the short, hot{}", listed(&parts)), way.out),
        Input::of("R_back", way_back(analysis, (protection, feed, source), way, wire), way.back.ohms()),
    ]);
    let volts = if has_diode { "(U_empty − U_d)" } else { "U_empty" };
    explained.by(format!("I = {volts} / (R_s + R_out + R_back)"), law).from(inputs)
}

/// The pieces of the way out to the short: at the far end of a wire, or at the load that comes home through it.
fn parts_into(analysis: &Analysis, feed: &Feed, way: &WayIn, wire: WireId) -> Vec<Part> {
    if way.homeward {
        let load = load_home_through(analysis, wire).and_then(|load| analysis.topology.link(load));
        let ends = load.into_iter().flat_map(|load| [load.a, load.b]);
        let fed = ends.into_iter().find(|end| feed.at(*end).is_some());
        return fed.map(|end| way_out(analysis, feed, end, Warmth::Hot)).unwrap_or_default();
    }
    let id = LinkId(wire.0);
    let Some(link) = analysis.topology.link(id) else { return Vec::new() };
    let near = if way.at_from { link.a } else { link.b };
    let mut parts = way_out(analysis, feed, near, Warmth::Hot);
    parts.extend(part(analysis, id, Warmth::Hot));
    parts
}

/// ``way back to the source, hot: `W4` 5 mΩ, `W9` 1 mΩ``.
fn way_back(
    analysis: &Analysis,
    (protection, feed, source): (&Protection, &Feed, &Source),
    way: &WayIn,
    wire: WireId,
) -> String {
    let words = "way back to the source, hot";
    let Back::Known(ohms) = way.back else {
        return format!("{words}, taken as that of the wires on the way out");
    };
    let home = protection.homes.get(&source.home).zip(root(&analysis.trace, source.home));
    let Some((home, root)) = home else { return words.to_owned() };
    let minus = end_of(&analysis.trace, feed, source.home, root);
    // Of several loads at the end the one with the longest way back counts.
    let ways = starts_back(analysis, feed, way, wire).into_iter().filter_map(|start| home.path(start, minus));
    let mut told = ways.map(|path| path.into_iter().filter_map(|link| part_home(analysis, link)).collect());
    let is_all = |parts: &Vec<Part>| {
        let sum: f64 = parts.iter().map(|part| part.ohms.0).sum();
        (sum - ohms.0).abs() <= SAME_SUM * ohms.0
    };
    told.find(is_all).map_or_else(|| words.to_owned(), |parts| format!("{words}{}", listed(&parts)))
}

/// Where ways back may start: behind the loads at the far end of a wire, or behind the load that comes home through it.
fn starts_back(analysis: &Analysis, feed: &Feed, way: &WayIn, wire: WireId) -> Vec<NodeId> {
    let topology = &analysis.topology;
    if way.homeward {
        let load = load_home_through(analysis, wire).and_then(|load| topology.link(load));
        let ends = load.into_iter().flat_map(|load| [(load.a, load.b), (load.b, load.a)]);
        return ends.filter(|(near, _)| feed.at(*near).is_some()).map(|(_, far)| far).collect();
    }
    let Some(link) = topology.link(LinkId(wire.0)) else { return Vec::new() };
    let far = if way.at_from { link.b } else { link.a };
    let loads = links_at(topology, far).map(|(_, link)| link).filter(|link| link.nature.is_load());
    loads.map(|load| load.other(far)).collect()
}

/// The heaviest load that comes home through a wire.
fn load_home_through(analysis: &Analysis, wire: WireId) -> Option<LinkId> {
    analysis.trace.comes_home(wire).map(|home| home.load)
}

/// Where the short of a wire is that nothing feeds and that brings a load home.
pub(super) fn short_of_load(analysis: &Analysis, wire: WireId) -> Option<String> {
    let home = analysis.trace.comes_home(wire)?;
    let load = naming::link(&analysis.design, &analysis.topology, home.load);
    let unrated = analysis.trace.comes_home_unrated(wire);
    let which = match unrated.and_then(|load| load.device) {
        Some(_) if unrated == Some(home) => {
            "which comes home through it behind a device without a rating".to_owned()
        }
        Some(device) => {
            let device = naming::link(&analysis.design, &analysis.topology, device);
            format!(
                "the heaviest load behind a rated device that comes home through it; how heavy one behind {device} is cannot be told"
            )
        }
        None => "the heaviest load that comes home through it".to_owned(),
    };
    Some(format!("nothing feeds this wire itself: the short is at {load}, {which}"))
}
