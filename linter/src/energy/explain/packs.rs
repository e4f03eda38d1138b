//! Currents, voltages, charging and joining of one battery.

use wattle_grammar::{
    kind::key,
    quantity::{Amps, CRate, Dimension, Ohms, Volts},
};

use super::{SOLVED, Telling};
use crate::{
    energy::{ChargingTime, Pack, PackPoint, charge_limit, discharge_limit},
    explained::{Amount, Explained, Input},
    physics::evidence::Evidence,
    unfold,
};

/// Steady and highest current, against what it may give; the current that goes round.
pub(super) fn currents(telling: &Telling<'_>, pack: &Pack) -> Vec<Explained> {
    let steady = worst(telling, pack, |at| if at.amps > Amps(0.0) { at.rms.0 } else { 0.0 }, true);
    let highest = worst(telling, pack, |at| at.amps.0, false);
    let round = worst(telling, pack, |at| at.circulating.0, false);
    let mut told = Vec::new();
    if let Some(at) = steady {
        told.push(steady_current(telling, pack, at));
        told.push(mean_current(telling, at));
        told.push(rate(pack, at));
    }
    told.extend(highest.map(|at| highest_current(telling, pack, at)));
    told.push(limit(telling, pack));
    told.extend(round.filter(|at| at.circulating > Amps(0.0)).map(|at| {
        Explained::new("circulating current", Amount::of(at.circulating))
            .by("the smaller of what the packs side by side give and what they take", SOLVED)
            .at(Some(at.point))
            .noting("packs of equal charge that are not alike; packs of unequal charge are under `equalising current`")
    }));
    told
}

/// The point of a pack at which something is largest.
fn worst<'p>(
    telling: &Telling<'_>,
    pack: &'p Pack,
    of: impl Fn(&PackPoint) -> f64,
    ordinary: bool,
) -> Option<&'p PackPoint> {
    let counts = |at: &&PackPoint| {
        let point = telling.figures.points.get(at.point);
        !ordinary || point.is_some_and(|point| point.ordinary)
    };
    let mut found: Option<&PackPoint> = None;
    for at in pack.at.iter().filter(counts) {
        if found.is_none_or(|held| of(at) > of(held)) {
            found = Some(at);
        }
    }
    found
}

fn steady_current(telling: &Telling<'_>, pack: &Pack, at: &PackPoint) -> Explained {
    let gives = format!("what {} gives while the loads draw their figure", telling.name(pack.thing));
    let told = Explained::new("steady current", Amount::of(at.rms));
    let told = match paused(telling, at) {
        Some((duty, idle)) => told
            .by(
                "I = √(d · I₁² + (1 − d) · I₀²)",
                "root mean square over the duty d of the mode; network solved",
            )
            .from([Input::of("I₁", gives, at.amps), duty, idle]),
        None => told.by("I", SOLVED).from([Input::of("I", gives, at.amps)]).noting(ALWAYS),
    };
    told.at(Some(at.point)).noting("over the modes that may last")
}

fn mean_current(telling: &Telling<'_>, at: &PackPoint) -> Explained {
    let gives = "what it gives while the loads draw their figure";
    let told = Explained::new("mean current", Amount::of(at.mean)).at(Some(at.point));
    match paused(telling, at) {
        Some((duty, idle)) => told
            .by("I = d · I₁ + (1 − d) · I₀", "mean over the duty d of the mode; network solved")
            .from([Input::of("I₁", gives, at.amps), duty, idle]),
        None => told.by("I", SOLVED).from([Input::of("I", gives, at.amps)]).noting(ALWAYS),
    }
}

/// Why a mean is no other than the current itself.
const ALWAYS: &str = "the loads draw always in that mode: its `duty` is 100 %";

/// The duty of a mode in which the loads pause, and what a battery gives for the rest of the time, as the mean tells it.
fn paused(telling: &Telling<'_>, at: &PackPoint) -> Option<(Input, Input)> {
    let duty = telling.figures.points.get(at.point)?.duty;
    let idle = (at.mean - at.amps * duty.0) / (1.0 - duty.0);
    (duty.0 < 1.0).then(|| {
        (
            Input::of("d", "duty of the mode", duty),
            Input::of("I₀", "what it gives for the rest of the time, the loads idling", idle),
        )
    })
}

