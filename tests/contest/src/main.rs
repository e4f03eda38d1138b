//! The linear part of the network solver beside general sparse direct solvers, on the same matrices in one run:
//! `cargo run --release --manifest-path tests/contest/Cargo.toml`.
//!
//! Everybody runs on one thread and keeps what belongs to the shape: order and pattern are analysed once, then numbers are
//! factorised on them and one right side is solved. A working point takes one to a few factorisations and solves.

mod contestant;
#[allow(dead_code, unreachable_pub, missing_docs)]
#[path = "../../../linter/src/network/solve/factor.rs"]
mod factor;
mod matrix;
#[allow(dead_code, unreachable_pub, missing_docs)]
#[path = "../../../linter/src/network/solve/ordering.rs"]
mod ordering;
mod time;

use contestant::{faer_cholesky, faer_lu, klu, rsparse, sprs_ldl, wattle};
use matrix::{Conductances, random, robot};
use time::Times;

fn main() {
    faer::set_global_parallelism(faer::Par::Seq);
    println!(
        "milliseconds, the shortest of several runs; ratio: factorisation and solve, of the best general one"
    );
    for matrix in [robot(1_000), robot(10_000), robot(80_000), random(10_000)] {
        table(&matrix);
    }
}

fn table(matrix: &Conductances) {
    let runs = (400_000 / matrix.nodes).clamp(7, 200);
    println!("\n{}, {} nodes, {} edges", matrix.name, matrix.nodes, matrix.edges.len());
    println!(
        "{:<18} {:>10} {:>13} {:>9} {:>7} {:>9} {:>9}",
        "solver", "analysis", "factorisation", "solve", "ratio", "entries", "residual"
    );
    let others = [faer_cholesky, faer_lu, klu, sprs_ldl, rsparse].map(|solver| solver(matrix, runs));
    let work = |times: &Times| times.factorisation + times.solve;
    let best = others.iter().map(work).fold(f64::INFINITY, f64::min);
    for times in std::iter::once(&wattle(matrix, runs)).chain(&others) {
        println!(
            "{:<18} {:>10.3} {:>13.3} {:>9.3} {:>7.2} {:>9} {:>9.1e}",
            times.name,
            times.analysis,
            times.factorisation,
            times.solve,
            work(times) / best,
            times.entries,
            times.residual,
        );
    }
}
