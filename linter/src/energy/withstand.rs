//! Batteries that give or take more than they are rated for.

use wattle_grammar::{
    kind::key,
    quantity::{Amps, Seconds},
};

use super::{Energy, Pack, charge_limit, discharge_limit, sure_charge, sure_discharge};
use crate::{
    design::{Design, Mode, ModeOrigin, Origin, State, ThingId, facts},
    figures::Figures,
    missing::Missing,
};

/// Less than this flows into no battery.
const NOTICED: Amps = Amps(1e-3);

/// The last digits of the solver do not count.
const SLACK: f64 = 1.0 + 1e-9;

/// A battery with more current than it is rated for, or without a rating to compare it with.
#[derive(Clone, Debug, PartialEq)]
pub struct Overload {
    /// Which.
    pub battery: ThingId,
    /// The point where it is worst.
    pub point: usize,
    /// How much flows.
    pub amps: Amps,
    /// How much may.
    pub limit: Result<Amps, Missing>,
    /// Whether the limit is a share of an advertised figure.
    pub advertised: bool,
}

/// The batteries that give more than they may for long in a mode that lasts, each at its worst point, and those of which it
/// is not known.
#[must_use]
pub fn overloads(design: &Design, figures: &Figures, energy: &Energy) -> Vec<Overload> {
    energy.packs.iter().filter_map(|pack| overload(design, figures, pack)).collect()
}

fn overload(design: &Design, figures: &Figures, pack: &Pack) -> Option<Overload> {
    let limit = discharge_limit(design, pack.thing);
    let mut worst: Option<Overload> = None;
    for at in &pack.at {
        let Some(point) = figures.points.get(at.point).filter(|point| point.ordinary) else { continue };
        let mode = design.modes.get(point.mode.index())?;
        if is_empty_stall(mode) {
            continue;
        }
        let lasts = facts::find(&mode.facts, key::LASTS).and_then(facts::quantity::<Seconds>);
        let allowed = match (lasts, &limit.peak) {
            // A mode that is over before the peak may last.
            (Some(lasts), Some((peak, Some(time)))) if lasts <= *time => Ok(*peak),
            _ => limit.continuous.clone(),
        };
        let given = if at.amps > Amps(0.0) { at.rms } else { Amps(0.0) };
        let counts = match &allowed {
            Ok(allowed) => given > *allowed * SLACK,
            Err(_) => given > NOTICED && given > sure_discharge(design, pack.thing) * SLACK,
        };
        let is_worse = worst.as_ref().is_none_or(|held| given > held.amps * SLACK);
        if counts && is_worse {
            worst = Some(Overload {
                battery: pack.thing,
                point: at.point,
                amps: given,
                limit: allowed,
                advertised: limit.advertised,
            });
        }
    }
    worst
}

/// Whether a mode is the derived one of blocked motors: where there is none, it says no more than `run` and lacks its duty.
fn is_empty_stall(mode: &Mode) -> bool {
    mode.origin == ModeOrigin::Derived && mode.name == "stall"
}

/// The batteries that take more than they may in some mode, each at its worst point, and those of which it is not known.
/// A motor that is turned counts where its voltage is written: how fast others are turned is taken, not known.
#[must_use]
pub fn overcharges(design: &Design, figures: &Figures, energy: &Energy) -> Vec<Overload> {
    energy.packs.iter().filter_map(|pack| overcharge(design, figures, pack)).collect()
}

fn overcharge(design: &Design, figures: &Figures, pack: &Pack) -> Option<Overload> {
    let limit = charge_limit(design, pack.thing);
    let allowed = limit.clone().unwrap_or_else(|_| sure_charge(design, pack.thing));
    let mut worst: Option<(usize, Amps)> = None;
    for at in &pack.at {
        let mode = figures.points.get(at.point).and_then(|point| design.modes.get(point.mode.index()));
        let taken = -at.amps;
        let beyond = taken > NOTICED && taken > allowed * SLACK;
        let is_worse = worst.is_none_or(|(_, held)| taken > held * SLACK);
        if beyond && is_worse && mode.is_some_and(|mode| knows_speeds(design, mode)) {
            worst = Some((at.point, taken));
        }
    }
    let (point, amps) = worst?;
    Some(Overload { battery: pack.thing, point, amps, limit, advertised: false })
}

/// Whether every motor that a mode turns says what voltage it makes.
fn knows_speeds(design: &Design, mode: &Mode) -> bool {
    let turned = design.things().filter(|(id, _)| mode.states.get(id.index()) == Some(&State::Turned));
    let mut written = turned.map(|(_, motor)| motor.rated(key::PUSHED));
    written.all(|rated| rated.is_some_and(|rated| !matches!(rated.origin, Origin::Default(_))))
}
