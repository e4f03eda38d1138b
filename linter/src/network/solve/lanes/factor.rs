//! The numeric factor of all lanes: [`super::super::factor`] with a number of each lane in place of one.

use super::{super::ordering::Elimination, Lane, WIDTH, ZERO};

const NONE: u32 = u32::MAX;

/// A factor of each lane and the room to compute it.
#[derive(Clone, Debug, Default)]
pub(super) struct Factor {
    weights: Vec<Lane>,
    ratios: Vec<Lane>,
    pivots: Vec<Lane>,
    sums: Vec<Lane>,
    waiting: Vec<u32>,
    next: Vec<u32>,
    cursor: Vec<u32>,
}

impl Factor {
    /// Empties all slots.
    pub(super) fn clear(&mut self, elimination: &Elimination) {
        self.weights.clear();
        self.weights.resize(elimination.rows.len(), ZERO);
        self.ratios.resize(elimination.rows.len(), ZERO);
        let count = elimination.len();
        self.pivots.resize(count, ZERO);
        self.sums.resize(count, ZERO);
        self.next.resize(count, NONE);
        self.cursor.resize(count, 0);
        self.waiting.clear();
        self.waiting.resize(count, NONE);
    }

    /// Adds a conductance of each lane, siemens, to a slot.
    pub(super) fn add(&mut self, slot: usize, conductance: &Lane) {
        let weight = &mut self.weights[slot];
        for lane in 0..WIDTH {
            weight[lane] += conductance[lane];
        }
    }

    /// Factorises what the slots hold. Returns for each lane whether no pivot is negative.
    pub(super) fn factorise(&mut self, elimination: &Elimination) -> [bool; WIDTH] {
        let mut least = ZERO;
        for column in 0..elimination.len() {
            let range = elimination.column(column);
            for (&row, weight) in elimination.rows[range.clone()].iter().zip(&self.weights[range.clone()]) {
                self.sums[row as usize] = *weight;
            }
            self.update(elimination, column);
            self.scatter(elimination, column);
            let pivot = &self.pivots[column];
            for lane in 0..WIDTH {
                least[lane] = if pivot[lane] < least[lane] { pivot[lane] } else { least[lane] };
            }
            self.wait(elimination, column, range.start);
        }
        least.map(|least| least >= 0.0)
    }

    /// Lets a column wait at the row of its entry `at`, unless it has none left.
    fn wait(&mut self, elimination: &Elimination, column: usize, at: usize) {
        if at < elimination.starts[column + 1] as usize {
            let row = elimination.rows[at] as usize;
            self.cursor[column] = at as u32;
            self.next[column] = self.waiting[row];
            self.waiting[row] = column as u32;
        }
    }

    /// Adds what the earlier columns that touch this one have left between its neighbours.
    fn update(&mut self, elimination: &Elimination, column: usize) {
        let mut earlier = self.waiting[column];
        while earlier != NONE {
            let at = earlier as usize;
            let here = self.cursor[at] as usize;
            let rest = here + 1..elimination.starts[at + 1] as usize;
            earlier = self.next[at];
            let ratio = self.ratios[here];
            for (&row, weight) in elimination.rows[rest.clone()].iter().zip(&self.weights[rest.clone()]) {
                let sum = &mut self.sums[row as usize];
                for lane in 0..WIDTH {
                    sum[lane] += ratio[lane] * weight[lane];
                }
            }
            self.wait(elimination, at, rest.start);
        }
    }

    fn scatter(&mut self, elimination: &Elimination, column: usize) {
        let range = elimination.column(column);
        let mut pivot = ZERO;
        for (&row, weight) in elimination.rows[range.clone()].iter().zip(&mut self.weights[range.clone()]) {
            *weight = self.sums[row as usize];
            for lane in 0..WIDTH {
                pivot[lane] += weight[lane];
            }
        }
        let inverse = pivot.map(|pivot| if pivot == 0.0 { 0.0 } else { 1.0 / pivot });
        for (ratio, weight) in self.ratios[range.clone()].iter_mut().zip(&self.weights[range]) {
            for lane in 0..WIDTH {
                ratio[lane] = weight[lane] * inverse[lane];
            }
        }
        self.pivots[column] = pivot;
    }

