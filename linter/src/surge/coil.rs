//! Coils when they are warm and the batteries empty, and while motors are turned.

use wattle_grammar::{
    kind::{KindId, key},
    quantity::Volts,
};

use super::{Coil, Seen};
use crate::{
    air,
    design::{Design, ModeId, Thing, ThingId},
    figures::{Figures, Point, exceeds},
    physics::coil::{hot_winding, voltage_at},
    topology::{Charge, Topology, rating},
};

/// Every relay and contactor, in thing order.
#[must_use]
pub(super) fn coils(design: &Design, topology: &Topology, figures: &Figures) -> Vec<Coil> {
    let seen = Seen { design, topology, figures };
    let relays = design.things().filter(|(_, thing)| matches!(thing.id(), KindId::Relay | KindId::Contactor));
    let cutoffs = cutoffs(design);
    relays.map(|(id, thing)| coil(&seen, &cutoffs, id, thing)).collect()
}

fn coil(seen: &Seen<'_>, cutoffs: &[(ThingId, Volts)], id: ThingId, thing: &Thing) -> Coil {
    let rated = rating::coil(seen.design, thing);
    let stated_at = rated.stated_at;
    let lowest = lowest(seen, cutoffs, id, rated.operate);
    let mode = lowest.and_then(|(at, _)| seen.figures.points.get(at)).map(|point| point.mode);
    let air = air::around(seen.design, id, mode);
    let hot = hot_winding(air.0);
    Coil {
        thing: id,
        stated_at,
        air,
        operate: rated.operate,
        operate_written: thing.states(key::OPERATE),
        operate_in_air: voltage_at(rated.operate, stated_at, air.0.max(stated_at)),
        operate_hot: voltage_at(rated.operate, stated_at, hot.max(stated_at)),
        release: rated.release,
        release_hot: voltage_at(rated.release, stated_at, hot.max(stated_at)),
        lowest,
        pushed: pushed(seen, id),
        economiser: thing.flag(key::ECONOMISER) == Some(true),
    }
}

/// The lowest voltage of a coil in the modes that last and in which it has pulled in with full batteries. Where something
/// switches the loads off before the batteries are empty, the voltage at which it does counts.
fn lowest(
    seen: &Seen<'_>,
    cutoffs: &[(ThingId, Volts)],
    coil: ThingId,
    operate: Volts,
) -> Option<(usize, Volts)> {
    let volts = |point: &Point| point.coil_volts(seen.topology, coil).map(Volts::abs);
    let points = || seen.figures.points.iter().enumerate().filter(|(_, point)| point.ordinary);
    let pulls_in = |mode: ModeId| {
        points().any(|(_, point)| {
            point.mode == mode
                && point.corner.charge == Charge::Full
                && volts(point).is_some_and(|volts| volts >= operate)
        })
    };
    let mut found: Option<(usize, Volts)> = None;
    for (at, point) in points().filter(|(_, point)| pulls_in(point.mode)) {
        let Some(volts) = volts(point).map(|volts| volts * before_cutoff(seen, cutoffs, point)) else {
            continue;
        };
        if found.is_none_or(|(_, held)| exceeds(held.0, volts.0)) {
            found = Some((at, volts));
        }
    }
    found
}

/// The batteries whose loads something switches off, and the voltage at which it does.
fn cutoffs(design: &Design) -> Vec<(ThingId, Volts)> {
    let batteries = design.things().filter(|(_, thing)| thing.id() == KindId::Battery);
    batteries.filter_map(|(id, thing)| Some((id, thing.get::<Volts>(key::CUTOFF)?))).collect()
}

/// How many times its voltage at a point the batteries have when something switches their loads off; at least 1.
fn before_cutoff(seen: &Seen<'_>, cutoffs: &[(ThingId, Volts)], point: &Point) -> f64 {
    let ratios = cutoffs.iter().filter_map(|(battery, cutoff)| {
        let poles = point.supply_volts(seen.design, seen.topology, *battery)?;
        (poles > Volts(0.0)).then(|| *cutoff / poles)
    });
    ratios.fold(1.0, f64::max)
}

/// The highest voltage over a coil while motors are turned from outside.
fn pushed(seen: &Seen<'_>, coil: ThingId) -> Option<(usize, Volts)> {
    let mut found: Option<(usize, Volts)> = None;
    for (at, point) in seen.figures.points.iter().enumerate().filter(|(_, point)| point.pushed) {
        let Some(volts) = point.coil_volts(seen.topology, coil).map(Volts::abs) else { continue };
        if found.is_none_or(|(_, held)| exceeds(volts.0, held.0)) {
            found = Some((at, volts));
        }
    }
    found
}
