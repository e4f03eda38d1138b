//! The figures of a wire.

use wattle_grammar::{kind::key, quantity::Amps};

use super::{NETWORK, evidence, resistance_of, time};
use crate::{
    analysis::Analysis,
    explained::{Amount, Explained, Input},
    naming,
    physics::adiabatic::melting_time,
    protection::{
        Back, Corner, Gap, Highest, Slow, Stands, Strength, Verdict, WayIn, WireProtection, Withstand,
        device::Device, missing_strength, source::Levels,
    },
    trace::Weakest,
};

/// Every figure of a wire.
pub(super) fn explain(analysis: &Analysis, levels: &[Levels], found: &WireProtection) -> Vec<Explained> {
    let mut figures = vec![highest(analysis, &found.highest)];
    let mut at_far_end =
        Explained::new("highest fault current at its far end", Amount::of(found.highest_at_far_end))
            .by("I = U / R", NETWORK);
    at_far_end.notes.push("the wire's own resistance at 20 °C lies before the short".to_owned());
    figures.push(at_far_end);
    figures.extend(withstand(found.withstand.as_ref()));
    if let Some(withstand) = found.withstand.filter(|_| found.highest.amps.0 > 0.0) {
        let time = melting_time(withstand.area, found.highest.amps, withstand.ambient);
        figures.push(
            Explained::new("bare copper melts at the highest current after", Amount::of(time))
                .by(
                    "33 (I/A)² t = log₁₀((T_m − T_a)/(234 + T_a) + 1), A in circular mil",
                    "Onderdonk, as published",
                )
                .from([Input::of("I", "highest fault current", found.highest.amps)])
                .noting("long after its insulation has failed"),
        );
    }
    for way in &found.ways {
        figures.extend(of_way(analysis, levels, way));
    }
    figures.push(verdict(analysis, found));
    figures
}

/// The highest current, of a wire or a device.
pub(super) fn highest(analysis: &Analysis, highest: &Highest) -> Explained {
    let design = &analysis.design;
    let amount = highest.unknown.map_or_else(
        || Amount::of(highest.amps),
        |thing| {
            let missing = missing_strength(design, thing);
            Amount::NotAssessed(format!("{missing} of {}", naming::thing(design, thing)))
        },
    );
    let mut explained = Explained::new("highest fault current", amount).by("I = U / R", NETWORK).noting(
        "all sources at once, full; every contact closed; everything in the loop at 20 °C; no way back",
    );
    if let Some(battery) = highest.usual {
        explained = explained.resting_on(crate::physics::evidence::Evidence::Practice).noting(format!(
            "{} states no `resistance`: the usual one of its chemistry is taken, it may be a third of that",
            naming::thing(design, battery)
        ));
    }
    if highest.adds_limits {
        explained = explained.noting("what limits itself is added with its whole limit: an upper bound");
    }
    if highest.is_bound {
        explained = explained
            .noting("an upper bound: the wiring is closely meshed and part of it taken as one joint, or the device stands in a return");
    }
    explained
}

fn withstand(withstand: Option<&Withstand>) -> Vec<Explained> {
    let Some(withstand) = withstand else {
        return vec![Explained::new(
            "energy the insulation stands",
            Amount::NotAssessed(key::SIZE.to_owned()),
        )];
    };
    let class = if withstand.class_is_stated { "as stated" } else { "the lowest class, none is written" };
    let mut figures = vec![
        Explained::new("energy the insulation stands", Amount::of(withstand.energy))
            .by("I²t = k² S²", "IEC 60364-4-43, 434.5.2; k by IEC 60949")
            .from([
                Input {
                    symbol: "k",
                    what: format!(
                        "from {} (insulation class, {class}) to {} in a short",
                        withstand.class, withstand.last
                    ),
                    amount: Amount::Words(format!("{:.1} A √s/mm²", withstand.k.0)),
                },
                Input::of("S", "cross-section", withstand.area),
            ])
            .noting("no heat leaves the metal: meant for up to 5 s, careful beyond"),
    ];
    figures.extend(withstand.ampacity.map(|ampacity| {
        Explained::new("ampacity", Amount::of(ampacity))
            .by("", "the profile, in the worst company the wire has")
    }));
    figures
}

