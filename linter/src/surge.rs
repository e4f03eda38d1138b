//! Surges: what flows when a contact closes onto empty capacitors, how far turned and braking motors lift a bus, how long a
//! bus holds what hangs on it, and whether coils still pull in when they are warm and the batteries empty.
//!
//! [`Surges::new`] computes the tables, [`Surges::explain`] derives the figures of one thing. What cannot be told says
//! which rating is missing; nothing here is infinite or NaN.

mod asked;
mod braking;
mod bus;
mod capacity;
mod closing;
mod coil;
mod explain;
mod hold;
mod joint;
mod moving;
mod precharge;

use wattle_grammar::quantity::{Amps, Celsius, Farads, Ohms, Seconds, Volts, Watts};

use crate::{
    design::{Design, MateId, ThingId},
    figures::{Corner, Figures, Point},
    missing::Missing,
    physics::unit::Joules,
    topology::{Charge, Topology},
};

pub use asked::Asked;
pub use braking::{Braking, Clamped, Parted, Recharge};
use coil::coils;
pub use moving::Moving;

/// What is known of a robot's transients.
#[derive(Clone, Debug, Default)]
pub struct Surges {
    /// Contacts that close onto empty capacitors: things in their order, then mated pairs.
    pub closings: Vec<Closing>,
    /// Each driver's bus, in thing order.
    pub buses: Vec<Bus>,
    /// Each coil, in thing order.
    pub coils: Vec<Coil>,
    /// What capacitors hold after their supply is opened.
    pub holds: Vec<Hold>,
}

/// What closes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Contact {
    /// A switch, stop, relay or contactor.
    Thing(ThingId),
    /// A mated pair that is plugged together.
    Mate(MateId),
}

/// A contact that closes onto empty capacitors.
#[derive(Clone, Debug)]
pub struct Closing {
    /// Which.
    pub contact: Contact,
    /// The point in which it is closed; the batteries are full there.
    pub point: usize,
    /// The parts whose capacitors it fills.
    pub into: Vec<ThingId>,
    /// Their capacitance in all.
    pub capacitance: Farads,
    /// The voltage that drives it: what the capacitors come to, less what they have before.
    pub volts: Volts,
    /// The resistance of the way round.
    pub path: Ohms,
    /// The highest current through the contact.
    pub peak: Amps,
    /// The most it may close onto.
    pub makes: Result<Amps, Missing>,
    /// How the capacitors are filled before, when they are.
    pub precharge: Option<Precharge>,
}

impl Closing {
    /// Energy that goes into the capacitors, and as much again into the way there.
    #[must_use]
    pub fn energy(&self) -> Joules {
        crate::physics::capacitor::energy(self.capacitance, self.volts)
    }

    /// The current at the moment of closing after the pre-charge, where there is one.
    #[must_use]
    pub fn peak_after_precharge(&self) -> Amps {
        let left = self.precharge.as_ref().map_or(self.volts, |before| self.volts - before.reaches);
        left.max(Volts(0.0)) / self.path
    }
}

/// How capacitors are filled through a resistance before a contact closes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Precharge {
    /// The point in which it happens.
    pub point: usize,
    /// The voltage that they come to, with what is on the bus.
    pub reaches: Volts,
    /// The resistance through which they fill.
    pub resistance: Ohms,
    /// The time to 95 % of it.
    pub to_95: Seconds,
    /// The time to 99 % of it.
    pub to_99: Seconds,
    /// What the resistance turns to heat.
    pub energy: Joules,
}

