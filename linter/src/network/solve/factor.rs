//! The numeric factor of a conductance matrix, and solving with it.
//!
//! The matrix is symmetric and each row sums to zero: a node's diagonal is the sum of the conductances at it. Its LDLᵀ
//! factor is what an electrician gets by replacing stars with meshes node after node. The pivot is computed as the sum
//! of the conductances left at the node, never by subtracting from the diagonal, so no digits are lost however far apart
//! the conductances lie, and the last node of a part that hangs together gets a pivot of exactly zero: its voltage is
//! free. Source: W. K. Grassmann, M. I. Taksar, D. P. Heyman, Operations Research 33 (1985) 1107 (the method for Markov
//! chains); A. S. Alfa, J. Xue, Q. Ye, Mathematics of Computation 71 (2002) 217 (entrywise accuracy).

use super::ordering::Elimination;

const NONE: u32 = u32::MAX;

/// A factor and the room to compute it.
#[derive(Clone, Debug, Default)]
pub(super) struct Factor {
    /// Conductances left when a column is eliminated, by slot. Loaded with the network's before.
    weights: Vec<f64>,
    /// The same over the column's pivot.
    ratios: Vec<f64>,
    pivots: Vec<f64>,
    room: Room,
}

/// Room for a factorisation: columns wait in a list at the next row that they touch.
#[derive(Clone, Debug, Default)]
struct Room {
    sums: Vec<f64>,
    waiting: Vec<u32>,
    next: Vec<u32>,
    cursor: Vec<u32>,
}

impl Room {
    fn reset(&mut self, count: usize) {
        self.sums.resize(count, 0.0);
        self.next.resize(count, NONE);
        self.cursor.resize(count, 0);
        self.waiting.clear();
        self.waiting.resize(count, NONE);
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
}

impl Factor {
    /// Empties all slots.
    pub(super) fn clear(&mut self, elimination: &Elimination) {
        self.weights.clear();
        self.weights.resize(elimination.rows.len(), 0.0);
        self.ratios.resize(elimination.rows.len(), 0.0);
        self.pivots.resize(elimination.len(), 0.0);
    }

    /// Adds a conductance, siemens, to a slot.
    pub(super) fn add(&mut self, slot: usize, conductance: f64) {
        self.weights[slot] += conductance;
    }

    /// Factorises what the slots hold. Returns whether no pivot is negative: the working point is a stable one.
    pub(super) fn factorise(&mut self, elimination: &Elimination) -> bool {
        let mut stable = true;
        self.room.reset(elimination.len());
        for column in 0..elimination.len() {
            self.gather(elimination, column);
            self.update(elimination, column);
            let pivot = self.scatter(elimination, column);
            stable &= pivot >= 0.0;
            self.room.wait(elimination, column, elimination.starts[column] as usize);
        }
        stable
    }

    fn gather(&mut self, elimination: &Elimination, column: usize) {
        let range = elimination.column(column);
        for (&row, &weight) in elimination.rows[range.clone()].iter().zip(&self.weights[range]) {
            self.room.sums[row as usize] = weight;
        }
    }

    /// Adds what the earlier columns that touch this one have left between its neighbours.
    fn update(&mut self, elimination: &Elimination, column: usize) {
        let mut earlier = self.room.waiting[column];
        while earlier != NONE {
            let at = earlier as usize;
            let here = self.room.cursor[at] as usize;
            let rest = here + 1..elimination.starts[at + 1] as usize;
            earlier = self.room.next[at];
            let ratio = self.ratios[here];
            if ratio != 0.0 {
                for (&row, &weight) in elimination.rows[rest.clone()].iter().zip(&self.weights[rest.clone()])
                {
                    self.room.sums[row as usize] += ratio * weight;
                }
            }
            self.room.wait(elimination, at, rest.start);
        }
    }

