//! How a battery is charged: with how much, and how long it takes.

use wattle_grammar::{
    kind::{KindId, key},
    quantity::{AmpHours, Amps},
};

use super::{Charging, ChargingTime, ModeEnergy, Seen, capacity_of, charge_of, usable_of};
use crate::{
    design::{ModeId, State, ThingId},
    figures::exceeds,
    missing::Missing,
    physics::battery::{charging_factor, charging_time},
    topology::Charge,
};

/// Less than this is no charging but what the solver leaves over.
const NOTICED: Amps = Amps(1e-6);

/// The most that flows into a battery over all points, and how long it takes where a charger does it.
pub(super) fn charging(seen: &Seen<'_>, modes: &[ModeEnergy], battery: ThingId) -> Option<Charging> {
    let mut most: Option<(usize, Amps)> = None;
    for at in 0..seen.figures.points.len() {
        let Some(amps) = seen.currents.working(at, battery).map(|amps| -amps) else { continue };
        if amps > NOTICED && most.is_none_or(|(_, held)| exceeds(amps.0, held.0)) {
            most = Some((at, amps));
        }
    }
    let (point, amps) = most?;
    let time = with_charger(seen, battery).map(|mode| time(seen, modes, battery, mode));
    Some(Charging { point, amps, time })
}

/// The first mode in which a charger is on and something flows into the battery.
fn with_charger(seen: &Seen<'_>, battery: ThingId) -> Option<ModeId> {
    let is_on = |mode: ModeId| {
        seen.design.modes.get(mode.index()).is_some_and(|mode| {
            let mut things = seen.design.things().zip(&mode.states);
            things.any(|((_, thing), state)| thing.id() == KindId::Charger && *state == State::Closed)
        })
    };
    let flows = |at: usize| seen.currents.working(at, battery).is_some_and(|amps| -amps > NOTICED);
    let points = seen.figures.points.iter().enumerate();
    let mut charged = points.filter(|(at, point)| is_on(point.mode) && flows(*at));
    charged.next().map(|(_, point)| point.mode)
}

/// From empty to full. The current is the least that flows into its bank before the end, so that the time is the longest.
fn time(
    seen: &Seen<'_>,
    modes: &[ModeEnergy],
    battery: ThingId,
    mode: ModeId,
) -> Result<ChargingTime, Missing> {
    let banks = modes.iter().find(|found| found.mode == mode).map(|found| &found.banks);
    let alone = vec![battery];
    let bank = banks.and_then(|banks| banks.iter().find(|bank| bank.packs.contains(&battery)));
    let packs = bank.map_or(&alone, |bank| &bank.packs);
    let mut missing = AmpHours(0.0);
    for pack in packs {
        missing = missing + capacity_of(seen.design, *pack)? * usable_of(seen.design, *pack).0;
    }
    let word = seen.design.thing(battery).word(key::CHEMISTRY);
    let factor = word.and_then(charging_factor).ok_or_else(|| Missing::on(battery, key::CHEMISTRY))?;
    let least = least(seen, packs, mode)
        .ok_or_else(|| Missing::on(battery, "a charger that charges it before the end of its charge"))?;
    Ok(ChargingTime { time: charging_time(missing, least, factor), charge: missing, amps: least, factor })
}

fn least(seen: &Seen<'_>, packs: &[ThingId], mode: ModeId) -> Option<Amps> {
    let points = seen.figures.points.iter().enumerate();
    let points = points.filter(|(_, point)| point.mode == mode && charge_of(point) != Charge::Full);
    let mut least: Option<Amps> = None;
    for (at, _) in points {
        let into: Option<Amps> = packs.iter().map(|pack| seen.currents.working(at, *pack)).sum();
        let into = -into?;
        least = Some(least.map_or(into, |held| held.min(into)));
    }
    least.filter(|amps| *amps > NOTICED)
}
