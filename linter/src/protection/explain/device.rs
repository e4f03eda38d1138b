//! The figures of a protective device.

use wattle_grammar::kind::key;

use super::{
    current, lowest,
    members::{name_of, range_end},
    time,
};
use crate::{
    analysis::Analysis,
    explained::{Amount, Explained, Input},
    naming,
    physics::evidence::Evidence,
    protection::{DeviceProtection, Holds, Order, Protection, Pulse, PulseCause, RaisedBy, Rating, Upstream},
};

/// Every figure of a device.
pub(super) fn explain(
    analysis: &Analysis,
    protection: &Protection,
    found: &DeviceProtection,
) -> Vec<Explained> {
    let (design, topology) = (&analysis.design, &analysis.topology);
    let mut figures = vec![
        current::highest(analysis, &protection.levels, &found.highest),
        current::at_far_end(
            analysis,
            &protection.levels,
            ("fault current it has to break", &found.to_break),
            &found.highest,
        )
        .noting("the short right behind it, with its own cold resistance in the loop"),
    ];
    figures.extend(lowest_current(analysis, protection, found));
    figures.push(rated(found.device.breaks, "breaking capacity", key::BREAKING_CAPACITY));
    figures.push(across(analysis, protection, found));
    if !found.device.built_in {
        figures.push(rated(found.device.volts, "direct voltage it is made for", key::VOLTAGE));
    }
    if let Some((carries, opens)) = found.band {
        figures.push(
            Explained::new(
                "currents at which nobody can tell",
                Amount::Words(format!("{carries} to {opens}")),
            )
            .by("from what it must carry to where it must open, multiples of I_n", style_source(found))
            .from(found.device.rated.map(|rated| Input::of("I_n", "its rating", rated))),
        );
    }
    figures.extend(
        found
            .at_lowest
            .iter()
            .map(|at| time(design, topology, "opened at the lowest fault current within", at)),
    );
    figures.extend(
        found
            .at_highest
            .iter()
            .map(|at| time(design, topology, "opened at the highest fault current within", at)),
    );
    figures.extend(found.burden.pulses.iter().map(|one| pulse(analysis, one)));
    figures.extend(found.upstream.iter().map(|one| upstream(analysis, one)));
    figures
}

/// The lowest current that it has to open at, of a short on the wire where that is least.
fn lowest_current(
    analysis: &Analysis,
    protection: &Protection,
    found: &DeviceProtection,
) -> Option<Explained> {
    let (wire, way) = found.lowest_on?;
    let way = protection.wire(wire)?.ways.get(way)?;
    let explained = lowest::lowest(analysis, protection, way, "lowest fault current", wire);
    let name = naming::wire(&analysis.design, wire);
    Some(
        explained
            .noting(format!("a short at the far end of {name}, the least of the wires that it protects")),
    )
}

fn style_source(found: &DeviceProtection) -> &'static str {
    found.device.style.map_or("", |style| style.source)
}

/// A rating, or that it is missing.
fn rated<U: wattle_grammar::quantity::Unit>(rating: Option<Rating<U>>, what: &str, key: &str) -> Explained {
    let Some(rating) = rating else {
        return Explained::new(what, Amount::NotAssessed(key.to_owned()));
    };
    let source = if rating.is_stated { "as stated" } else { "usual for its style, makers' data" };
    Explained::new(what, Amount::of(rating.value)).by("", source).resting_on(rating.evidence)
}

fn across(analysis: &Analysis, protection: &Protection, found: &DeviceProtection) -> Explained {
    let volts = found.raised.map_or(found.volts, |raised| raised.volts.max(found.volts));
    let explained = Explained::new("voltage across it when it opens", Amount::of(volts))
        .by("U", "full voltage of the highest source behind it, packs in series added")
        .from([Input::of("U", highest_source(analysis, protection, found), volts)]);
    match found.raised.filter(|raised| raised.volts > found.volts).map(|raised| raised.by) {
        Some(RaisedBy::Clamp(clamp)) => explained.noting(format!(
            "braking motors lift it to where {} begins",
            naming::thing(&analysis.design, clamp)
        )),
        Some(RaisedBy::TurnedMotors(point)) => {
            explained.at(Some(point)).noting("motors that are turned lift it")
        }
        None => explained.noting(
            "corner: batteries full; regulators, supplies and chargers at the high end of their tolerance",
        ),
    }
}

/// ``voltage of `PACK`, full, without load``.
fn highest_source(analysis: &Analysis, protection: &Protection, found: &DeviceProtection) -> String {
    let mut feeds = analysis.trace.feeds.iter().zip(&protection.levels);
    let highest = feeds.find(|(_, levels)| levels.volts() == found.volts);
    match (highest, found.raised.filter(|raised| raised.volts > found.volts)) {
        (Some((feed, levels)), None) => {
            let (name, charge) = (name_of(analysis, feed), range_end(analysis, feed, true));
            let stacked = levels.own().is_none_or(|own| own.full < found.volts);
            let below = if stacked { " with what it stands on" } else { "" };
            format!("voltage of {name}{below}, {charge}, without load")
        }
        _ => "highest voltage that can stand there".to_owned(),
    }
}

fn pulse(analysis: &Analysis, pulse: &Pulse) -> Explained {
    let load = naming::thing(&analysis.design, pulse.load);
    let (what, formula) = match pulse.cause {
        PulseCause::Peak => ("peak", "I² · t"),
        PulseCause::Inrush => ("in-rush", "I² · t"),
        // U² C / 2 R with I = U / R and t = R C.
        PulseCause::Capacitance => ("filling of the capacitors", "I² · t / 2"),
    };
    let explained = Explained::new(format!("{what} of {load}"), Amount::of(pulse.energy))
        .by(formula, "energy of the pulse against the limits of the device's style")
        .from([
            Input::of("I", "highest current of the pulse", pulse.amps),
            Input::of("t", "how long it lasts, of a capacitor the time constant", pulse.time),
        ])
        .noting("that load alone: what others draw meanwhile is not added");
    match pulse.holds {
        Some(Holds::For(time)) => explained.noting(format!("it holds that current for {time} for sure")),
        Some(Holds::Energy(energy)) => explained.noting(format!("it holds {energy} for sure")),
        None => explained.noting("its limits do not tell what it holds"),
    }
}

fn upstream(analysis: &Analysis, upper: &Upstream) -> Explained {
    let name = naming::link(&analysis.design, &analysis.topology, upper.device);
    let words = match upper.order {
        Order::Lower(first, then) => format!("this one first: opened within {first}, the other holds {then}"),
        Order::LowerByRatio => "this one first, by the ratio of their ratings".to_owned(),
        Order::TooNear => "not sure: one family, ratings too near each other".to_owned(),
        Order::Upper(first, then) => format!("the other first: opened within {first}, this one holds {then}"),
        Order::Instantaneous(from) => format!("both: the other trips at once from {from}"),
        Order::NotSure => "not sure: their limits overlap or are not known".to_owned(),
    };
    let mut explained =
        Explained::new(format!("which opens first, this or {name} before it"), Amount::Words(words))
            .by(
                "bands at the fault current, or ratio of ratings",
                "limits of the styles; ratio common practice",
            )
            .from([
                Input::of("I", "fault current behind this one", upper.amps),
                Input::of("I'", "of this through the other", upper.share),
            ])
            .resting_on(Evidence::Practice);
    if !upper.feeds_others {
        explained = explained.noting("nothing else hangs on the other: it does not matter");
    }
    explained
}
