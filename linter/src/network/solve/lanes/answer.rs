//! From the clusters of the lanes to their answers, after the last tests. Every node is a cluster of its own.

use wattle_grammar::quantity::Volts;

use super::{
    Lane, Problem,
    field::{BLOCK, Field, Joining},
    level::difference,
    search::{Phase, Search},
};
use crate::network::{
    ElementId,
    solve::{
        Working,
        engine::{ROUNDING, ROUNDING_OF_PROSPECTIVE},
        finish::asks,
    },
};

/// How nodes hang together in some lanes.
struct Islands {
    lanes: Vec<usize>,
    /// The island of each node, numbered in the order of their lowest nodes.
    of: Vec<u32>,
    /// The lowest node of the island of each node.
    lowest: Vec<u32>,
}

/// The current of each element in a lane, ampere, and the sum of what was taken for rounding.
#[derive(Clone, Default)]
struct Currents {
    amps: Vec<f64>,
    rounded: f64,
}

impl<const W: usize> Search<W> {
    /// The answer of each lane; `None` when it is lost, or is one that the careful search might decide otherwise: not
    /// stable, a power load below its cut-off, a part that has come loose since the solution that it began from.
    pub(super) fn answers(&self, problems: &[Problem<'_>]) -> Vec<Option<Working>> {
        let bent = self.field.bent_joining();
        let islands = islands(&self.field, &bent, problems.len());
        let mut volts = self.against_lowest(&islands, problems.len());
        let mut amps = self.currents(problems.len());
        let mut answers = vec![None; problems.len()];
        for group in &islands {
            for &lane in &group.lanes {
                cut_between(&bent, lane, group, &mut amps[lane]);
                let (Some(problem), Some(state)) = (problems.get(lane), self.states.get(lane)) else {
                    continue;
                };
                if !self.is_sure(problem, &group.of, lane) {
                    continue;
                }
                let Currents { amps, rounded } = std::mem::take(&mut amps[lane]);
                answers[lane] = Some(Working {
                    residual: self.balance.left_over[lane] + rounded,
                    volts: std::mem::take(&mut volts[lane]),
                    amps,
                    island: group.of.clone(),
                    closed: state.contacts.closed.clone(),
                    running: state.drives.iter().map(|drive| drive.running).collect(),
                    below_cutoff: self.below_cutoff(lane),
                    rounds: self.rounds,
                });
            }
        }
        answers
    }

    /// Whether the careful search would come to the same.
    fn is_sure(&self, problem: &Problem<'_>, island: &[u32], lane: usize) -> bool {
        let is_settled = self.states.get(lane).is_some_and(|state| state.phase == Phase::Settled);
        is_settled
            && self.stable[lane]
            && !self.field.is_any_sagging(lane)
            && problem.near.is_none_or(|near| near.island == island)
    }

    /// The current of each element in each lane; rounding is none.
    fn currents(&self, lanes: usize) -> Vec<Currents> {
        let prospective = self.field.prospective();
        let rounding: Lane<W> = std::array::from_fn(|lane| {
            (ROUNDING * self.balance.largest[lane]).max(ROUNDING_OF_PROSPECTIVE * prospective[lane])
        });
        let all = self.field.all_amps();
        let mut found: Vec<Currents> =
            (0..lanes).map(|_| Currents { amps: Vec::with_capacity(all.len()), rounded: 0.0 }).collect();
        let mut rounded = [0.0; W];
        for block in all.chunks(BLOCK) {
            let mut kept = [[0.0; W]; BLOCK];
            for (kept, amps) in kept.iter_mut().zip(block) {
                for lane in 0..W {
                    let size = amps[lane].abs();
                    let counts = size > rounding[lane];
                    kept[lane] = if counts { amps[lane] } else { 0.0 };
                    rounded[lane] += if counts { 0.0 } else { size };
                }
            }
            for (lane, found) in found.iter_mut().enumerate() {
                found.amps.extend(kept.iter().take(block.len()).map(|kept| kept[lane]));
            }
        }
        found.iter_mut().zip(rounded).for_each(|(found, rounded)| found.rounded = rounded);
        found
    }

    /// The voltage of each node against the lowest node of its island in each lane, volt.
    fn against_lowest(&self, islands: &[Islands], lanes: usize) -> Vec<Vec<f64>> {
        let levels = self.field.levels();
        let mut found: Vec<Vec<f64>> = (0..lanes).map(|_| Vec::with_capacity(levels.len())).collect();
        for group in islands {
            for (levels_of, lowest) in levels.chunks(BLOCK).zip(group.lowest.chunks(BLOCK)) {
                let mut volts = [[0.0; W]; BLOCK];
                for ((volts, level), lowest) in volts.iter_mut().zip(levels_of).zip(lowest) {
                    *volts = difference(level, &levels[*lowest as usize]);
                }
                for &lane in &group.lanes {
                    found[lane].extend(volts.iter().take(levels_of.len()).map(|volts| volts[lane]));
                }
            }
        }
        found
    }

    /// The loads that ask for something and stand below their cut-off.
    fn below_cutoff(&self, lane: usize) -> Vec<ElementId> {
        let loads = self.laid.get(lane).map_or(&[][..], |laid| &laid.loads);
        let is_below = |(number, cutoff): &&(u32, Volts)| {
            let number = *number as usize;
            self.field.volts(number, lane) < cutoff.0 && asks(self.field.curve(number, lane))
        };
        loads.iter().filter(is_below).map(|(number, _)| ElementId(*number)).collect()
    }
}

/// Between islands nothing flows.
fn cut_between(bent: &[Joining], lane: usize, islands: &Islands, currents: &mut Currents) {
    for one in bent.iter().filter(|one| one.lanes >> lane & 1 == 0) {
        if islands.of[one.from as usize] != islands.of[one.to as usize] {
            currents.rounded += std::mem::take(&mut currents.amps[one.element as usize]).abs();
        }
    }
}

/// The islands of each lane. Lanes are often alike.
fn islands<const W: usize>(field: &Field<W>, bent: &[Joining], lanes: usize) -> Vec<Islands> {
    let joined = field.joined();
    let others = || joined.others.iter().chain(bent);
    let mut found: Vec<Islands> = Vec::new();
    for lane in 0..lanes {
        let is_alike = |group: &&mut Islands| {
            let other = group.lanes.first().copied().unwrap_or(lane);
            others().all(|one| (one.lanes >> lane ^ one.lanes >> other) & 1 == 0)
        };
        if let Some(group) = found.iter_mut().find(is_alike) {
            group.lanes.push(lane);
            continue;
        }
        let mut parts = joined.parts.clone();
        others().filter(|one| one.lanes >> lane & 1 == 1).for_each(|one| parts.join(one.from, one.to));
        let (of, lowest) = parts.numbered();
        found.push(Islands { lanes: vec![lane], of, lowest });
    }
    found
}
