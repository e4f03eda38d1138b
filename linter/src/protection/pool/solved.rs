//! A pool that is solved, and what a short at each of its nodes draws.

use std::collections::BTreeSet;

use wattle_grammar::quantity::{Amps, Ohms, Volts};

use super::super::{
    highest::{Bound, Far, Highest, Reduced, Through},
    inverse::Inverse,
};
use crate::network::NodeId;

/// One pool, solved.
pub(super) struct Pool {
    /// Once for each way in which the diodes may stand, see [`super::stand`].
    pub(super) stands: Vec<Inverse>,
    /// Positions in [`Circuit::members`] of sources that are not in the inversion, or of usual resistance.
    pub(super) special: BTreeSet<usize>,
    /// Limits of links that let something in.
    pub(super) limits: f64,
    /// Whether currents get through cells in it, or in what feeds it: from one tap to another, into a pack from above.
    pub(super) through_cells: bool,
    /// The pools that feed it through diodes.
    pub(super) before: Vec<usize>,
    /// Why its currents are not exact.
    pub(super) bound: Option<Bound>,
}

/// So near to each other two figures of one network are the same but for rounding.
const SAME: f64 = 1e-9;

impl Pool {
    /// What the way to stand gives that gives most, and which that is.
    fn most<T: Default>(&self, of: impl Fn(&Inverse) -> (f64, T)) -> (f64, T) {
        let all = self.stands.iter().map(of);
        all.reduce(|held, next| if next.0 > held.0 { next } else { held }).unwrap_or_default()
    }

    /// What a short at a node draws.
    pub(super) fn short(&self, node: NodeId, place: u32) -> (f64, Reduced) {
        self.most(|stand| (stand.short(place), seen_from(stand, node, place)))
    }

    /// The same without what comes through a resistance from another node.
    pub(super) fn past(&self, (node, here): (NodeId, u32), there: u32, ohms: Ohms) -> (f64, Reduced) {
        let (linear, reduced) = self.most(|stand| {
            let back = if stand.is_bound() { 0.0 } else { stand.through(there, here, ohms.0) };
            let reduced = Reduced { around: Amps(back), ..seen_from(stand, node, here) };
            let whole = stand.short(here);
            (but_for_rounding(whole - back, whole), reduced)
        });
        (linear.max(0.0), reduced)
    }

    /// What passes a resistance from a node to a short at its far end; what is added and the negative are those of a short at
    /// the node.
    pub(super) fn at_far_end(
        &self,
        (node, here): (NodeId, u32),
        there: u32,
        own: Ohms,
        near: &Reduced,
    ) -> Far {
        let (linear, reduced) = self.most(|stand| far(stand, (node, here), there, own));
        let (limits, home) = (near.limits, near.home);
        Far { amps: Amps(linear.max(0.0)) + limits, reduced: Reduced { limits, home, ..reduced } }
    }

    /// How the pool looks from behind a diode at a node, in each way in which its own may stand; where no source reaches,
    /// not at all.
    pub(super) fn faces(&self, node: u32, diode: Ohms) -> Vec<(f64, f64)> {
        let reached = self.stands.iter().filter(|stand| stand.own(node).is_finite());
        reached.map(|stand| (stand.volts(node), stand.own(node) + diode.0)).collect()
    }
}

/// A current that is a difference: next to nothing beside the whole is rounding, below 0 it flows the other way.
fn but_for_rounding(amps: f64, whole: f64) -> f64 {
    if amps <= SAME * whole { 0.0 } else { amps }
}

/// What stands behind a node, at its place in the inversion.
fn seen_from(inverse: &Inverse, node: NodeId, place: u32) -> Reduced {
    let ohms = inverse.own(place);
    let (volts, ohms) = if ohms.is_finite() { (inverse.volts(place), ohms) } else { (0.0, 0.0) };
    Reduced { node: Some(node), volts: Volts(volts), ohms: Ohms(ohms), ..Reduced::default() }
}

/// What passes a resistance from a node to a short at its far end, ampere. Where nothing else joins the two ends it is the
/// network behind the near one with the resistance before the short, else the voltage over it that was solved.
fn far(inverse: &Inverse, (node, here): (NodeId, u32), there: u32, own: Ohms) -> (f64, Reduced) {
    let linear = but_for_rounding(inverse.through(here, there, own.0), inverse.short(there));
    let (behind, end) = (seen_from(inverse, node, here), seen_from(inverse, node, there));
    let same = |one: f64, other: f64| (one - other).abs() <= SAME * one.abs().max(other.abs());
    let reduced = if inverse.is_bound() {
        end
    } else if same(behind.ohms.0 + own.0, end.ohms.0) && same(behind.volts.0, end.volts.0) {
        Reduced { own, ..behind }
    } else {
        Reduced { volts: Volts(linear * own.0), ohms: Ohms(0.0), own, ..behind }
    };
    (linear, reduced)
}

/// What passes a link: a short at its near end draws the most, but where it also draws through the link from the other
/// side: through cells that something lower hangs on.
pub(super) fn nearest(near: Highest, far: Far, through_cells: bool) -> Through {
    if far.amps <= near.amps {
        return Through { near, far };
    }
    if through_cells {
        return Through { near: Highest { amps: far.amps, reduced: far.reduced, ..near }, far };
    }
    Through { near, far: Far { amps: near.amps, reduced: near.reduced } }
}
