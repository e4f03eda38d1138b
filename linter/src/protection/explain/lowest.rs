//! The lowest fault currents with what an electrician needs to work them out.

use wattle_grammar::{
    kind::key,
    quantity::{Amps, Volts},
};

use super::{
    evidence,
    members::{name_of, range_end},
    parts::{Part, listed, part, way_out},
    resistance_of,
};
use crate::{
    analysis::Analysis,
    design::WireId,
    explained::{Amount, Explained, Input},
    naming,
    physics::evidence::Evidence,
    protection::{
        Back, Strength, WayIn, missing_strength,
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

/// What one source alone gives at least into a short at the far end of a wire.
pub(super) fn lowest(
    analysis: &Analysis,
    levels: &[Levels],
    way: &WayIn,
    what: &str,
    wire: WireId,
) -> Explained {
    let design = &analysis.design;
    let feed = analysis.trace.feeds.get(way.feed);
    let source = levels.get(way.feed).and_then(Levels::deepest);
    let (Some(feed), Some(source)) = (feed, source) else {
        return Explained::new(what, Amount::NotAssessed(key::CURRENT.to_owned()));
    };
    let missing = || Amount::NotAssessed(missing_strength(design, feed.thing).to_owned());
    let explained = Explained::new(what, way.lowest.map_or_else(missing, Amount::of))
        .resting_on(evidence(source))
        .resting_on(Evidence::Practice);
    let explained = lowest_worked_out(analysis, (feed, source), way, wire, explained).noting(LOWEST_CORNER);
    if let Back::AsTheWayOut(_) = way.back {
        return explained
            .noting("no load hangs at that end: the way back is as long and thick as the way out");
    }
    explained
}

fn lowest_worked_out(
    analysis: &Analysis,
    (feed, source): (&Feed, &Source),
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
        Input::of("R_back", "way back to the source, hot", way.back.ohms()),
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

/// The heaviest load that comes home through a wire.
fn load_home_through(analysis: &Analysis, wire: WireId) -> Option<LinkId> {
    analysis.trace.comes_home(wire).map(|home| home.load)
}

/// Where the short of a wire is that nothing feeds and that brings a load home.
pub(super) fn short_of_load(analysis: &Analysis, wire: WireId) -> Option<String> {
    let load = naming::link(&analysis.design, &analysis.topology, load_home_through(analysis, wire)?);
    Some(format!(
        "nothing feeds this wire itself: the short is at {load}, the heaviest load that comes home through it"
    ))
}
