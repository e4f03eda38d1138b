//! How far braking lifts the supply of a driver when no battery takes what comes back.
//!
//! All of the energy of what moves is taken to come back: friction and the copper of the windings keep some of it, so the
//! true voltage is lower. The supply is parted from every source by one thing that opens while the robot moves, the
//! contacts as they then stand; of all such the one counts that leaves the highest voltage.

use std::collections::{BTreeMap, BTreeSet};

use wattle_grammar::{
    kind::{KindId, Role, key},
    quantity::{Amps, Farads, Ohms, Volts, Watts},
};

use super::{Seen, capacity::capacities, joint::Joint, moving::Moving};
use crate::{
    design::ThingId,
    energy::charge_limit,
    figures::{Lost, Point},
    missing::Missing,
    physics::{capacitor, unit::Joules},
    topology::{Charge, Link, Nature},
};

/// So many things that may open are tried, switches and stops first: each takes a network solved.
const MOST_TRIED: usize = 24;

/// Less than this on a supply comes from no motor.
const NOTICED: Volts = Volts(0.5);

/// What braking does to the supply of a driver.
#[derive(Clone, Debug, PartialEq)]
pub struct Braking {
    /// The motors that give back to that supply, and what each moves.
    pub motors: Vec<Moving>,
    /// Those of which nothing is stated: what they give back is not counted.
    pub untold: Vec<ThingId>,
    /// What comes back in all.
    pub energy: Joules,
    /// How the supply loses its sources.
    pub parted: Parted,
    /// Something that opens as well, and what is missing to tell what then comes about.
    pub unassessed: Option<(ThingId, Missing)>,
    /// The capacitance that is left on it.
    pub capacitance: Farads,
    /// The voltage before.
    pub from: Volts,
    /// The voltage when nothing takes the energy.
    pub free: Volts,
    /// The clamp that takes it, where there is one and the voltage gets there.
    pub clamp: Option<Clamped>,
    /// The voltage that is reached, a clamp counted.
    pub reaches: Volts,
    /// What stands the least on that supply, the driver or a capacitor, and how much.
    pub stands: Result<(ThingId, Volts), Missing>,
    /// What flows into the batteries when they take it instead.
    pub charge: Result<Recharge, Missing>,
}

/// How a supply loses its sources while motors give back to it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Parted {
    /// This opens.
    By(ThingId),
    /// Every battery on it lets nothing of it in, by its `regen-current`.
    ByRefusal,
    /// Nothing that opens leaves the motors on it: the figure holds only for sources that let go by themselves.
    ByNothing,
}

/// What a clamp has to take.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Clamped {
    /// The clamp.
    pub clamp: ThingId,
    /// The voltage at which it begins.
    pub begins: Volts,
    /// The energy beyond what lifts the capacitors up to there.
    pub takes: Joules,
    /// The highest power that comes back, and its resistance: the voltage it holds; none where one is not stated.
    pub holds: Option<(Watts, Ohms)>,
    /// The power that it takes for long, as stated.
    pub power: Option<Watts>,
}

/// What flows into batteries.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Recharge {
    /// The highest power that comes back.
    pub power: Watts,
    /// The current at the voltage before.
    pub amps: Amps,
    /// What all batteries on that supply may be charged with together; none where one does not state it.
    pub most: Option<Amps>,
}

/// What braking does to a driver's supply, with the robot as it stands at work. `None` for one that gives nothing back or has
/// no motor that its load can turn.
pub(super) fn braking(
    seen: &Seen<'_>,
    driver: ThingId,
    before: Option<(usize, Volts)>,
    at_work: &Gathered,
) -> Option<Result<Braking, Missing>> {
    if seen.design.thing(driver).flag(key::REGENERATES) == Some(false) {
        return None;
    }
    let whole = Supply::of(seen, driver, at_work)?;
    let (told, untold) = whole.motors(seen);
    if told.is_empty() {
        let first = untold.first()?;
        return Some(Err(Moving::of(seen.design, *first)
            .err()
            .unwrap_or_else(|| Missing::on(*first, key::MOVED_MASS))));
    }
    let Some((_, from)) = before else {
        return Some(Err(Missing::on(driver, "a working point in a mode that lasts")));
    };
    Some(worst(seen, &whole, &told, from))
}

