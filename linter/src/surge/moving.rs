//! What motors move, by what is stated of them.

use wattle_grammar::{
    kind::key,
    quantity::{KilogramSquareMetres, Kilograms, MetresPerSecond, Rpm, Seconds, Watts},
};

use crate::{
    design::{Design, ThingId},
    missing::Missing,
    physics::{motion, unit::Joules},
};

/// More energy than this is in no robot, joule: what is written of it counts as not stated, so that no figure is endless.
const MOST: f64 = 1e12;

/// What a motor moves, and the energy in it at its highest speed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Moving {
    /// The motor.
    pub motor: ThingId,
    /// A mass along a way.
    pub along: Option<(Kilograms, MetresPerSecond)>,
    /// Something that turns.
    pub around: Option<(KilogramSquareMetres, Rpm)>,
    /// The energy of both.
    pub energy: Joules,
    /// The shortest time in which it is braked, where that is stated.
    pub time: Option<Seconds>,
}

impl Moving {
    /// By what a motor states.
    ///
    /// # Errors
    /// Names what it does not state.
    pub fn of(design: &Design, motor: ThingId) -> Result<Self, Missing> {
        let thing = design.thing(motor);
        let lacks = |key: &str| Missing::on(motor, key);
        let along = match (thing.get::<Kilograms>(key::MOVED_MASS), thing.get(key::MOVED_SPEED)) {
            (Some(mass), Some(speed)) => Some((mass, speed)),
            (Some(_), None) => return Err(lacks(key::MOVED_SPEED)),
            (None, Some(_)) => return Err(lacks(key::MOVED_MASS)),
            (None, None) => None,
        };
        let around =
            match (thing.get::<KilogramSquareMetres>(key::MOVED_INERTIA), thing.get(key::MOVED_TURNING)) {
                (Some(inertia), Some(speed)) => Some((inertia, speed)),
                (Some(_), None) => return Err(lacks(key::MOVED_TURNING)),
                (None, Some(_)) => return Err(lacks(key::MOVED_INERTIA)),
                (None, None) => None,
            };
        if along.is_none() && around.is_none() {
            return Err(lacks(key::MOVED_MASS));
        }
        let energy = along.map_or(0.0, |(mass, speed)| motion::moving(mass, speed).0)
            + around.map_or(0.0, |(inertia, speed)| motion::turning(inertia, speed).0);
        if energy > MOST {
            return Err(lacks(key::MOVED_SPEED));
        }
        let time = thing.get::<Seconds>(key::BRAKING_TIME).filter(|time| time.0 > 0.0);
        Ok(Self { motor, along, around, energy: Joules(energy), time })
    }

    /// The highest power that braking gives back; none where no time is stated.
    #[must_use]
    pub fn power(&self) -> Option<Watts> {
        self.time.map(|time| motion::braking_power(self.energy, time))
    }
}
