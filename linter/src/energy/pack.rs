//! What each battery sees at each point.

use std::collections::BTreeMap;

use wattle_grammar::{
    kind::KindId,
    quantity::{Amps, Share},
};

use super::{ModeEnergy, Pack, PackPoint, Seen, bank, capacity_of, charge_of, charging, usable_of};
use crate::{
    design::{Design, Level, Mode, ModeId, State, ThingId},
    figures::{Figures, Point},
    topology::{Charge, Topology},
    unfold,
};

/// The currents of every battery: while the loads draw their figure and while they idle, by point and battery.
pub(super) struct Currents {
    working: BTreeMap<(usize, ThingId), Amps>,
    /// By mode, charge and battery: what idles knows no corner worth telling apart.
    idling: BTreeMap<(ModeId, Charge, ThingId), Amps>,
}

impl Currents {
    /// What a battery gives at a point; `None` when that has no solution.
    pub(super) fn working(&self, point: usize, battery: ThingId) -> Option<Amps> {
        self.working.get(&(point, battery)).copied()
    }

    /// The mean over the mode's duty.
    pub(super) fn mean(&self, at: usize, point: &Point, battery: ThingId) -> Option<Amps> {
        let (on, idle) = (self.working(at, battery)?, self.idle(point, battery));
        Some(on * point.duty.0 + idle * (1.0 - point.duty.0))
    }

    /// The root mean square over the mode's duty.
    fn rms(&self, at: usize, point: &Point, battery: ThingId) -> Option<Amps> {
        let (on, idle) = (self.working(at, battery)?.0, self.idle(point, battery).0);
        Some(Amps((on * on * point.duty.0 + idle * idle * (1.0 - point.duty.0)).sqrt()))
    }

    fn idle(&self, point: &Point, battery: ThingId) -> Amps {
        self.idling.get(&(point.mode, charge_of(point), battery)).copied().unwrap_or(Amps(0.0))
    }
}

/// Collects the currents. Modes that work all the time need no second look.
pub(super) fn currents(
    design: &Design,
    topology: &Topology,
    figures: &Figures,
    batteries: &[ThingId],
) -> Currents {
    let mut found = Currents { working: BTreeMap::new(), idling: BTreeMap::new() };
    let mut trials = None;
    for (at, point) in figures.points.iter().enumerate() {
        for battery in batteries {
            if let Some(amps) = point.source_amps(topology, *battery) {
                found.working.insert((at, *battery), amps);
            }
        }
        let mode = design.modes.get(point.mode.index());
        let Some(mode) = mode.filter(|_| point.duty < Share(1.0) && point.corner.is_plain()) else {
            continue;
        };
        let trials = trials.get_or_insert_with(|| figures.trials(design, topology));
        let idle = trials.after(point, point.mode, &idling(design, mode), charge_of(point));
        for battery in batteries {
            if let Some(amps) = idle.source_amps(topology, *battery) {
                found.idling.insert((point.mode, charge_of(point), *battery), amps);
            }
        }
    }
    found
}

/// What goes round between batteries side by side, by point and battery.
pub(super) fn circulating(
    design: &Design,
    topology: &Topology,
    figures: &Figures,
    packs: &[Pack],
) -> BTreeMap<(usize, ThingId), Amps> {
    let batteries: Vec<ThingId> = packs.iter().map(|pack| pack.thing).collect();
    let mut found = BTreeMap::new();
    for (at, point) in figures.points.iter().enumerate() {
        bank::circulating(design, topology, point, &batteries, |battery, amps| {
            found.insert((at, battery), amps);
        });
    }
    found
}

/// The mode with every load idling and no motor driven.
fn idling(design: &Design, mode: &Mode) -> Mode {
    let mut changed = mode.clone();
    for ((_, thing), state) in design.things().zip(&mut changed.states) {
        if let State::Draws(level) = state
            && *level != Level::Off
        {
            *level = if thing.id() == KindId::Motor { Level::Off } else { Level::Idle };
        }
    }
    changed
}

/// The figures of one battery but for what goes round between it and others and what flows when they are joined.
pub(super) fn pack(seen: &Seen<'_>, modes: &[ModeEnergy], thing: ThingId) -> Pack {
    let points = seen.figures.points.iter().enumerate();
    Pack {
        thing,
        capacity: capacity_of(seen.design, thing),
        usable: usable_of(seen.design, thing),
        at: points.filter_map(|(at, point)| seen_at(seen, at, point, thing)).collect(),
        charging: charging::charging(seen, modes, thing),
        joining: None,
    }
}

fn seen_at(seen: &Seen<'_>, at: usize, point: &Point, thing: ThingId) -> Option<PackPoint> {
    let Seen { design, topology, currents, .. } = *seen;
    let amps = currents.working(at, thing)?;
    let emf = unfold::source_figures(design.thing(thing), charge_of(point))?.emf;
    Some(PackPoint {
        point: at,
        amps,
        mean: currents.mean(at, point, thing)?,
        rms: currents.rms(at, point, thing)?,
        emf,
        // A battery that nothing is joined to stands at its own voltage.
        poles: point.supply_volts(design, topology, thing).unwrap_or(emf),
        circulating: Amps(0.0),
    })
}