/// The highest voltage over all that may part the supply.
fn worst(seen: &Seen<'_>, whole: &Supply<'_>, told: &[Moving], from: Volts) -> Result<Braking, Missing> {
    let charge = whole.recharge(seen, told, from);
    let lifted = |parted| {
        let lifted = whole.lifted(seen, parted, from, charge.clone());
        lifted.unwrap_or_else(|| Err(Missing::on(whole.driver, key::CAPACITANCE)))
    };
    let refused = whole.is_refused(seen).then(|| lifted(Parted::ByRefusal));
    let mut worst = refused.and_then(Result::ok);
    let turned: Vec<ThingId> = told.iter().map(|moving| moving.motor).collect();
    let mut unassessed = None;
    for (opened, point) in losses(seen, whole.driver, &turned) {
        let gathered = Gathered::new(seen, Joint::new(seen, &point, Some(opened)));
        let supply = Supply::of(seen, whole.driver, &gathered);
        let Some(supply) = supply.filter(|supply| !supply.is_fed(seen)) else { continue };
        match supply.lifted(seen, Parted::By(opened), from, charge.clone()) {
            Some(Ok(found)) if worst.as_ref().is_none_or(|held| found.reaches > held.reaches) => {
                worst = Some(found);
            }
            Some(Err(missing)) => unassessed = unassessed.or(Some((opened, missing))),
            _ => {}
        }
    }
    let worst = worst.map_or_else(|| lifted(Parted::ByNothing), Ok)?;
    Ok(Braking { unassessed, ..worst })
}

/// The robot after each thing has opened while it moved, where the motors still reach the supply of the driver.
fn losses(seen: &Seen<'_>, driver: ThingId, turned: &[ThingId]) -> Vec<(ThingId, Point)> {
    let mut openers: Vec<(bool, ThingId)> = seen
        .design
        .things()
        .filter_map(|(id, thing)| match thing.id() {
            KindId::Switch | KindId::Stop => Some((false, id)),
            KindId::Breaker | KindId::Fuse => Some((true, id)),
            _ => None,
        })
        .collect();
    openers.sort_unstable();
    let mut trials = seen.figures.trials(seen.design, seen.topology);
    let after = |(_, opened): (bool, ThingId)| {
        let point = trials.power_lost(&[Lost::Thing(opened)], turned, Charge::Full)?;
        let volts = point.supply_volts(seen.design, seen.topology, driver)?;
        (volts > NOTICED).then_some((opened, point))
    };
    openers.into_iter().take(MOST_TRIED).filter_map(after).collect()
}

/// The pieces of a robot, with the drivers that give back and the motors at each.
pub(super) struct Gathered {
    joint: Joint,
    /// By the pieces of their supplies.
    drivers: BTreeMap<(u32, u32), Vec<ThingId>>,
    /// By the pieces of their windings' ends.
    motors: BTreeMap<u32, BTreeSet<ThingId>>,
}

impl Gathered {
    /// Gathers them.
    pub(super) fn new(seen: &Seen<'_>, joint: Joint) -> Self {
        let (mut drivers, mut motors) = (BTreeMap::new(), BTreeMap::new());
        for (id, thing) in seen.design.things() {
            let gives_back = thing.id() == KindId::Driver && thing.flag(key::REGENERATES) != Some(false);
            for (_, link) in seen.topology.inside(id) {
                if gives_back && link.nature == Nature::DriverInput {
                    drivers.entry(joint.pair(link.a, link.b)).or_insert_with(Vec::new).push(id);
                }
                if thing.id() == KindId::Motor && link.nature == Nature::Winding {
                    for node in [link.a, link.b] {
                        motors.entry(joint.piece(node)).or_insert_with(BTreeSet::new).insert(id);
                    }
                }
            }
        }
        Self { joint, drivers, motors }
    }
}

