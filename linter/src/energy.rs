//! Energy: what each battery gives in each mode, how long it lasts, how it is charged, and what flows when packs that are
//! not equally full are joined.
//!
//! [`Energy::new`] computes the tables, [`Energy::explain`] derives the figures of one thing and [`Energy::explain_robot`]
//! those of the whole robot. What cannot be told says which rating is missing; nothing here is infinite or NaN.

mod bank;
mod capacity;
mod charging;
mod explain;
mod joining;
mod limit;
mod mix;
mod modes;
mod pack;
mod withstand;

use wattle_grammar::{
    kind::{KindId, key},
    quantity::{AmpHours, Amps, CRate, Ohms, Seconds, Share, Volts},
};

use crate::{
    design::{Design, ModeId, ThingId},
    figures::{Figures, Point},
    missing::Missing,
    topology::{Charge, Topology},
};

pub use capacity::{Law, law};
pub use limit::{DischargeLimit, charge_limit, discharge_limit, sure_charge, sure_discharge};
pub use withstand::{Overload, overcharges, overloads};

/// What is known of a robot's batteries as stores of energy.
#[derive(Clone, Debug, Default)]
pub struct Energy {
    /// Each battery, in thing order.
    pub packs: Vec<Pack>,
    /// Each mode, in design order.
    pub modes: Vec<ModeEnergy>,
    /// The stated mix of modes; `None` when no mode has a `share`.
    pub mix: Option<Mix>,
    /// The mode in which the robot is put away: `standby`, else `storage`, else `off`.
    pub standby: Option<ModeId>,
}

/// One battery.
#[derive(Clone, Debug)]
pub struct Pack {
    /// Which.
    pub thing: ThingId,
    /// Its capacity, and the share of it that is used.
    pub capacity: Result<AmpHours, Missing>,
    /// The share of the capacity that is used before it is charged again.
    pub usable: Share,
    /// What it sees at every solved point, in point order.
    pub at: Vec<PackPoint>,
    /// How it is charged; `None` when no mode charges it.
    pub charging: Option<Charging>,
    /// What flows into it when it is empty and those beside it are full; `None` when nothing stands beside it.
    pub joining: Option<Joining>,
}

/// A battery at one solved point.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PackPoint {
    /// The index of the point in [`Figures::points`].
    pub point: usize,
    /// What it gives while the loads draw their figure; negative when it is charged.
    pub amps: Amps,
    /// The same over the mode's `duty`, the loads idling for the rest of the time.
    pub mean: Amps,
    /// Root mean square over the mode's `duty`, what heats it.
    pub rms: Amps,
    /// Voltage without load.
    pub emf: Volts,
    /// Voltage at its poles.
    pub poles: Volts,
    /// Current that goes round between it and those beside it, and does no work.
    pub circulating: Amps,
}

impl PackPoint {
    /// Its current as a multiple of the capacity per hour.
    #[must_use]
    pub fn rate(&self, capacity: AmpHours) -> Option<CRate> {
        (capacity > AmpHours(0.0)).then(|| crate::physics::battery::rate(capacity, self.amps))
    }

    /// What the internal resistance takes from its voltage.
    #[must_use]
    pub fn sag(&self) -> Volts {
        self.emf - self.poles
    }
}

/// How long something lasts.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Lasts {
    /// This long.
    For(Seconds),
    /// Nothing is taken out.
    Forever,
}

impl Lasts {
    /// The shorter of two.
    #[must_use]
    pub fn shorter(self, other: Self) -> Self {
        match (self, other) {
            (Self::For(one), Self::For(another)) => Self::For(one.min(another)),
            (Self::For(one), Self::Forever) | (Self::Forever, Self::For(one)) => Self::For(one),
            (Self::Forever, Self::Forever) => Self::Forever,
        }
    }

    /// Of a time that may be infinite or no number.
    fn of(time: Seconds) -> Self {
        if time.0.is_finite() { Self::For(time.max(Seconds(0.0))) } else { Self::Forever }
    }
}

/// A mode as the batteries see it.
#[derive(Clone, Debug)]
pub struct ModeEnergy {
    /// Which.
    pub mode: ModeId,
    /// The share of a working day that is spent in it, as stated.
    pub share: Option<Share>,
    /// Batteries whose poles are joined, in order of their first; without those that are taken out in the mode.
    pub banks: Vec<Bank>,
    /// How long a full charge lasts in this mode alone: as long as the first bank to run empty.
    pub lasts: Result<Lasts, Missing>,
}

/// Batteries side by side.
#[derive(Clone, Debug)]
pub struct Bank {
    /// Which.
    pub packs: Vec<ThingId>,
    /// The mean current over the discharge.
    pub mean: Result<Amps, Missing>,
    /// How long they last together.
    pub lasts: Result<Lasts, Missing>,
    /// How long each would last by its own share of the current, in the order of `packs`.
    pub each: Vec<Result<Lasts, Missing>>,
}