    fn scatter(&mut self, elimination: &Elimination, column: usize) -> f64 {
        let range = elimination.column(column);
        let mut pivot = 0.0;
        for (&row, weight) in elimination.rows[range.clone()].iter().zip(&mut self.weights[range.clone()]) {
            *weight = self.room.sums[row as usize];
            pivot += *weight;
        }
        for (ratio, &weight) in self.ratios[range.clone()].iter_mut().zip(&self.weights[range]) {
            *ratio = if pivot == 0.0 { 0.0 } else { weight / pivot };
        }
        self.pivots[column] = pivot;
        pivot
    }

    /// Solves for the voltages that make `currents`, ampere, flow into the nodes; both are in elimination order.
    /// Returns the largest current that has nowhere to go: the sum over a part that hangs together should be zero.
    pub(super) fn solve(&self, elimination: &Elimination, currents: &mut [f64]) -> f64 {
        let mut astray = 0.0f64;
        for column in 0..elimination.len() {
            let current = currents[column];
            if current == 0.0 {
                continue;
            }
            let range = elimination.column(column);
            for (&row, &ratio) in elimination.rows[range.clone()].iter().zip(&self.ratios[range]) {
                currents[row as usize] += ratio * current;
            }
            if self.pivots[column] == 0.0 {
                astray = astray.max(current.abs());
                currents[column] = 0.0;
            } else {
                currents[column] = current / self.pivots[column];
            }
        }
        for column in (0..elimination.len()).rev() {
            let range = elimination.column(column);
            let entries = elimination.rows[range.clone()].iter().zip(&self.ratios[range]);
            let carried: f64 = entries.map(|(&row, &ratio)| ratio * currents[row as usize]).sum();
            currents[column] += carried;
        }
        astray
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn solved(count: usize, edges: &[(u32, u32, f64)], currents: &[f64]) -> (Vec<f64>, bool, f64) {
        let pattern: Vec<(u32, u32)> = edges.iter().map(|&(a, b, _)| (a, b)).collect();
        let elimination = Elimination::new(count, &pattern);
        let mut factor = Factor::default();
        factor.clear(&elimination);
        for &(a, b, g) in edges {
            factor.add(elimination.slot(a, b).unwrap(), g);
        }
        let stable = factor.factorise(&elimination);
        let mut x = vec![0.0; count];
        for (node, &current) in currents.iter().enumerate() {
            x[elimination.position[node] as usize] = current;
        }
        let astray = factor.solve(&elimination, &mut x);
        ((0..count).map(|node| x[elimination.position[node] as usize]).collect(), stable, astray)
    }

    #[test]
    fn one_ampere_through_two_resistors_in_series() {
        let (v, stable, astray) = solved(3, &[(0, 1, 2.0), (1, 2, 4.0)], &[1.0, 0.0, -1.0]);
        assert_eq!([v[0] - v[1], v[1] - v[2]], [0.5, 0.25]);
        assert!(stable && astray == 0.0);
    }

    #[test]
    fn conductances_far_apart_lose_no_digits() {
        // A stiff pair (1e12 S) that hangs on 1e-9 S: subtracting on the diagonal would leave no digit of the latter.
        let (v, _, _) = solved(3, &[(0, 1, 1e12), (1, 2, 1e-9), (0, 2, 1e-9)], &[1e-9, 0.0, -1e-9]);
        assert!((v[0] - v[2] - 0.5).abs() < 1e-15, "{v:?}");
    }

    #[test]
    fn a_current_into_a_part_on_its_own_is_astray() {
        let (_, _, astray) = solved(4, &[(0, 1, 1.0), (2, 3, 1.0)], &[1.0, 0.0, -1.0, 0.0]);
        assert_eq!(astray, 1.0);
    }

    #[test]
    fn a_negative_conductance_that_wins_is_not_stable() {
        let (_, stable, _) = solved(2, &[(0, 1, 1.0), (0, 1, -2.0)], &[0.0, 0.0]);
        assert!(!stable);
    }
}