/// The supply of a driver and what conductors and closed contacts join to it.
struct Supply<'a> {
    driver: ThingId,
    gathered: &'a Gathered,
    joint: &'a Joint,
    own: (u32, u32),
}

impl<'a> Supply<'a> {
    fn of(seen: &Seen<'_>, driver: ThingId, gathered: &'a Gathered) -> Option<Self> {
        let (_, input) = seen.topology.inside(driver).find(|(_, link)| link.nature == Nature::DriverInput)?;
        let joint = &gathered.joint;
        Some(Self { driver, gathered, joint, own: joint.pair(input.a, input.b) })
    }

    fn is_fed(&self, seen: &Seen<'_>) -> bool {
        self.joint.fed(seen).contains(&self.own)
    }

    fn holds(&self, link: &Link) -> bool {
        self.joint.pair(link.a, link.b) == self.own
    }

    /// The motors at the leads of the drivers on this supply that their load can turn: those that state what they move, and
    /// the others.
    fn motors(&self, seen: &Seen<'_>) -> (Vec<Moving>, Vec<ThingId>) {
        let drivers = self.gathered.drivers.get(&self.own).into_iter().flatten();
        let leads = drivers.flat_map(|driver| self.leads(seen, *driver));
        let at_leads = leads.filter_map(|lead| self.gathered.motors.get(&lead));
        let motors: BTreeSet<ThingId> = at_leads.flatten().copied().collect();
        let (mut told, mut untold) = (Vec::new(), Vec::new());
        for id in motors {
            if seen.design.thing(id).flag(key::BACK_DRIVABLE) == Some(false) {
                continue;
            }
            match Moving::of(seen.design, id) {
                Ok(moving) => told.push(moving),
                Err(_) => untold.push(id),
            }
        }
        (told, untold)
    }

    /// The pieces at the motor leads of a driver, short of its own supply.
    fn leads(&self, seen: &Seen<'_>, driver: ThingId) -> Vec<u32> {
        let terminals = seen.design.terminals_of(driver);
        let leads = terminals.filter(|(_, terminal)| terminal.role == Role::MotorLead);
        let nodes = leads.filter_map(|(id, _)| seen.topology.node(id));
        let pieces = nodes.map(|node| self.joint.piece(node));
        pieces.filter(|piece| ![self.own.0, self.own.1].contains(piece)).collect()
    }

    /// How far what its motors give back lifts it. `None` when none of them says what it moves.
    fn lifted(
        &self,
        seen: &Seen<'_>,
        parted: Parted,
        from: Volts,
        charge: Result<Recharge, Missing>,
    ) -> Option<Result<Braking, Missing>> {
        let (motors, untold) = self.motors(seen);
        if motors.is_empty() {
            return None;
        }
        let all = capacities(seen);
        let capacitance: Farads = all.iter().filter(|one| self.holds(one.link)).map(|one| one.farads).sum();
        if capacitance <= Farads(0.0) {
            return Some(Err(Missing::on(self.driver, key::CAPACITANCE)));
        }
        let energy = Joules(motors.iter().map(|moving| moving.energy.0).sum());
        let free = capacitor::lifted(capacitance, from, energy);
        let power = power(&motors).ok();
        let clamp = self.clamp(seen, free, (capacitance, from, energy), power);
        let held = clamp.map(|clamp| clamp.voltage().max(from).min(free));
        Some(Ok(Braking {
            motors,
            untold,
            energy,
            parted,
            unassessed: None,
            capacitance,
            from,
            free,
            clamp,
            reaches: held.unwrap_or(free),
            stands: self.stands(seen),
            charge,
        }))
    }

