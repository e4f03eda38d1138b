//! From the clusters of a lane to its answer, after the last tests.

use super::{
    Problem,
    search::{Phase, Search},
};
use crate::network::{
    ElementId, Law,
    solve::{
        Working,
        curve::Curve,
        engine::{ROUNDING, ROUNDING_OF_PROSPECTIVE},
        finish::asks,
        island::Parts,
        plan::Plan,
    },
};

impl<const W: usize> Search<W> {
    /// The answer of a lane; `None` when it is lost, or is one that the careful search might decide otherwise: not
    /// stable, a power load below its cut-off, a part that has come loose since the solution that it began from.
    pub(super) fn answer(&self, plan: &Plan, problems: &[Problem<'_>], lane: usize) -> Option<Working> {
        let (problem, state) = (problems.get(lane)?, self.states.get(lane)?);
        if state.phase != Phase::Settled || !self.stable[lane] || self.is_any_sagging(lane) {
            return None;
        }
        let of_cluster = self.islands(plan, lane);
        if let Some(near) = problem.near {
            let before = plan.clusters.roots.iter().map(|root| near.island.get(*root as usize));
            if !before.eq(of_cluster.iter().map(Some)) {
                return None;
            }
        }
        let island: Vec<u32> = plan.clusters.of.iter().map(|&cluster| of_cluster[cluster as usize]).collect();
        let amps = self.currents(plan, &of_cluster, lane);
        Some(Working {
            residual: self.residual(plan, &amps),
            volts: self.against_lowest(plan, &island, lane),
            amps,
            island,
            closed: state.contacts.closed.clone(),
            running: state.drives.iter().map(|drive| drive.running).collect(),
            below_cutoff: self.below_cutoff(problem, lane),
            rounds: self.rounds,
        })
    }

    fn is_any_sagging(&self, lane: usize) -> bool {
        self.field
            .powers(lane)
            .any(|(watts, cutoff, volts)| watts > 0.0 && volts < cutoff && volts > 1e-6 * cutoff)
    }

    /// The island of each cluster, numbered in the order of their lowest clusters.
    fn islands(&self, plan: &Plan, lane: usize) -> Vec<u32> {
        let mut parts = Parts::new(plan.clusters.roots.len());
        for (number, &(from, to)) in plan.ends.iter().enumerate() {
            if from != to && self.field.conducts(number, lane) {
                parts.join(from, to);
            }
        }
        parts.numbered()
    }

    /// The current of each element, ampere; rounding is none.
    fn currents(&self, plan: &Plan, of_cluster: &[u32], lane: usize) -> Vec<f64> {
        let rounding = (ROUNDING * self.largest[lane]).max(ROUNDING_OF_PROSPECTIVE * self.prospective[lane]);
        let current = |(number, &(from, to)): (usize, &(u32, u32))| {
            let amps = self.field.amps(number, lane);
            let joined = of_cluster[from as usize] == of_cluster[to as usize];
            if joined && amps.abs() > rounding { amps } else { 0.0 }
        };
        plan.ends.iter().enumerate().map(current).collect()
    }

    /// The voltage of each node against the lowest node of its island, volt.
    fn against_lowest(&self, plan: &Plan, island: &[u32], lane: usize) -> Vec<f64> {
        let mut lowest: Vec<u32> = Vec::new();
        let mut volts = Vec::with_capacity(island.len());
        for (&island, &cluster) in island.iter().zip(&plan.clusters.of) {
            if island as usize == lowest.len() {
                lowest.push(cluster);
            }
            volts.push(self.field.between(cluster, lowest[island as usize], lane));
        }
        volts
    }

    /// The largest current left over at a cluster; at the nodes of a cluster it is the same, for nothing joins them.
    fn residual(&self, plan: &Plan, amps: &[f64]) -> f64 {
        let mut left_over = vec![0.0f64; plan.clusters.roots.len()];
        for (&(from, to), current) in plan.ends.iter().zip(amps) {
            left_over[from as usize] += current;
            left_over[to as usize] -= current;
        }
        left_over.iter().fold(0.0, |worst, left| worst.max(left.abs()))
    }

    /// The loads that ask for something and stand below their cut-off.
    fn below_cutoff(&self, problem: &Problem<'_>, lane: usize) -> Vec<ElementId> {
        let elements = problem.variant.network.elements.iter().enumerate();
        let below = elements.filter(|(number, element)| {
            let (Law::PowerLoad { cutoff, .. } | Law::CurrentLoad { cutoff, .. }) = element.law else {
                return false;
            };
            let curve: Curve = self.field.curve(*number, lane);
            asks(curve) && self.field.volts(*number, lane) < cutoff.0
        });
        below.map(|(number, _)| ElementId(number as u32)).collect()
    }
}