fn rate(pack: &Pack, at: &PackPoint) -> Explained {
    let of = match (&pack.capacity, pack.capacity.as_ref().ok().and_then(|capacity| at.rate(*capacity))) {
        (Ok(capacity), Some(rate)) => {
            let inputs = [
                Input::of("I", "current of the pack", at.amps),
                Input::of("C", "capacity, as stated", *capacity),
            ];
            Explained::new("discharge rate", Amount::of(rate)).from(inputs)
        }
        _ => Explained::new("discharge rate", Amount::NotAssessed(key::CAPACITY.to_owned())),
    };
    of.by("I / C", "the trade's C rate, a multiple of the capacity per hour").at(Some(at.point))
}

fn highest_current(telling: &Telling<'_>, pack: &Pack, at: &PackPoint) -> Explained {
    let told = Explained::new("highest current", Amount::of(at.amps))
        .by("I", SOLVED)
        .from([Input::of("I", "what it gives, network solved", at.amps)])
        .at(Some(at.point))
        .noting("in any mode, however short, blocked motors included");
    match discharge_limit(telling.design, pack.thing).peak {
        Some((peak, time)) => {
            let for_long =
                time.map_or_else(|| "for an unknown time".to_owned(), |time| format!("for {time}"));
            told.noting(format!("it may give {peak} {for_long}, as stated"))
        }
        None => told.noting(format!("no `{}` is stated to compare it with", key::PEAK)),
    }
}

fn limit(telling: &Telling<'_>, pack: &Pack) -> Explained {
    let limit = discharge_limit(telling.design, pack.thing);
    let amount = telling.amount(&limit.continuous, |amps| Amount::of(*amps));
    let thing = telling.design.thing(pack.thing);
    let rate = thing.get::<CRate>(key::DISCHARGE).filter(|_| !thing.states(key::CURRENT));
    let told = Explained::new("rated current", amount);
    let told = match (rate, &pack.capacity) {
        (Some(rate), Ok(capacity)) => {
            let share = if limit.advertised { "I = ½ · C · r" } else { "I = C · r" };
            told.by(share, "as stated").from([
                Input::of("C", "`capacity`, as stated", *capacity),
                Input::of("r", "`discharge`, as stated", rate),
            ])
        }
        _ => told.by("`current`, else `capacity` × `discharge`", "as stated"),
    };
    if limit.advertised {
        return told
            .resting_on(Evidence::Practice)
            .noting("half of the advertised figure counts, common practice");
    }
    told
}

/// Sag and lowest voltage at the poles, against cut-off and alarm.
pub(super) fn voltages(telling: &Telling<'_>, pack: &Pack) -> Vec<Explained> {
    let thing = telling.design.thing(pack.thing);
    let stated = thing.get::<Ohms>(key::RESISTANCE);
    let deepest = worst(telling, pack, |at| at.sag().0, true);
    let lowest = worst(telling, pack, |at| -at.poles.0, true);
    let mut told = Vec::new();
    let resistance =
        unfold::source_figures(thing, crate::topology::Charge::Nominal).map(|figures| figures.resistance);
    let internal = {
        let whence = if stated.is_some() {
            "internal resistance, as stated"
        } else {
            "internal resistance, usual for its cells"
        };
        resistance.map(|ohms| Input::of("R", whence, ohms))
    };
    if let Some(at) = deepest {
        let told_sag = Explained::new("sag", Amount::of(at.sag()))
            .by("ΔU = I · R", SOLVED)
            .from([Input::of("I", "current of the pack", at.amps)])
            .from(internal.clone())
            .at(Some(at.point))
            .noting("a cold pack sags more: at 0 °C about twice as much, common practice");
        told.push(if stated.is_some() { told_sag } else { told_sag.resting_on(Evidence::Practice) });
    }
    if let Some(at) = lowest {
        let mut figure = Explained::new("lowest voltage at the poles", Amount::of(at.poles))
            .by("U = E − I · R", SOLVED)
            .from([
                Input::of("E", "voltage without load", at.emf),
                Input::of("I", "current of the pack", at.amps),
            ])
            .from(internal)
            .at(Some(at.point))
            .noting("over the modes that may last");
        for (rating, what) in
            [(key::CUTOFF, "something switches the loads off"), (key::ALARM, "an alarm warns")]
        {
            if let Some(volts) = thing.get::<Volts>(rating) {
                let whether = if at.poles < volts { "it is reached" } else { "it is not reached" };
                figure = figure.noting(format!("below {volts} {what}: {whether}"));
            }
        }
        told.push(figure);
    }
    told
}