    /// The lowest clamp on the supply that takes more than spikes, where the voltage gets to it.
    fn clamp(
        &self,
        seen: &Seen<'_>,
        free: Volts,
        (capacitance, from, energy): (Farads, Volts, Joules),
        given: Option<Watts>,
    ) -> Option<Clamped> {
        let clamps = seen.design.things().filter(|(id, thing)| {
            let is_here = seen.topology.inside(*id).next().is_some_and(|(_, link)| self.holds(link));
            thing.id() == KindId::Clamp
                && is_here
                && !matches!(thing.word(key::STYLE), Some("transient-diode" | "varistor"))
        });
        let begins = clamps.filter_map(|(id, thing)| Some((id, thing.get::<Volts>(key::CLAMPS_AT)?)));
        let (clamp, begins) = begins
            .reduce(|held, next| if next.1 < held.1 { next } else { held })
            .filter(|(_, at)| *at < free)?;
        let thing = seen.design.thing(clamp);
        let takes = Joules((energy.0 - capacitor::room(capacitance, from, begins).0).max(0.0));
        let holds = given.zip(thing.get::<Ohms>(key::RESISTANCE));
        Some(Clamped { clamp, begins, takes, holds, power: thing.get(key::POWER) })
    }

    /// The least of what the driver and the capacitors on the supply stand.
    fn stands(&self, seen: &Seen<'_>) -> Result<(ThingId, Volts), Missing> {
        let most = super::bus::most(seen, self.driver)?;
        let all = capacities(seen);
        let capacitors =
            all.iter().filter(|one| one.link.nature == Nature::Capacitor && self.holds(one.link));
        let rated =
            capacitors.filter_map(|one| Some((one.thing, seen.design.thing(one.thing).get(key::VOLTAGE)?)));
        Ok(rated.fold((self.driver, most), |held, next| if next.1 < held.1 { next } else { held }))
    }

    /// Whether every battery on the supply says that it lets nothing of what brakes in.
    fn is_refused(&self, seen: &Seen<'_>) -> bool {
        let mut batteries = self.batteries(seen).peekable();
        batteries.peek().is_some()
            && batteries.all(|id| seen.design.thing(id).get(key::REGEN_CURRENT) == Some(Amps(0.0)))
    }

    /// The batteries on the supply.
    fn batteries<'b>(&'b self, seen: &'b Seen<'_>) -> impl Iterator<Item = ThingId> + 'b {
        let on_it = seen.design.things().filter(|(id, thing)| {
            let cells = |link: &Link| matches!(link.nature, Nature::Cells { .. });
            let ends: Vec<u32> = seen
                .topology
                .inside(*id)
                .filter(|(_, link)| cells(link))
                .flat_map(|(_, link)| [self.joint.piece(link.a), self.joint.piece(link.b)])
                .collect();
            thing.id() == KindId::Battery && ends.contains(&self.own.0) && ends.contains(&self.own.1)
        });
        on_it.map(|(id, _)| id)
    }

    /// What flows into the batteries on the supply when they take it.
    fn recharge(&self, seen: &Seen<'_>, motors: &[Moving], at: Volts) -> Result<Recharge, Missing> {
        let power = power(motors)?;
        let limits: Vec<Option<Amps>> =
            self.batteries(seen).map(|id| charge_limit(seen.design, id).ok()).collect();
        let most = if limits.is_empty() { None } else { limits.into_iter().sum() };
        Ok(Recharge { power, amps: power / at, most })
    }
}

/// The highest power that motors give back together.
fn power(motors: &[Moving]) -> Result<Watts, Missing> {
    let each = motors
        .iter()
        .map(|moving| moving.power().ok_or_else(|| Missing::on(moving.motor, key::BRAKING_TIME)));
    each.sum::<Result<Watts, Missing>>()
}

impl Clamped {
    /// The voltage that it holds: at which it begins, or more where its resistance takes the power at that only.
    #[must_use]
    pub fn voltage(&self) -> Volts {
        self.holds.map_or(self.begins, |(power, ohms)| self.begins.max(Volts((power.0 * ohms.0).sqrt())))
    }
}

impl Braking {
    /// Whether it goes beyond what the driver or a capacitor stands while something parts the supply.
    #[must_use]
    pub fn is_beyond(&self) -> bool {
        let stands = self.stands.as_ref().is_ok_and(|(_, stands)| self.reaches > *stands);
        stands && self.parted != Parted::ByNothing
    }
}
