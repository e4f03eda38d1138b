//! Working points: the network solved for every mode at every corner, and what each wire and terminal sees.
//!
//! A relay stays as it was between its operate and release voltages, so it matters what was before. In every mode
//! contacts begin at rest with full packs and cold coils: a relay has pulled in only if its coil then sees enough in that mode. From
//! there the packs run down or the coils warm, and a relay that is in stays in until its release voltage; whether it
//! would still pull in is to be judged by its coil's voltage. Modes in which a motor is turned from outside begin with the contacts of mode
//! `run` instead, for a robot is pushed after it has worked, and a relay that was in may be held in by what the motors
//! give.

mod assumption;
mod corner;
mod point;
mod settle;
#[cfg(test)]
mod tests;
mod trial;
mod warmth;
mod worst;

pub use corner::{Corner, Setting, Warmth};
pub use trial::{Lost, Trials};
pub use worst::Worst;
pub(crate) use worst::exceeds;

use std::sync::Arc;

use wattle_grammar::quantity::{Amps, Celsius, Share};

use crate::{
    design::{Design, ModeId, WireId},
    network::{ElementId, Network, Unsolved, Working},
    topology::{Charge, LinkId, Topology},
    unfold::{Further, Skeleton, ThirdLeads, usual},
};

use warmth::Temperatures;

/// One solved (or unsolvable) combination of mode and corner.
#[derive(Clone, Debug)]
pub struct Point {
    /// The mode.
    pub mode: ModeId,
    /// Where batteries, regulators and conductors stand.
    pub corner: Corner,
    /// Share of the time that loads draw their figure.
    pub duty: Share,
    /// Whether the state may last: nothing is blocked and nothing is turned from outside.
    pub ordinary: bool,
    /// Whether something is turned from outside.
    pub pushed: bool,
    /// The network as it stood, with full packs, regulators as set and conductors cold: the corner changes numbers in it, not
    /// what conducts.
    pub network: Arc<Network>,
    /// The element of each link, by [`LinkId`].
    pub element_of: Arc<[Option<ElementId>]>,
    /// Further elements of links, in link order.
    pub further: Arc<[Further]>,
    /// Third leads of brushless motors, each with the windings whose current it carries.
    pub(crate) third_leads: Arc<ThirdLeads>,
    /// The result, or why there is none.
    pub outcome: Result<Arc<Working>, Unsolved>,
}

/// All working points of a robot.
#[derive(Clone, Debug, Default)]
pub struct Figures {
    /// Modes in design order, each in the order of [`Corner::all`].
    pub points: Vec<Point>,
    /// Plain sentences on what was taken for ratings that are not written.
    pub assumptions: Vec<String>,
    skeleton: Skeleton,
    temperatures: Temperatures,
}

impl Figures {
    /// Solves every mode at every corner.
    #[must_use]
    pub fn solve(design: &Design, topology: &Topology) -> Self {
        let skeleton = Skeleton::new(design, topology);
        let (points, temperatures) = settle::points(design, topology, &skeleton);
        Self { points, assumptions: assumption::assumptions(design), skeleton, temperatures }
    }

    /// The position of a mode's point in [`Self::points`].
    #[must_use]
    pub fn position(&self, mode: ModeId, corner: Corner) -> Option<usize> {
        let at = mode.index() * Corner::COUNT + corner.index();
        (at < self.points.len()).then_some(at)
    }

    /// The points of a mode, in the order of [`Corner::all`].
    #[must_use]
    pub fn points_of(&self, mode: ModeId) -> &[Point] {
        let first = mode.index() * Corner::COUNT;
        self.points.get(first..first + Corner::COUNT).unwrap_or(&[])
    }

    /// The point of a mode at the plain corner of a state of charge; see [`Corner::of`].
    #[must_use]
    pub fn point(&self, mode: ModeId, charge: Charge) -> Option<&Point> {
        self.points.get(self.position(mode, Corner::of(charge))?)
    }

    /// How warm a wire is taken to be at a point: 20 °C at a cold corner, else what its current makes of it in that mode.
    #[must_use]
    pub fn wire_temperature(&self, point: usize, wire: WireId) -> Option<Celsius> {
        let point = self.points.get(point)?;
        match point.corner.conductors {
            Warmth::Cold => Some(usual::CONDUCTOR),
            Warmth::Hot => self.temperatures.at(point.mode, wire.index()),
        }
    }

    /// The current through a wire at a point, from its `from` end to its `to` end.
    #[must_use]
    pub fn wire_amps(&self, point: usize, wire: WireId) -> Option<Amps> {
        self.points.get(point)?.amps(LinkId(wire.0))
    }
}
