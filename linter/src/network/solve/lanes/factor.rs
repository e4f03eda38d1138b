//! The numeric factor of all lanes: [`super::super::factor`] with a number of each lane in place of one.

use super::{super::ordering::Elimination, Lane, awake::Awake};

/// A factor of each lane.
#[derive(Clone, Debug, Default)]
pub(super) struct Factor<const W: usize> {
    weights: Vec<Lane<W>>,
    ratios: Vec<Lane<W>>,
    /// One over each pivot; 0 where the pivot is 0.
    inverses: Vec<Lane<W>>,
}

impl<const W: usize> Factor<W> {
    /// Empties all slots.
    pub(super) fn clear(&mut self, elimination: &Elimination) {
        self.weights.resize(elimination.rows.len(), [0.0; W]);
        self.weights.as_flattened_mut().fill(0.0);
        self.ratios.resize(elimination.rows.len(), [0.0; W]);
        self.inverses.resize(elimination.len(), [0.0; W]);
    }

    /// Adds a conductance of each lane, siemens, to a slot.
    pub(super) fn add(&mut self, slot: usize, conductance: &Lane<W>) {
        let weight = &mut self.weights[slot];
        for lane in 0..W {
            weight[lane] += conductance[lane];
        }
    }

    /// Factorises what the slots hold; what does not take part holds nothing. Returns for each lane whether no pivot is
    /// negative.
    pub(super) fn factorise(&mut self, elimination: &Elimination, awake: &Awake) -> [bool; W] {
        let mut least = [0.0; W];
        for column in awake.clusters.iter().map(|one| one.position as usize) {
            let mut next = elimination.pair_starts[column] as usize;
            let range = elimination.column(column);
            let mut pivot = [0.0; W];
            for weight in &self.weights[range.clone()] {
                for lane in 0..W {
                    pivot[lane] += weight[lane];
                }
            }
            let mut inverse = [0.0; W];
            for lane in 0..W {
                least[lane] = if pivot[lane] < least[lane] { pivot[lane] } else { least[lane] };
                inverse[lane] = if pivot[lane] == 0.0 { 0.0 } else { 1.0 / pivot[lane] };
            }
            self.inverses[column] = inverse;
            for one in range.clone() {
                let weight = self.weights[one];
                let mut ratio = [0.0; W];
                for lane in 0..W {
                    ratio[lane] = weight[lane] * inverse[lane];
                }
                self.ratios[one] = ratio;
                for other in one + 1..range.end {
                    let weight = self.weights[other];
                    let target = &mut self.weights[elimination.targets[next] as usize];
                    next += 1;
                    for lane in 0..W {
                        target[lane] += ratio[lane] * weight[lane];
                    }
                }
            }
        }
        least.map(|least| least >= 0.0)
    }

    /// Solves for the voltages that make `currents`, ampere, flow into the nodes; both are in elimination order. Returns
    /// the largest current of each lane that has nowhere to go.
    pub(super) fn solve(
        &self,
        elimination: &Elimination,
        awake: &Awake,
        currents: &mut [Lane<W>],
    ) -> Lane<W> {
        let mut astray = [0.0; W];
        let columns = awake.clusters.iter().map(|one| one.position as usize);
        for column in columns.clone() {
            let current = currents[column];
            for at in elimination.column(column) {
                let (ratio, into) = (&self.ratios[at], &mut currents[elimination.rows[at] as usize]);
                for lane in 0..W {
                    into[lane] += ratio[lane] * current[lane];
                }
            }
            let (inverse, here) = (&self.inverses[column], &mut currents[column]);
            for lane in 0..W {
                let stray = if inverse[lane] == 0.0 { current[lane].abs() } else { 0.0 };
                astray[lane] = if stray > astray[lane] { stray } else { astray[lane] };
                here[lane] = current[lane] * inverse[lane];
            }
        }
        for column in columns.rev() {
            let mut carried = currents[column];
            for at in elimination.column(column) {
                let (ratio, from) = (&self.ratios[at], &currents[elimination.rows[at] as usize]);
                for lane in 0..W {
                    carried[lane] += ratio[lane] * from[lane];
                }
            }
            currents[column] = carried;
        }
        astray
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::network::solve::lanes::awake::One;

    fn everything(elimination: &Elimination) -> Awake {
        let all = (0u32..).zip(&elimination.order);
        let clusters = all.map(|(position, cluster)| One { cluster: *cluster, position }).collect();
        Awake { clusters, ..Awake::default() }
    }

    fn factor(elimination: &Elimination, edges: &[(u32, u32, Lane<4>)]) -> Factor<4> {
        let mut factor = Factor::default();
        factor.clear(elimination);
        for (a, b, g) in edges {
            factor.add(elimination.slot(*a, *b).unwrap(), g);
        }
        assert_eq!(factor.factorise(elimination, &everything(elimination)), [true; 4]);
        factor
    }

    #[test]
    fn each_lane_is_solved_on_its_own() {
        let elimination = Elimination::new(3, &[(0, 1), (1, 2)]);
        let lanes = |first: f64| std::array::from_fn(|lane| first * (lane + 1) as f64);
        let factor = factor(&elimination, &[(0, 1, lanes(2.0)), (1, 2, lanes(4.0))]);
        let mut x = vec![[0.0; 4]; 3];
        x[elimination.position[0] as usize] = [1.0; 4];
        x[elimination.position[2] as usize] = [-1.0; 4];
        assert_eq!(factor.solve(&elimination, &everything(&elimination), &mut x), [0.0; 4]);
        let at = |node: usize, lane: usize| x[elimination.position[node] as usize][lane];
        for lane in 0..4 {
            let share = (lane + 1) as f64;
            assert!((at(0, lane) - at(1, lane) - 0.5 / share).abs() < 1e-15);
            assert!((at(1, lane) - at(2, lane) - 0.25 / share).abs() < 1e-15);
        }
    }

    #[test]
    fn a_part_on_its_own_is_astray_in_its_lane_only() {
        let elimination = Elimination::new(4, &[(0, 1), (2, 3), (1, 2)]);
        let bridge = [1.0, 1.0, 1.0, 0.0];
        let factor = factor(&elimination, &[(0, 1, [1.0; 4]), (2, 3, [1.0; 4]), (1, 2, bridge)]);
        let mut x = vec![[0.0; 4]; 4];
        x[elimination.position[0] as usize] = [1.0; 4];
        x[elimination.position[3] as usize] = [-1.0; 4];
        assert_eq!(factor.solve(&elimination, &everything(&elimination), &mut x), [0.0, 0.0, 0.0, 1.0]);
    }
}
