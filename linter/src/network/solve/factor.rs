//! The numeric factor of a conductance matrix, and solving with it.
//!
//! The matrix is symmetric and each row sums to zero: a node's diagonal is the sum of the conductances at it. Its LDLᵀ
//! factor is what an electrician gets by replacing stars with meshes node after node. The pivot is computed as the sum
//! of the conductances left at the node, never by subtracting from the diagonal, so no digits are lost however far apart
//! the conductances lie, and the last node of a part that hangs together gets a pivot of exactly zero: its voltage is
//! free. Source: W. K. Grassmann, M. I. Taksar, D. P. Heyman, Operations Research 33 (1985) 1107 (the method for Markov
//! chains); A. S. Alfa, J. Xue, Q. Ye, Mathematics of Computation 71 (2002) 217 (entrywise accuracy).

use super::ordering::Elimination;

/// A factor and the room to compute it.
#[derive(Clone, Debug, Default)]
pub(super) struct Factor {
    /// Conductances left when a column is eliminated, by slot. Loaded with the network's before.
    weights: Vec<f64>,
    /// The same over the column's pivot.
    ratios: Vec<f64>,
    pivots: Vec<f64>,
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
        let mut targets = elimination.targets.iter();
        for column in 0..elimination.len() {
            let range = elimination.column(column);
            let pivot: f64 = self.weights[range.clone()].iter().sum();
            stable &= pivot >= 0.0;
            self.pivots[column] = pivot;
            for one in range.clone() {
                let ratio = if pivot == 0.0 { 0.0 } else { self.weights[one] / pivot };
                self.ratios[one] = ratio;
                for (other, &target) in (one + 1..range.end).zip(&mut targets) {
                    self.weights[target as usize] += ratio * self.weights[other];
                }
            }
        }
        stable
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
