//! Working points: the network solved for every mode and state of charge, and what each wire and terminal sees.
//!
//! A relay stays as it was between its operate and release voltages, so it matters what was before. In every mode
//! contacts begin at rest with full packs: a relay has pulled in only if its coil then sees enough in that mode. From
//! there the packs run down, and a relay that is in stays in until its release voltage; whether it would still pull in
//! is to be judged by its coil's voltage. Modes in which a motor is turned from outside begin with the contacts of mode
//! `run` instead, for a robot is pushed after it has worked, and a relay that was in may be held in by what the motors
//! give.

mod assumption;
mod point;
mod settle;
#[cfg(test)]
mod tests;
mod trial;
mod worst;

pub use trial::{Lost, Trials};
pub use worst::Worst;

use std::sync::Arc;

use wattle_grammar::quantity::{Amps, Share};

use crate::{
    design::{Design, ModeId, WireId},
    network::{ElementId, Network, Unsolved, Working},
    topology::{Charge, LinkId, Topology},
    unfold::{Further, Skeleton, ThirdLeads},
};

/// One solved (or unsolvable) combination of mode and state of charge.
#[derive(Clone, Debug)]
pub struct Point {
    /// The mode.
    pub mode: ModeId,
    /// The state of charge of every battery.
    pub charge: Charge,
    /// Share of the time that loads draw their figure.
    pub duty: Share,
    /// Whether the state may last: nothing is blocked and nothing is turned from outside.
    pub ordinary: bool,
    /// The network as it stood.
    pub network: Network,
    /// The element of each link, by [`LinkId`].
    pub element_of: Arc<[Option<ElementId>]>,
    /// Further elements of links, in link order.
    pub further: Arc<[Further]>,
    /// Third leads of brushless motors, each with the windings whose current it carries.
    pub(crate) third_leads: Arc<ThirdLeads>,
    /// The result, or why there is none.
    pub outcome: Result<Working, Unsolved>,
}

/// All working points of a robot.
#[derive(Clone, Debug, Default)]
pub struct Figures {
    /// Modes in design order, each full, nominal, empty.
    pub points: Vec<Point>,
    /// Plain sentences on what was taken for ratings that are not written.
    pub assumptions: Vec<String>,
    skeleton: Skeleton,
}

impl Figures {
    /// Solves every mode at every state of charge.
    #[must_use]
    pub fn solve(design: &Design, topology: &Topology) -> Self {
        let skeleton = Skeleton::new(design, topology);
        let points = settle::points(design, topology, &skeleton);
        Self { points, assumptions: assumption::assumptions(design), skeleton }
    }

    /// The position of a mode's point in [`Self::points`].
    #[must_use]
    pub fn position(&self, mode: ModeId, charge: Charge) -> Option<usize> {
        let within = self.points_of(mode).iter().position(|point| point.charge == charge)?;
        Some(mode.index() * Charge::ALL.len() + within)
    }

    /// The points of a mode: full, nominal, empty.
    #[must_use]
    pub fn points_of(&self, mode: ModeId) -> &[Point] {
        let first = mode.index() * Charge::ALL.len();
        self.points.get(first..first + Charge::ALL.len()).unwrap_or(&[])
    }

    /// The point of a mode.
    #[must_use]
    pub fn point(&self, mode: ModeId, charge: Charge) -> Option<&Point> {
        self.points_of(mode).iter().find(|point| point.charge == charge)
    }

    /// The current through a wire at a point, from its `from` end to its `to` end.
    #[must_use]
    pub fn wire_amps(&self, point: usize, wire: WireId) -> Option<Amps> {
        self.points.get(point)?.amps(LinkId(wire.0))
    }
}
