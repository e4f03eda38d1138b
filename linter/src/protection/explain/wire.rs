//! The figures of a wire.

use wattle_grammar::kind::key;

use super::{current, lowest, time};
use crate::{
    analysis::Analysis,
    design::WireId,
    explained::{Amount, Explained, Input},
    naming,
    physics::{
        adiabatic::{circular_mils, melting_time},
        constant::COPPER_MELTS,
    },
    protection::{
        Corner, Gap, Protection, Slow, Stands, Verdict, WayIn, WireProtection, Withstand, device::Device,
        missing_strength,
    },
    trace::Weakest,
};

/// Every figure of a wire.
pub(super) fn explain(
    analysis: &Analysis,
    protection: &Protection,
    found: &WireProtection,
) -> Vec<Explained> {
    let levels = &protection.levels;
    let mut figures = vec![
        current::highest(analysis, levels, &found.highest),
        current::at_far_end(
            analysis,
            levels,
            ("highest fault current at its far end", &found.highest_at_far_end),
            &found.highest,
        ),
    ];
    let homeward = found.ways.iter().any(|way| way.homeward);
    if let Some(note) = lowest::short_of_load(analysis, found.wire).filter(|_| homeward) {
        for figure in &mut figures {
            figure.notes.push(note.clone());
        }
    }
    figures.extend(withstand(found.withstand.as_ref()));
    figures.extend(ampacity(analysis, found));
    if let Some(withstand) = found.withstand.filter(|_| found.highest.amps.0 > 0.0) {
        let time = melting_time(withstand.area, found.highest.amps, withstand.ambient);
        figures.push(
            Explained::new("bare copper melts at the highest current after", Amount::of(time))
                .by("t = log₁₀((T_m − T_a) / (234 + T_a) + 1) / 33 · (A / I)²", "Onderdonk, as published")
                .from([
                    Input::of("T_m", "melting point of copper", COPPER_MELTS),
                    Input::of("T_a", "air around it", withstand.ambient),
                    Input {
                        symbol: "A",
                        what: format!("cross-section of {} in circular mil", withstand.area),
                        amount: Amount::Words(format!("{:.0} circular mil", circular_mils(withstand.area))),
                    },
                    Input::of("I", "highest fault current", found.highest.amps),
                ])
                .noting("long after its insulation has failed"),
        );
    }
    for way in &found.ways {
        figures.extend(of_way(analysis, protection, found.wire, way));
    }
    figures.push(verdict(analysis, found));
    figures
}

fn withstand(withstand: Option<&Withstand>) -> Vec<Explained> {
    let Some(withstand) = withstand else {
        return vec![Explained::new(
            "energy the insulation stands",
            Amount::NotAssessed(key::SIZE.to_owned()),
        )];
    };
    let class = if withstand.class_is_stated { "as stated" } else { "the lowest class, none is written" };
    vec![
        Explained::new("energy the insulation stands", Amount::of(withstand.energy))
            .by("I²t = k² · S²", "IEC 60364-4-43, 434.5.2; k by IEC 60949")
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
    ]
}

/// What the wire carries for good in the worst company that it has in any mode.
fn ampacity(analysis: &Analysis, found: &WireProtection) -> Option<Explained> {
    let profile = &analysis.profile;
    let limit = analysis.given().ampacity(found.wire)?;
    let source = format!("profile `{}`: {}", profile.word, profile.source);
    let told = Explained::new("ampacity", Amount::of(limit.amps)).by(limit.basis.clone(), source);
    Some(told.noting("in the worst company that it has in any mode"))
}

fn of_way(analysis: &Analysis, protection: &Protection, wire: WireId, way: &WayIn) -> Vec<Explained> {
    let (design, topology) = (&analysis.design, &analysis.topology);
    let Some(feed) = analysis.trace.feeds.get(way.feed) else { return Vec::new() };
    let from = naming::feed(design, feed);
    let end = match way {
        WayIn { homeward: true, .. } => "on its way home".to_owned(),
        WayIn { at_from: true, .. } => "at its `from` end".to_owned(),
        _ => "at its `to` end".to_owned(),
    };
    let named = |what: &str| format!("{what}, fed by {from} {end}");
    let mut figures = vec![lowest::lowest(analysis, protection, way, &named("lowest fault current"), wire)];
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
        Corner::Together => "perhaps, from all sources at once",
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
