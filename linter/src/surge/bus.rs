//! The supply of a driver when its motors give back.

use std::collections::BTreeMap;

use wattle_grammar::{
    kind::{KindId, key},
    quantity::{Amps, Farads, Henries, Volts},
};

use super::{
    Bus, Seen,
    braking::{Gathered, braking},
    capacity::capacities,
    joint::Joint,
};
use crate::{
    design::ThingId,
    figures::{Lost, Point, exceeds},
    missing::Missing,
    physics::{capacitor, unit::Joules},
    topology::{Charge, Nature},
};

/// Every driver, in thing order.
pub(super) fn buses(seen: &Seen<'_>) -> Vec<Bus> {
    let drivers = seen.design.things().filter(|(_, thing)| thing.id() == KindId::Driver);
    let drivers: Vec<ThingId> = drivers.map(|(id, _)| id).collect();
    if drivers.is_empty() {
        return Vec::new();
    }
    let unplugged = unplugged(seen);
    let beside = Beside::new(seen);
    let at_work = seen.full_point(|_| true).and_then(|at| seen.figures.points.get(at));
    let at_work = at_work.map(|point| Gathered::new(seen, Joint::new(seen, point, None)));
    let of = |driver| {
        let bus = bus(seen, driver, &beside, unplugged.as_ref());
        let braking = at_work.as_ref().and_then(|at_work| braking(seen, driver, bus.before, at_work));
        Bus { braking, ..bus }
    };
    drivers.into_iter().map(of).collect()
}

/// The robot pushed with every battery, supply and generator taken away.
fn unplugged(seen: &Seen<'_>) -> Option<Point> {
    let of_kind = |wanted: &dyn Fn(KindId) -> bool| -> Vec<ThingId> {
        seen.design.things().filter(|(_, thing)| wanted(thing.id())).map(|(id, _)| id).collect()
    };
    let sources = of_kind(&|kind| {
        matches!(kind, KindId::Battery | KindId::Supply | KindId::Generator | KindId::Charger)
    });
    let lost: Vec<Lost> = sources.into_iter().map(Lost::Thing).collect();
    let mut motors = of_kind(&|kind| kind == KindId::Motor);
    motors.retain(|motor| seen.design.thing(*motor).flag(key::BACK_DRIVABLE) != Some(false));
    if motors.is_empty() {
        return None;
    }
    seen.figures.trials(seen.design, seen.topology).pushed_from_rest(&lost, &motors, Charge::Full)
}

fn bus(seen: &Seen<'_>, driver: ThingId, beside: &Beside, unplugged: Option<&Point>) -> Bus {
    let at_supply = |point: &Point| point.supply_volts(seen.design, seen.topology, driver);
    let before = highest(seen, at_supply, |point| point.ordinary);
    let most = most(seen, driver);
    let shared = beside.shared(seen, driver);
    let room = (|| {
        let (most, farads) = (most.clone()?, shared.farads.clone()?);
        let (_, from) = before.ok_or_else(|| Missing::on(driver, "a working point in a mode that lasts"))?;
        Ok(capacitor::room(farads, from, most))
    })();
    Bus {
        driver,
        pushed: highest(seen, at_supply, |point| point.pushed),
        pushed_unplugged: unplugged.and_then(at_supply).map(|volts| volts.max(Volts(0.0))),
        windings_lift: windings_lift(seen, driver, before, &shared),
        most,
        braking: None,
        before,
        capacitance: shared.farads,
        room,
        clamped_at: shared.clamped_at,
    }
}

/// The highest supply voltage that does not destroy a driver: `absolute-max`, else the upper end of `supply`.
pub(super) fn most(seen: &Seen<'_>, driver: ThingId) -> Result<Volts, Missing> {
    let written = seen.design.thing(driver).get::<Volts>(key::ABSOLUTE_MAX);
    written.filter(|volts| *volts > Volts(0.0)).ok_or_else(|| Missing::on(driver, key::ABSOLUTE_MAX))
}

