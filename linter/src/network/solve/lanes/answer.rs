//! From the clusters of the lanes to their answers, after the last tests.

use super::{
    Lane, Problem,
    field::Joining,
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
        let joining = self.field.joining();
        let islands = islands(plan, &joining, problems.len());
        let volts = self.against_lowest(plan, &islands);
        let amps = self.currents(&joining, &islands);
        let lanes = problems.iter().zip(islands).zip(volts).zip(amps).enumerate();
        lanes
            .map(|(lane, (((problem, of_cluster), volts), (amps, rounded)))| {
                let state =
                    self.states.get(lane).filter(|_| self.is_sure(plan, problem, &of_cluster, lane))?;
                Some(Working {
                    residual: self.balance.left_over[lane] + rounded,
                    volts,
                    amps,
                    island: plan.clusters.of.iter().map(|&cluster| of_cluster[cluster as usize]).collect(),
                    closed: state.contacts.closed.clone(),
                    running: state.drives.iter().map(|drive| drive.running).collect(),
                    below_cutoff: self.below_cutoff(problem, lane),
                    rounds: self.rounds,
                })
            })
            .collect()
    }

    /// Whether the careful search would come to the same.
    fn is_sure(&self, plan: &Plan, problem: &Problem<'_>, of_cluster: &[u32], lane: usize) -> bool {
        let is_settled = self.states.get(lane).is_some_and(|state| state.phase == Phase::Settled);
        if !is_settled || !self.stable[lane] || self.field.is_any_sagging(lane) {
            return false;
        }
        let Some(near) = problem.near else { return true };
        let before = plan.clusters.roots.iter().map(|root| near.island.get(*root as usize));
        before.eq(of_cluster.iter().map(Some))
    }

    /// The current of each element in each lane, ampere; rounding is none, and between islands nothing flows. Beside them the
    /// sum of what was taken for rounding.
    fn currents(&self, joining: &[Joining], islands: &[Vec<u32>]) -> Vec<(Vec<f64>, f64)> {
        let prospective = self.field.prospective();
        let rounding: Lane<W> = std::array::from_fn(|lane| {
            (ROUNDING * self.balance.largest[lane]).max(ROUNDING_OF_PROSPECTIVE * prospective[lane])
        });
        let all = self.field.all_amps();
        let mut found = vec![(vec![0.0; all.len()], 0.0); islands.len()];
        for (number, amps) in all.iter().enumerate() {
            for (lane, (kept, rounded)) in found.iter_mut().enumerate() {
                if amps[lane].abs() > rounding[lane] {
                    kept[number] = amps[lane];
                } else {
                    *rounded += amps[lane].abs();
                }
            }
        }
        for one in joining {
            for (lane, (island, (kept, rounded))) in islands.iter().zip(&mut found).enumerate() {
                let is_joined = one.lanes >> lane & 1 == 1;
                if !is_joined && island[one.from as usize] != island[one.to as usize] {
                    *rounded += std::mem::take(&mut kept[one.element as usize]).abs();
                }
            }
        }
        found
    }

    /// The voltage of each node against the lowest node of its island in each lane, volt.
    fn against_lowest(&self, plan: &Plan, islands: &[Vec<u32>]) -> Vec<Vec<f64>> {
        let levels = self.field.levels();
        let mut found = vec![Vec::with_capacity(plan.clusters.of.len()); islands.len()];
        let mut lowest: Vec<Vec<u32>> = vec![Vec::new(); islands.len()];
        for &cluster in &plan.clusters.of {
            let level = &levels[cluster as usize];
            for (lane, (volts, lowest)) in found.iter_mut().zip(&mut lowest).enumerate() {
                let island = islands[lane][cluster as usize] as usize;
                if island == lowest.len() {
                    lowest.push(cluster);
                }
                volts.push(level.over(&levels[lowest[island] as usize], lane));
            }
        }
        found
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

/// The island of each cluster in each lane, numbered in the order of their lowest clusters. Lanes are often alike.
fn islands(plan: &Plan, joining: &[Joining], lanes: usize) -> Vec<Vec<u32>> {
    let mut islands: Vec<Vec<u32>> = Vec::with_capacity(lanes);
    for lane in 0..lanes {
        let is_alike =
            |other: &usize| joining.iter().all(|one| (one.lanes >> lane ^ one.lanes >> other) & 1 == 0);
        let alike = (0..lane).find(is_alike).and_then(|other| islands.get(other)).cloned();
        islands.push(alike.unwrap_or_else(|| {
            let mut parts = Parts::new(plan.clusters.roots.len());
            joining
                .iter()
                .filter(|one| one.lanes >> lane & 1 == 1)
                .for_each(|one| parts.join(one.from, one.to));
            parts.numbered()
        }));
    }
    islands
}