/// Charge current and time.
pub(super) fn charging(telling: &Telling<'_>, pack: &Pack) -> Vec<Explained> {
    let Some(charging) = &pack.charging else { return Vec::new() };
    let limit = charge_limit(telling.design, pack.thing);
    let compared = match &limit {
        Ok(limit) => format!("it may be charged with {limit}, as stated"),
        Err(missing) => format!("not compared: {} is not stated", missing.what),
    };
    let mut told = vec![
        Explained::new("charge current", Amount::of(charging.amps))
            .by("I", SOLVED)
            .from([Input::of("I", "current into it, network solved", charging.amps)])
            .at(Some(charging.point))
            .noting(format!(
                "the most that flows into it in any mode, in `{}`",
                telling.mode_of(charging.point)
            ))
            .noting(compared),
    ];
    if let Some(time) = &charging.time {
        let figure = Explained::new("charging time", telling.amount(time, |time| Amount::of(time.time)))
            .by("t = f · C / I", "constant current up to the end voltage, then an allowance")
            .resting_on(Evidence::Practice);
        told.push(match time {
            Ok(time) => figure.from(charging_inputs(time)),
            Err(_) => figure,
        });
    }
    told
}

fn charging_inputs(time: &ChargingTime) -> [Input; 3] {
    let what = "allowance for the taper at the end and for losses, common practice";
    [
        Input { symbol: "f", what: what.to_owned(), amount: Amount::Value(time.factor, Dimension::Number) },
        Input::of("C", "used share of the capacity of all packs side by side", time.charge),
        Input::of("I", "least current into them before the end of charge, network solved", time.amps),
    ]
}

/// What flows when it is joined empty to full ones, and how far apart they may be.
pub(super) fn joining(telling: &Telling<'_>, pack: &Pack) -> Vec<Explained> {
    let Some(joining) = &pack.joining else { return Vec::new() };
    let others: Vec<String> = joining.others.iter().map(|other| telling.name(*other)).collect();
    let others = crate::naming::listed(&others);
    let equalising = Explained::new("equalising current", Amount::of(joining.amps))
        .by("I = ΔU / R", SOLVED)
        .from([
            Input::of("ΔU", format!("{others} full, {} empty", telling.name(pack.thing)), joining.difference),
            Input::of("R", "way round: internal resistances, leads and contacts at 20 °C", joining.round),
        ])
        .at(Some(joining.point))
        .noting("at the first moment; it falls as the packs draw level");
    let most = Explained::new("joining limit", telling.amount(&joining.limit, |volts| Amount::of(*volts)))
        .by("ΔU = I · R", "Kirchhoff's voltage law")
        .from(
            charge_limit(telling.design, pack.thing)
                .ok()
                .map(|amps| Input::of("I", "`charge-current`, as stated", amps)),
        )
        .from([Input::of("R", "way round", joining.round)]);
    let compared = match (joining.stated, &joining.limit) {
        (Some(stated), Ok(limit)) if stated > *limit => {
            format!("joined at up to {stated} by what is stated: more than this")
        }
        (Some(stated), Ok(_)) => format!("joined at up to {stated} by what is stated: within this"),
        (Some(stated), Err(_)) => format!("joined at up to {stated} by what is stated: not compared"),
        (None, _) => {
            format!("no `{}` is stated: measure both packs before they are joined", key::JOINING_LIMIT)
        }
    };
    vec![equalising, most.noting(compared)]
}
