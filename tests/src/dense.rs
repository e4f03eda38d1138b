//! A reference for the solver: the whole network as one dense system, solved by elimination with partial pivoting.
//!
//! Slow and plain on purpose. Modified nodal analysis (C.-W. Ho, A. Ruehli, P. Brennan, IEEE Trans. Circuits and Systems
//! 22 (1975) 504): unknowns are the node voltages and the currents of elements without a conductance.

use wattle_grammar::quantity::{Amps, Ohms, Volts};
use wattle_linter::network::{Law, Network};

/// Voltages of all nodes, volt, with the nodes of `grounds` at 0 V, and currents of all elements, ampere.
///
/// # Panics
/// When a law is not linear, or the system is singular.
#[must_use]
pub fn solve_dense(network: &Network, grounds: &[u32]) -> (Vec<f64>, Vec<f64>) {
    let nodes = network.nodes as usize;
    let size = nodes + network.elements.len();
    let mut rows = vec![vec![0.0; size]; size];
    let mut right = vec![0.0; size];
    for (number, element) in network.elements.iter().enumerate() {
        let (a, b, current) = (element.a.0 as usize, element.b.0 as usize, nodes + number);
        rows[a][current] += 1.0;
        rows[b][current] -= 1.0;
        // One row for each law: conductance-like for large resistances, so that rows are of like size.
        let (of_volts, of_amps, given) = match element.law {
            Law::Resistor(Ohms(r)) => (1.0, -r, 0.0),
            Law::Source { emf: Volts(emf), resistance: Ohms(r) } => (1.0, -r, emf),
            Law::Current(Amps(amps)) => (0.0, 1.0, amps),
            other => {
                assert!(matches!(other, Law::Open), "{other:?} is not linear");
                (0.0, 1.0, 0.0)
            }
        };
        let scale = 1.0 / f64::max(1.0, f64::abs(of_amps));
        rows[current][a] += of_volts * scale;
        rows[current][b] -= of_volts * scale;
        rows[current][current] += of_amps * scale;
        right[current] = given * scale;
    }
    for &ground in grounds {
        // Kirchhoff's law at the ground follows from the other nodes'.
        rows[ground as usize] = vec![0.0; size];
        rows[ground as usize][ground as usize] = 1.0;
    }
    let solution = refined(&rows, &right);
    (solution[..nodes].to_vec(), solution[nodes..].to_vec())
}

/// Eliminates once, and once more for what is left over.
fn refined(rows: &[Vec<f64>], right: &[f64]) -> Vec<f64> {
    let mut solution = eliminate(rows.to_vec(), right.to_vec());
    let left: Vec<f64> = rows
        .iter()
        .zip(right)
        .map(|(row, right)| right - row.iter().zip(&solution).map(|(a, x)| a * x).sum::<f64>())
        .collect();
    for (x, correction) in solution.iter_mut().zip(eliminate(rows.to_vec(), left)) {
        *x += correction;
    }
    solution
}

fn eliminate(mut rows: Vec<Vec<f64>>, mut right: Vec<f64>) -> Vec<f64> {
    let size = rows.len();
    for column in 0..size {
        let pivot = (column..size).max_by(|&a, &b| rows[a][column].abs().total_cmp(&rows[b][column].abs()));
        let pivot = pivot.unwrap_or(column);
        assert!(rows[pivot][column] != 0.0, "singular at {column}");
        rows.swap(column, pivot);
        right.swap(column, pivot);
        let (above, below) = rows.split_at_mut(column + 1);
        let head = &above[column];
        for (offset, row) in below.iter_mut().enumerate().filter(|(_, row)| row[column] != 0.0) {
            let factor = row[column] / head[column];
            row[column..].iter_mut().zip(&head[column..]).for_each(|(x, y)| *x -= factor * y);
            right[column + 1 + offset] -= factor * right[column];
        }
    }
    for column in (0..size).rev() {
        let known: f64 = (column + 1..size).map(|k| rows[column][k] * right[k]).sum();
        right[column] = (right[column] - known) / rows[column][column];
    }
    right
}
