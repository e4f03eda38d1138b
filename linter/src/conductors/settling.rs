//! How warm a wire gets that carries a current for ever: the one rule for what the figures tell, what an expectation is held
//! against, and how warm the network takes its wires at the hot corners. The balance itself is [`crate::physics::heat`].

use wattle_grammar::quantity::{Amps, Celsius};

use super::Conductors;
use crate::{
    design::{Design, Wire, WireId},
    figures::Figures,
    physics::{
        constant::{ALUMINIUM_MELTS, COPPER_MELTS},
        heat::{self, Cable},
    },
    profile::{Conductor, bundle_share},
    unfold::over_copper,
};

/// How warm a wire becomes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Settling {
    /// The temperature its conductor settles at.
    Settles(Celsius),
    /// It does not settle below the melting point of its metal.
    Melts,
}

/// What [`settled`] rests on.
pub const WARMTH_BASIS: &str = "heat balance in still air, Churchill and Chu 1975 + radiation with emissivity 0.9; loaded \
                                neighbours by 33 CFR 183.425 table 5 note 2";

/// The current that warms a lone copper wire of the same size as much as `amps` warms this one among so many loaded
/// conductors, itself included: they leave it a share of its ampacity, and heat goes with the resistance of its metal and
/// with the square of the current.
#[must_use]
pub fn alone(wire: &Wire, loaded: u32, amps: Amps) -> Amps {
    amps.abs() * (over_copper(wire).sqrt() / bundle_share(loaded))
}

/// Where a wire settles in its surroundings, carrying a current for ever.
#[must_use]
pub fn settled(wire: &Wire, standing: &Conductor, amps: Amps) -> Settling {
    let amps = alone(wire, standing.bundle, amps);
    let settled = heat::steady_temperature(Cable::thin_walled(standing.area), amps, standing.ambient);
    let melts = if wire.aluminium { ALUMINIUM_MELTS } else { COPPER_MELTS };
    settled.filter(|warm| *warm < melts).map_or(Settling::Melts, Settling::Settles)
}

/// Where a wire settles, carrying the root mean square of a point's current over its duty for ever, in the warmest air that
/// it runs through. `None` for a wire without a size or a point without a solution.
#[must_use]
pub fn temperature(
    design: &Design,
    figures: &Figures,
    conductors: &Conductors,
    wire: WireId,
    point: usize,
) -> Option<Settling> {
    let amps = figures.wire_amps(point, wire)?;
    let duty = figures.points.get(point)?.duty;
    let standing = conductors.at(design, figures, wire, point)?;
    let rms = amps * duty.0.max(0.0).sqrt();
    Some(settled(design.wires.get(wire.index())?, &standing, rms))
}