    /// Solves for the voltages that make `currents`, ampere, flow into the nodes; both are in elimination order. Returns
    /// the largest current of each lane that has nowhere to go.
    pub(super) fn solve(&self, elimination: &Elimination, currents: &mut [Lane]) -> Lane {
        let mut astray = ZERO;
        for column in 0..elimination.len() {
            let current = currents[column];
            let range = elimination.column(column);
            for (&row, ratio) in elimination.rows[range.clone()].iter().zip(&self.ratios[range]) {
                let into = &mut currents[row as usize];
                for lane in 0..WIDTH {
                    into[lane] += ratio[lane] * current[lane];
                }
            }
            let pivot = &self.pivots[column];
            for lane in 0..WIDTH {
                let is_free = pivot[lane] == 0.0;
                let stray = if is_free { current[lane].abs() } else { 0.0 };
                astray[lane] = if stray > astray[lane] { stray } else { astray[lane] };
                currents[column][lane] = if is_free { 0.0 } else { current[lane] / pivot[lane] };
            }
        }
        for column in (0..elimination.len()).rev() {
            let range = elimination.column(column);
            let mut carried = currents[column];
            for (&row, ratio) in elimination.rows[range.clone()].iter().zip(&self.ratios[range]) {
                let from = &currents[row as usize];
                for lane in 0..WIDTH {
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

    #[test]
    fn each_lane_is_solved_on_its_own() {
        let edges = [(0u32, 1u32), (1, 2)];
        let elimination = Elimination::new(3, &edges);
        let mut factor = Factor::default();
        factor.clear(&elimination);
        let lanes = |first: f64| std::array::from_fn(|lane| first * (lane + 1) as f64);
        for (&(a, b), g) in edges.iter().zip([2.0, 4.0]) {
            factor.add(elimination.slot(a, b).unwrap(), &lanes(g));
        }
        assert_eq!(factor.factorise(&elimination), [true; WIDTH]);
        let mut x = vec![ZERO; 3];
        x[elimination.position[0] as usize] = [1.0; WIDTH];
        x[elimination.position[2] as usize] = [-1.0; WIDTH];
        assert_eq!(factor.solve(&elimination, &mut x), ZERO);
        let at = |node: usize, lane: usize| x[elimination.position[node] as usize][lane];
        for lane in 0..WIDTH {
            let share = (lane + 1) as f64;
            assert!((at(0, lane) - at(1, lane) - 0.5 / share).abs() < 1e-15);
            assert!((at(1, lane) - at(2, lane) - 0.25 / share).abs() < 1e-15);
        }
    }

    #[test]
    fn a_part_on_its_own_is_astray_in_its_lane_only() {
        let edges = [(0u32, 1u32), (2, 3), (1, 2)];
        let elimination = Elimination::new(4, &edges);
        let mut factor = Factor::default();
        factor.clear(&elimination);
        let mut bridge = [1.0; WIDTH];
        bridge[3] = 0.0;
        for (&(a, b), g) in edges.iter().zip([[1.0; WIDTH], [1.0; WIDTH], bridge]) {
            factor.add(elimination.slot(a, b).unwrap(), &g);
        }
        factor.factorise(&elimination);
        let mut x = vec![ZERO; 4];
        x[elimination.position[0] as usize] = [1.0; WIDTH];
        x[elimination.position[3] as usize] = [-1.0; WIDTH];
        let astray = factor.solve(&elimination, &mut x);
        assert!(
            astray.iter().enumerate().all(|(lane, astray)| (*astray == 1.0) == (lane == 3)),
            "{astray:?}"
        );
    }
}