fn of_way(analysis: &Analysis, levels: &[Levels], way: &WayIn) -> Vec<Explained> {
    let (design, topology) = (&analysis.design, &analysis.topology);
    let Some(feed) = analysis.trace.feeds.get(way.feed) else { return Vec::new() };
    let from = naming::feed(design, feed);
    let end = match way {
        WayIn { homeward: true, .. } => "on its way home".to_owned(),
        WayIn { at_from: true, .. } => "at its `from` end".to_owned(),
        _ => "at its `to` end".to_owned(),
    };
    let named = |what: &str| format!("{what}, fed by {from} {end}");
    let mut figures = vec![lowest(analysis, levels, way, &named("lowest fault current"))];
    let guard = match way.guard {
        Weakest::Nothing => Amount::Words("nothing".to_owned()),
        Weakest::Limit(amps) => Amount::Words(format!("a limit of {amps}")),
        Weakest::Unrated(link) => {
            Amount::NotAssessed(format!("{} of {}", key::CURRENT, naming::link(design, topology, link)))
        }
        Weakest::Device(link, rated) => Amount::Words(naming::device(design, topology, link, rated)),
    };
    figures.push(
        Explained::new(named("protected by"), guard).by("", "the least protected way from that source"),
    );
    if let Some((low, high)) = way.band {
        figures.push(
            Explained::new(
                named("currents that may never open it"),
                Amount::Words(format!("{low} to {high}")),
            )
            .by("ampacity to the current at which it must open", "limits of the device's style"),
        );
    }
    figures.extend(
        way.at_lowest
            .iter()
            .map(|at| time(design, topology, &named("opened at the lowest current within"), at)),
    );
    figures.extend(
        way.at_highest
            .iter()
            .map(|at| time(design, topology, &named("opened at the highest current within"), at)),
    );
    figures
}

fn lowest(analysis: &Analysis, levels: &[Levels], way: &WayIn, what: &str) -> Explained {
    let design = &analysis.design;
    let feed = analysis.trace.feeds.get(way.feed);
    let source = levels.get(way.feed).and_then(Levels::deepest);
    let (Some(feed), Some(source)) = (feed, source) else {
        return Explained::new(what, Amount::NotAssessed(key::CURRENT.to_owned()));
    };
    let missing = || Amount::NotAssessed(missing_strength(design, feed.thing).to_owned());
    let mut explained = Explained::new(what, way.lowest.map_or_else(missing, Amount::of))
        .by("I = U_empty / (R_s + R_out + R_back)", "Ohm's law on the least protected way")
        .from([
            Input::of("U_empty", "voltage of the source when empty, without load", source.empty),
            resistance_of(design, feed, source.resistance),
            Input::of("R_back", "way back, hot", way.back.ohms()),
        ])
        .resting_on(evidence(source))
        .noting("that source alone; conductors at the temperature class of their insulation, fuses hot");
    if let Strength::Limit(limit) = source.strength {
        explained = explained.noting(format!(
            "it limits itself: {} at least, up to {limit}",
            Amps(source.least.0.min(limit.0))
        ));
    }
    if let Back::AsTheWayOut(_) = way.back {
        explained =
            explained.noting("no load hangs at that end: the way back is as long and thick as the way out");
    }
    explained
}

fn verdict(analysis: &Analysis, found: &WireProtection) -> Explained {
    let design = &analysis.design;
    let amount = match found.verdict {
        Verdict::Unfed => Amount::Words("nothing feeds it".to_owned()),
        Verdict::Bears => Amount::Words("it carries for good whatever feeds it gives".to_owned()),
        Verdict::InTime => Amount::Words("the devices open before its insulation fails".to_owned()),
        Verdict::NoDevice => Amount::Words("no device stands on a way in".to_owned()),
        Verdict::TooSlow(slow) => Amount::Words(too_slow(analysis, &slow)),
        Verdict::NotAssessed(gap) => Amount::NotAssessed(match gap {
            Gap::Size => key::SIZE.to_owned(),
            Gap::Length(wire) => format!("{} of {}", key::LENGTH, naming::wire(design, wire)),
            Gap::Source(thing) => {
                format!("{} of {}", missing_strength(design, thing), naming::thing(design, thing))
            }
            Gap::Device(link) => analysis
                .topology
                .link(link)
                .and_then(|at| Device::of(design, link, at))
                .and_then(|device| {
                    Some(format!(
                        "{} of {}",
                        device.missing_band(design)?,
                        naming::thing(design, device.thing)
                    ))
                })
                .unwrap_or_else(|| key::STYLE.to_owned()),
        }),
    };
    Explained::new("a short on it", amount).by(
        "t_open(I) ≤ (k S / I)² from the lowest to the highest current",
        "IEC 60364-4-43; above 5 s the heat that leaves the wire is counted",
    )
}

fn too_slow(analysis: &Analysis, slow: &Slow) -> String {
    let device = naming::link(&analysis.design, &analysis.topology, slow.device);
    let at = match slow.corner {
        Corner::Lowest => "at least",
        Corner::Between | Corner::Highest => "perhaps",
        Corner::Together => "from all sources at once",
    };
    let opens = slow
        .latest
        .map_or_else(|| format!("{device} need not open"), |latest| format!("{device} may take {latest}"));
    let lasts = match slow.stands {
        Stands::Adiabatic(time) | Stands::Cooled(time) => format!("its insulation lasts {time}"),
        Stands::Ages | Stands::ForGood => "it runs above its class meanwhile".to_owned(),
    };
    format!("a short here draws {} {at}; {opens}; {lasts}", slow.amps)
}
