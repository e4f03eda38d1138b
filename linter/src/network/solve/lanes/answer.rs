//! From the clusters of the lanes to their answers, after the last tests.

use super::{
    Problem,
    search::{Phase, Search},
};
use crate::network::{
    ElementId, Law,
    solve::{
        Working,
        engine::{ROUNDING, ROUNDING_OF_PROSPECTIVE},
        finish::asks,
        island::Parts,
        plan::Plan,
    },
};

impl<const W: usize> Search<W> {
    /// The answer of each lane; `None` when it is lost, or is one that the careful search might decide otherwise: not
    /// stable, a power load below its cut-off, a part that has come loose since the solution that it began from.
    pub(super) fn answers(&self, plan: &Plan, problems: &[Problem<'_>]) -> Vec<Option<Working>> {
        let islands = self.islands(plan, problems.len());
        let numbered = problems.iter().zip(&islands).enumerate();
        numbered.map(|(lane, (problem, of_cluster))| self.answer(plan, problem, of_cluster, lane)).collect()
    }

    fn answer(&self, plan: &Plan, problem: &Problem<'_>, of_cluster: &[u32], lane: usize) -> Option<Working> {
        let state = self.states.get(lane)?;
        if state.phase != Phase::Settled || !self.stable[lane] || self.field.is_any_sagging(lane) {
            return None;
        }
        if let Some(near) = problem.near {
            let before = plan.clusters.roots.iter().map(|root| near.island.get(*root as usize));
            if !before.eq(of_cluster.iter().map(Some)) {
                return None;
            }
        }
        let island: Vec<u32> = plan.clusters.of.iter().map(|&cluster| of_cluster[cluster as usize]).collect();
        let (amps, rounded) = self.currents(plan, of_cluster, lane);
        Some(Working {
            residual: self.balance.left_over[lane] + rounded,
            volts: self.against_lowest(plan, &island, lane),
            amps,
            island,
            closed: state.contacts.closed.clone(),
            running: state.drives.iter().map(|drive| drive.running).collect(),
            below_cutoff: self.below_cutoff(problem, lane),
            rounds: self.rounds,
        })
    }

    /// The island of each cluster in each lane, numbered in the order of their lowest clusters. Lanes are often alike.
    fn islands(&self, plan: &Plan, lanes: usize) -> Vec<Vec<u32>> {
        let conducting: Vec<((u32, u32), u8)> = self.field.conducting().collect();
        let mut islands: Vec<Vec<u32>> = Vec::with_capacity(lanes);
        for lane in 0..lanes {
            let is_alike =
                |other: &usize| conducting.iter().all(|(_, mask)| (mask >> lane ^ mask >> other) & 1 == 0);
            let alike = (0..lane).find(is_alike).and_then(|other| islands.get(other)).cloned();
            islands.push(alike.unwrap_or_else(|| {
                let mut parts = Parts::new(plan.clusters.roots.len());
                let joined = conducting.iter().filter(|(_, mask)| mask >> lane & 1 == 1);
                joined.for_each(|((from, to), _)| parts.join(*from, *to));
                parts.numbered()
            }));
        }
        islands
    }

    /// The current of each element, ampere; rounding is none. Beside them the sum of what was taken for rounding.
    fn currents(&self, plan: &Plan, of_cluster: &[u32], lane: usize) -> (Vec<f64>, f64) {
        let (largest, prospective) = (self.balance.largest[lane], self.field.prospective()[lane]);
        let rounding = (ROUNDING * largest).max(ROUNDING_OF_PROSPECTIVE * prospective);
        let mut rounded = 0.0;
        let current = |(number, &(from, to)): (usize, &(u32, u32))| {
            let amps = self.field.amps(number, lane);
            if amps.abs() > rounding && of_cluster[from as usize] == of_cluster[to as usize] {
                return amps;
            }
            rounded += amps.abs();
            0.0
        };
        let amps = plan.ends.iter().enumerate().map(current).collect();
        (amps, rounded)
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

    /// The loads that ask for something and stand below their cut-off.
    fn below_cutoff(&self, problem: &Problem<'_>, lane: usize) -> Vec<ElementId> {
        let loads = self.laid.get(lane).map_or(&[][..], |laid| &laid.loads);
        let is_below = |number: &&u32| {
            let number = **number as usize;
            match problem.variant.network.elements.get(number).map(|element| element.law) {
                Some(Law::PowerLoad { cutoff, .. } | Law::CurrentLoad { cutoff, .. }) => {
                    asks(self.field.curve(number, lane)) && self.field.volts(number, lane) < cutoff.0
                }
                _ => false,
            }
        };
        loads.iter().filter(is_below).map(|number| ElementId(*number)).collect()
    }
}
