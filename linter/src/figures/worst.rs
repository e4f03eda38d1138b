//! The worst that a wire sees over all working points.

use wattle_grammar::quantity::{Amps, Volts};

use super::{Figures, Point};
use crate::{
    design::WireId,
    topology::{LinkId, Topology},
};

/// Figures of two points that differ by less than this share are the same but for the solver's rounding: then the first
/// point, at the plainest corner, is the one to name.
const SAME: f64 = 1e-9;

/// Whether a figure is more than another beyond the rounding of the solver.
#[must_use]
pub(crate) fn exceeds(next: f64, held: f64) -> bool {
    next - held > SAME * held.abs()
}

/// The worst current of a wire.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Worst {
    /// Magnitude of the current. With a duty it is the root mean square.
    pub amps: Amps,
    /// The point it occurs in: index into [`Figures::points`].
    pub point: usize,
}

impl Figures {
    /// The worst steady current of a wire: over ordinary modes ([`Point::ordinary`]), root mean square over the mode's
    /// duty: `I · √duty`. `None` when none of them is solved.
    #[must_use]
    pub fn worst(&self, wire: WireId) -> Option<Worst> {
        self.worst_of(
            LinkId(wire.0),
            |point| point.ordinary,
            |point, amps| amps * point.duty.0.max(0.0).sqrt(),
        )
    }

    /// The highest current of a wire in any mode, however short it lasts: no duty, stall and pushing included.
    #[must_use]
    pub fn highest(&self, wire: WireId) -> Option<Worst> {
        self.worst_of(LinkId(wire.0), |_| true, |_, amps| amps)
    }

    /// As [`Self::worst`], of any link, as the contact of a switch or a fuse.
    #[must_use]
    pub fn worst_link(&self, link: LinkId) -> Option<Worst> {
        self.worst_of(link, |point| point.ordinary, |point, amps| amps * point.duty.0.max(0.0).sqrt())
    }

    /// As [`Self::highest`], of any link.
    #[must_use]
    pub fn highest_link(&self, link: LinkId) -> Option<Worst> {
        self.worst_of(link, |_| true, |_, amps| amps)
    }

    /// The largest voltage that a wire drops in an ordinary mode, with the point.
    #[must_use]
    pub fn worst_drop(&self, topology: &Topology, wire: WireId) -> Option<(Volts, usize)> {
        let drops = self.points.iter().enumerate().filter(|(_, point)| point.ordinary);
        let drops = drops.filter_map(|(at, point)| Some((point.wire_drop(topology, wire)?.abs(), at)));
        drops.fold(None, |worst, drop| match worst {
            Some((volts, _)) if !exceeds(drop.0.0, volts.0) => worst,
            _ => Some(drop),
        })
    }

    /// The first of the points with the largest current.
    fn worst_of(
        &self,
        link: LinkId,
        counts: impl Fn(&Point) -> bool,
        weighed: impl Fn(&Point, Amps) -> Amps,
    ) -> Option<Worst> {
        let mut worst: Option<Worst> = None;
        for (at, point) in self.points.iter().enumerate().filter(|(_, point)| counts(point)) {
            let Some(amps) = point.amps(link) else { continue };
            let amps = weighed(point, amps.abs());
            if worst.is_none_or(|worst| exceeds(amps.0, worst.amps.0)) {
                worst = Some(Worst { amps, point: at });
            }
        }
        worst
    }
}