fn highest(
    seen: &Seen<'_>,
    volts: impl Fn(&Point) -> Option<Volts>,
    counts: impl Fn(&Point) -> bool,
) -> Option<(usize, Volts)> {
    let mut found: Option<(usize, Volts)> = None;
    for (at, point) in seen.figures.points.iter().enumerate().filter(|(_, point)| counts(point)) {
        let Some(volts) = volts(point).map(|volts| volts.max(Volts(0.0))) else { continue };
        if found.is_none_or(|(_, held)| exceeds(volts.0, held.0)) {
            found = Some((at, volts));
        }
    }
    found
}

/// What hangs on the supply of a driver beside it.
struct Shared {
    farads: Result<Farads, Missing>,
    clamped_at: Option<Volts>,
}

/// Capacitors and clamps by the pieces that their poles belong to, as the contacts stand in mode `run`, else in the first
/// mode that lasts.
#[derive(Default)]
struct Beside {
    joint: Option<Joint>,
    farads: BTreeMap<(u32, u32), Farads>,
    clamped_at: BTreeMap<(u32, u32), Volts>,
}

impl Beside {
    fn new(seen: &Seen<'_>) -> Self {
        let point = seen.full_point(|_| true).and_then(|at| seen.figures.points.get(at));
        let Some(joint) = point.map(|point| Joint::new(seen, point, None)) else { return Self::default() };
        let mut beside = Self::default();
        for one in capacities(seen) {
            let farads = beside.farads.entry(joint.pair(one.link.a, one.link.b)).or_insert(Farads(0.0));
            *farads = *farads + one.farads;
        }
        for (id, thing) in seen.design.things().filter(|(_, thing)| thing.id() == KindId::Clamp) {
            let (Some((_, link)), Some(volts)) =
                (seen.topology.inside(id).next(), thing.get::<Volts>(key::CLAMPS_AT))
            else {
                continue;
            };
            let held = beside.clamped_at.entry(joint.pair(link.a, link.b)).or_insert(volts);
            *held = held.min(volts);
        }
        beside.joint = Some(joint);
        beside
    }

    /// What stands beside a driver's supply.
    fn shared(&self, seen: &Seen<'_>, driver: ThingId) -> Shared {
        let input = seen.topology.inside(driver).find(|(_, link)| link.nature == Nature::DriverInput);
        let own = self.joint.as_ref().zip(input).map(|(joint, (_, input))| joint.pair(input.a, input.b));
        let farads = own.and_then(|own| self.farads.get(&own)).filter(|farads| **farads > Farads(0.0));
        Shared {
            farads: farads.copied().ok_or_else(|| Missing::on(driver, key::CAPACITANCE)),
            clamped_at: own.and_then(|own| self.clamped_at.get(&own)).copied(),
        }
    }
}

/// The voltage to which the windings of all motors lift the supply when they are switched off at their highest current:
/// as if every one of them hung on this driver, so on the high side. Motors without an inductance are named.
fn windings_lift(
    seen: &Seen<'_>,
    driver: ThingId,
    before: Option<(usize, Volts)>,
    shared: &Shared,
) -> Result<Volts, Missing> {
    let farads = shared.farads.clone()?;
    let (_, from) = before.ok_or_else(|| Missing::on(driver, "a working point in a mode that lasts"))?;
    let mut given = Joules(0.0);
    for (id, thing) in seen.design.things().filter(|(_, thing)| thing.id() == KindId::Motor) {
        let henries =
            thing.get::<Henries>(key::INDUCTANCE).ok_or_else(|| Missing::on(id, key::INDUCTANCE))?;
        let amps = seen
            .topology
            .inside(id)
            .find_map(|(link, _)| seen.figures.highest_link(link))
            .map_or(Amps(0.0), |worst| worst.amps);
        given = Joules(given.0 + 0.5 * henries.0 * amps.0 * amps.0);
    }
    Ok(capacitor::lifted(farads, from, given))
}