/// A working day of several modes.
#[derive(Clone, Debug)]
pub struct Mix {
    /// What the shares add up to.
    pub shares: Share,
    /// The mode that the rest of the day is spent in, when they add up to less than all of it.
    pub rest: Option<ModeId>,
    /// How long a full charge lasts at that.
    pub lasts: Result<Lasts, Missing>,
}

/// How a battery is charged.
#[derive(Clone, Debug)]
pub struct Charging {
    /// The point at which most flows into it.
    pub point: usize,
    /// How much that is.
    pub amps: Amps,
    /// From empty to full, with the usual allowance for the end; only where a charger is on.
    pub time: Option<Result<ChargingTime, Missing>>,
}

/// How long charging takes, and what that comes from.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ChargingTime {
    /// From empty to full.
    pub time: Seconds,
    /// The used share of the capacity of all packs side by side.
    pub charge: AmpHours,
    /// The least current into them before the end of charge.
    pub amps: Amps,
    /// The allowance for the end of charge and for losses.
    pub factor: f64,
}

/// What happens when a battery that is empty is joined to those beside it, which are full.
#[derive(Clone, Debug)]
pub struct Joining {
    /// The point at which they stand side by side.
    pub point: usize,
    /// The others.
    pub others: Vec<ThingId>,
    /// What flows into it at the first moment.
    pub amps: Amps,
    /// The difference of voltage that drives it.
    pub difference: Volts,
    /// The resistance of the way round, internal resistances and leads.
    pub round: Ohms,
    /// The greatest difference at which no more flows into it than it may be charged with.
    pub limit: Result<Volts, Missing>,
    /// The greatest difference at which they are joined, as stated.
    pub stated: Option<Volts>,
}

impl Energy {
    /// Computes the tables.
    #[must_use]
    pub fn new(design: &Design, topology: &Topology, figures: &Figures) -> Self {
        Self::for_rules(design, topology, figures).side_by_side(design, topology, figures)
    }

    /// Computes what rules judge by: without what goes round between batteries and what flows when they are joined, which
    /// takes a network solved for each of them.
    #[must_use]
    pub fn for_rules(design: &Design, topology: &Topology, figures: &Figures) -> Self {
        let batteries: Vec<ThingId> = batteries(design).collect();
        if batteries.is_empty() {
            return Self::default();
        }
        let currents = pack::currents(design, topology, figures, &batteries);
        let seen = Seen { design, topology, figures, currents: &currents };
        let modes = modes::modes(&seen, &batteries);
        let standby = modes::standby(design);
        let mix = mix::mix(&modes, standby, &batteries);
        let packs = batteries.iter().map(|thing| pack::pack(&seen, &modes, *thing)).collect();
        Self { packs, modes, mix, standby }
    }

    /// The same with what goes round between batteries and what flows when they are joined.
    #[must_use]
    pub fn side_by_side(&self, design: &Design, topology: &Topology, figures: &Figures) -> Self {
        let mut whole = self.clone();
        let circulating = pack::circulating(design, topology, figures, &whole.packs);
        let robot = joining::Robot { design, topology, figures };
        for pack in &mut whole.packs {
            for at in &mut pack.at {
                at.circulating = circulating.get(&(at.point, pack.thing)).copied().unwrap_or(Amps(0.0));
            }
            pack.joining = joining::joining(&robot, &self.modes, pack.thing);
        }
        whole
    }

    /// A battery.
    #[must_use]
    pub fn pack(&self, thing: ThingId) -> Option<&Pack> {
        self.packs.iter().find(|pack| pack.thing == thing)
    }

    /// How long a full charge lasts in a mode.
    ///
    /// # Errors
    /// Names what is missing.
    pub fn lasts_in(&self, mode: ModeId) -> Result<Lasts, Missing> {
        let found = self.modes.iter().find(|found| found.mode == mode);
        found.map_or_else(|| Err(Missing::of_robot("a battery")), |found| found.lasts.clone())
    }
}

/// What the parts of this room look at.
struct Seen<'a> {
    design: &'a Design,
    topology: &'a Topology,
    figures: &'a Figures,
    currents: &'a pack::Currents,
}

/// The batteries, in thing order.
fn batteries(design: &Design) -> impl Iterator<Item = ThingId> {
    design.things().filter(|(_, thing)| thing.id() == KindId::Battery).map(|(id, _)| id)
}

/// The state of charge that a point is solved for.
fn charge_of(point: &Point) -> Charge {
    point.corner.charge
}

/// The capacity of a battery, above nothing.
fn capacity_of(design: &Design, battery: ThingId) -> Result<AmpHours, Missing> {
    let written = design.thing(battery).get::<AmpHours>(key::CAPACITY);
    written.filter(|found| *found > AmpHours(0.0)).ok_or_else(|| Missing::on(battery, key::CAPACITY))
}

/// The share of its capacity that is used, by the table's default 80 %.
fn usable_of(design: &Design, battery: ThingId) -> Share {
    let written = design.thing(battery).get::<Share>(key::USABLE).unwrap_or(USABLE);
    written.max(Share(0.0)).min(Share(1.0))
}

/// Share of the capacity that is used where nothing is written (common practice, as in the table of kinds).
const USABLE: Share = Share(0.8);