/// The supply of a driver when its motors give back.
#[derive(Clone, Debug)]
pub struct Bus {
    /// The driver.
    pub driver: ThingId,
    /// The highest voltage at its supply in a mode in which motors are turned from outside, with the point.
    pub pushed: Option<(usize, Volts)>,
    /// The same with every battery, supply and generator taken away.
    pub pushed_unplugged: Option<Volts>,
    /// The highest voltage that does not destroy it.
    pub most: Result<Volts, Missing>,
    /// The highest voltage at its supply in ordinary modes, with the point.
    pub before: Option<(usize, Volts)>,
    /// The capacitance that its supply shares.
    pub capacitance: Result<Farads, Missing>,
    /// The energy that lifts it from there to its highest voltage when no battery takes it.
    pub room: Result<Joules, Missing>,
    /// The voltage at which the lowest clamp on the same supply begins to conduct.
    pub clamped_at: Option<Volts>,
    /// The voltage to which the energy of its motors' windings lifts it when they are switched off; nothing else counts.
    pub windings_lift: Result<Volts, Missing>,
    /// What braking does to it; `None` where nothing comes back.
    pub braking: Option<Result<Braking, Missing>>,
}

/// A coil when it is warm.
#[derive(Clone, Debug)]
pub struct Coil {
    /// The relay or contactor.
    pub thing: ThingId,
    /// The temperature that its figures are stated for.
    pub stated_at: Celsius,
    /// The warmest air around it, and whether that is written.
    pub air: (Celsius, bool),
    /// The voltage at which it has surely operated, as stated.
    pub operate: Volts,
    /// Whether that is written, or usual.
    pub operate_written: bool,
    /// The same with the winding as warm as the air.
    pub operate_in_air: Volts,
    /// The same with the winding as warm as it gets when it stays on.
    pub operate_hot: Volts,
    /// The voltage below which it has surely released, as stated.
    pub release: Volts,
    /// The same with the winding as warm as it gets when it stays on.
    pub release_hot: Volts,
    /// The lowest voltage it gets where it is to pull in, with the point.
    pub lowest: Option<(usize, Volts)>,
    /// The highest voltage over it while motors are turned from outside and it should have let go, with the point.
    pub pushed: Option<(usize, Volts)>,
    /// Electronics in it take a wide range of voltage.
    pub economiser: bool,
}

/// What is held.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Holds {
    /// A coil stays in.
    Coil,
    /// A controller, receiver or regulator goes on working.
    Supply,
}

/// What empties capacitors after their supply is opened.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum HoldLoad {
    /// The resistance of the coil alone.
    Coil(Ohms),
    /// Everything on the same supply goes on drawing this power.
    Power(Watts),
}

/// What capacitors hold after their supply is opened.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Hold {
    /// What is held.
    pub thing: ThingId,
    /// How.
    pub holds: Holds,
    /// What is opened.
    pub opened: ThingId,
    /// The point before that.
    pub point: usize,
    /// The capacitance in all.
    pub capacitance: Farads,
    /// The voltage before.
    pub from: Volts,
    /// The voltage at which it ends.
    pub down_to: Volts,
    /// What draws meanwhile.
    pub load: HoldLoad,
    /// How long that is; `None` when it never ends by what is known.
    pub time: Option<Seconds>,
}

impl Surges {
    /// Computes the tables.
    #[must_use]
    pub fn new(design: &Design, topology: &Topology, figures: &Figures) -> Self {
        Asked::default().completed(design, topology, figures)
    }
}

/// What the parts of this room look at.
#[derive(Clone, Copy)]
struct Seen<'a> {
    design: &'a Design,
    topology: &'a Topology,
    figures: &'a Figures,
}

impl Seen<'_> {
    /// The first solved point with full batteries that `wanted` accepts: of mode `run`, else of any mode that may last.
    fn full_point(&self, wanted: impl Fn(&Point) -> bool) -> Option<usize> {
        let is_run =
            |point: &Point| self.design.modes.get(point.mode.index()).is_some_and(|mode| mode.name == "run");
        let fits = |at: &usize, run: bool| {
            self.figures.points.get(*at).is_some_and(|point| {
                point.working().is_some()
                    && point.ordinary
                    && is_full(point)
                    && (!run || is_run(point))
                    && wanted(point)
            })
        };
        let all = || 0..self.figures.points.len();
        all().find(|at| fits(at, true)).or_else(|| all().find(|at| fits(at, false)))
    }
}

/// Whether a point stands for full batteries: the corner whose network a point carries.
fn is_full(point: &Point) -> bool {
    point.corner == Corner::of(Charge::Full)
}
