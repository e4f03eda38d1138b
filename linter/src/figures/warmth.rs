//! How warm each wire is in each mode, and what that does to the network at the hot corners.

use std::collections::BTreeMap;

use wattle_grammar::quantity::{Amps, Celsius, SquareMm};

use super::Point;
use crate::{
    conductors::{self, DEFAULT_INSULATION},
    design::{Design, ModeId, Wire},
    physics::{adiabatic::short_circuit_limit, heat::Cable, heat_curve::HeatCurve},
    topology::LinkId,
    unfold::Skeleton,
};

/// A neighbour counts as loaded when its own current alone warms it by more than this share of what its insulation
/// allows: about a tenth of what it may carry. Common practice.
const LOADED_SHARE: f64 = 0.02;

/// The temperatures of all wires in all modes.
#[derive(Clone, Debug, Default)]
pub(super) struct Temperatures {
    /// By mode, then by wire.
    by_mode: Vec<Vec<Celsius>>,
}

impl Temperatures {
    /// From the cold points of each mode, in design order: each wire at the largest of its currents there, root mean
    /// square over the mode's duty, in the warmest air of that mode, beside its loaded neighbours. A mode that does not
    /// last finds the wires as the others leave them.
    pub(super) fn new(design: &Design, cold: &[Vec<Point>]) -> Self {
        let mut curves = Curves::default();
        let lasting = |points: &&Vec<Point>| points.iter().all(|point| point.ordinary);
        let modes: Vec<Option<Vec<Celsius>>> = (0u32..)
            .map(ModeId)
            .zip(cold)
            .map(|(mode, points)| {
                Some(points).filter(lasting).map(|points| of_mode(design, &mut curves, mode, points))
            })
            .collect();
        let air = |wire: &Wire| conductors::ambient(design, wire, None);
        let mut warmest: Vec<Celsius> = design.wires.iter().map(air).collect();
        for temperatures in modes.iter().flatten() {
            warmest.iter_mut().zip(temperatures).for_each(|(most, one)| *most = most.max(*one));
        }
        Self { by_mode: modes.into_iter().map(|mode| mode.unwrap_or_else(|| warmest.clone())).collect() }
    }

    /// The temperature of a wire in a mode at the hot corners.
    pub(super) fn at(&self, mode: ModeId, wire: usize) -> Option<Celsius> {
        self.by_mode.get(mode.index())?.get(wire).copied()
    }

    /// The factor on the resistance of each element in a mode at the hot corners, by element.
    pub(super) fn factors(&self, design: &Design, skeleton: &Skeleton, mode: ModeId) -> Vec<f64> {
        let of_wires = self.by_mode.get(mode.index()).map_or(&[][..], Vec::as_slice);
        skeleton.warm_factors(design, mode, of_wires)
    }
}

fn of_mode(design: &Design, curves: &mut Curves, mode: ModeId, points: &[Point]) -> Vec<Celsius> {
    let root = points.first().map_or(1.0, |point| point.duty.0.max(0.0).sqrt());
    let mut currents = vec![Amps(0.0); design.wires.len()];
    for point in points {
        for (wire, most) in (0u32..).zip(&mut currents) {
            *most = point.amps(LinkId(wire)).map_or(*most, |amps| most.max(amps.abs()));
        }
    }
    currents.iter_mut().for_each(|amps| *amps = *amps * root);
    let mut temperatures: Vec<Celsius> = design
        .wires
        .iter()
        .zip(&currents)
        .map(|(wire, amps)| curves.temperature(wire, 1, *amps, conductors::ambient(design, wire, Some(mode))))
        .collect();
    for harness in &design.harnesses {
        let is_loaded = |wire: &&crate::design::WireId| {
            let (Some(own), Some(warm)) = (design.wires.get(wire.index()), temperatures.get(wire.index()))
            else {
                return false;
            };
            let air = conductors::ambient(design, own, Some(mode));
            let class = own.insulation.unwrap_or(DEFAULT_INSULATION);
            (*warm - air).0 > LOADED_SHARE * (class - air).0
        };
        let loaded = harness.wires.iter().filter(is_loaded).count() as u32;
        for wire in &harness.wires {
            let Some(own) = design.wires.get(wire.index()) else { continue };
            let side_by_side = conductors::stated_bundle(design, own).unwrap_or(loaded);
            if side_by_side > 1
                && let (Some(warm), Some(amps)) =
                    (temperatures.get_mut(wire.index()), currents.get(wire.index()))
            {
                let air = conductors::ambient(design, own, Some(mode));
                *warm = curves.temperature(own, side_by_side, *amps, air);
            }
        }
    }
    temperatures
}

/// The curves that were laid, by area and air.
#[derive(Clone, Debug, Default)]
struct Curves {
    laid: BTreeMap<(u64, u64), HeatCurve>,
}

impl Curves {
    /// What a current makes of a wire among so many loaded conductors, itself included: at most what its insulation stands
    /// for the seconds of a short, for beyond that it is no longer a wire. One without a size is as warm as its air.
    fn temperature(&mut self, wire: &Wire, loaded: u32, amps: Amps, air: Celsius) -> Celsius {
        let Some(SquareMm(area)) = wire.size.as_ref().map(|size| size.area) else { return air };
        let class = wire.insulation.unwrap_or(DEFAULT_INSULATION);
        let most = short_circuit_limit(class).max(air);
        if amps == Amps(0.0) || !(area > 0.0 && area.is_finite()) {
            return air;
        }
        let curve = self
            .laid
            .entry((area.to_bits(), air.0.to_bits()))
            .or_insert_with(|| HeatCurve::new(Cable::thin_walled(SquareMm(area)), air));
        curve.temperature(conductors::alone(wire, loaded, amps)).map_or(most, |warm| warm.min(most))
    }
}
