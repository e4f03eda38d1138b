//! How long the electrical engine takes, by the number of wires: all modes at all corners, all conductors, protection with
//! clearing, and beside it energy and surges.
//!
//! `cargo bench -p wattle-tests --bench electrical [-- WIRES…]`. Prints a table, each figure the quickest of several
//! runs on one core; fails nothing, for what a machine does beside it is not known.

#![allow(clippy::print_stdout, reason = "a bench prints what it measures")]

use std::{
    collections::BTreeMap,
    hint::black_box,
    path::PathBuf,
    time::{Duration, Instant},
};

use wattle_linter::{
    conductors::{Conductors, worst_ampacities},
    design::{self, Design},
    energy::Energy,
    figures::Figures,
    profile, project,
    protection::{Given, Protection},
    surge::Surges,
    topology::Topology,
    trace::Trace,
};
use wattle_tests::{memory::Memory, robots};

/// Sizes measured unless others are given, wires.
const SIZES: [usize; 5] = [300, 1_000, 2_000, 5_000, 20_000];

fn main() {
    let given: Vec<usize> = std::env::args().skip(1).filter_map(|argument| argument.parse().ok()).collect();
    let sizes = if given.is_empty() { SIZES.to_vec() } else { given };
    println!("ms, quickest of several runs; analysis: trace + figures + conductors + protection");
    println!(
        "{:>7} {:>7} {:>9} {:>9} {:>9} {:>10} {:>10} {:>9} {:>9}",
        "wires", "points", "analysis", "trace", "figures", "conductors", "protection", "energy", "surges"
    );
    for wires in sizes {
        row(&lowered(&robots::robot(wires)));
    }
}

fn lowered(text: &str) -> Design {
    let root = PathBuf::from("robot.wattle");
    let memory = Memory(BTreeMap::from([(root.clone(), text.as_bytes().to_vec())]));
    design::lower(&project::open(&root, &memory)).0
}

fn row(design: &Design) {
    let topology = Topology::build(design);
    let runs = (20_000 / design.wires.len().max(1)).clamp(3, 25);
    let quickest = |phase: usize, rounds: &[[Duration; 6]]| {
        rounds.iter().map(|round| round[phase].as_secs_f64() * 1e3).fold(f64::INFINITY, f64::min)
    };
    let mut points = 0;
    let rounds: Vec<[Duration; 6]> = (0..runs).map(|_| round(design, &topology, &mut points)).collect();
    let times: Vec<f64> = (0..6).map(|phase| quickest(phase, &rounds)).collect();
    let whole: f64 = times.iter().take(4).sum();
    let [trace, figures, conductors, protection, energy, surges] = times.as_slice() else { return };
    println!(
        "{:>7} {points:>7} {whole:>9.1} {trace:>9.2} {figures:>9.2} {conductors:>10.2} {protection:>10.2} {energy:>9.2} \
         {surges:>9.2}",
        design.wires.len()
    );
}

fn round(design: &Design, topology: &Topology, points: &mut usize) -> [Duration; 6] {
    let profile = profile::DEFAULT;
    let (trace, traced) = timed(|| Trace::new(design, topology));
    let (figures, solved) = timed(|| Figures::solve(design, topology));
    *points = figures.points.len();
    let ((conductors, ampacities), borne) = timed(|| {
        let conductors = Conductors::new(design, &figures, profile);
        let ampacities = worst_ampacities(design, &conductors, profile);
        (conductors, ampacities)
    });
    let given = Given {
        design,
        topology,
        trace: &trace,
        figures: &figures,
        profile,
        conductors: &conductors,
        ampacities: &ampacities,
    };
    let (_, protected) = timed(|| Protection::new(&given));
    let (_, lasting) = timed(|| Energy::for_rules(design, topology, &figures));
    let (_, surging) = timed(|| Surges::new(design, topology, &figures));
    [traced, solved, borne, protected, lasting, surging]
}

fn timed<T>(work: impl FnOnce() -> T) -> (T, Duration) {
    let start = Instant::now();
    let result = black_box(work());
    (result, start.elapsed())
}
