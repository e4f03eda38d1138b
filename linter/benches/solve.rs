//! Times of the network solver by size: `cargo bench -p wattle-linter --bench solve`.
#![allow(clippy::print_stdout, reason = "a bench prints its table")]

use std::{hint::black_box, time::Instant};

use wattle_grammar::quantity::{Amps, Ohms, Volts, Watts};
use wattle_linter::network::{Element, Law, Network, NodeId, Solver};

/// What hangs at the ends of the wiring.
#[derive(Clone, Copy)]
enum Loads {
    /// Resistances.
    Linear,
    /// Power loads, current loads and diodes in turn.
    Bent,
}

fn main() {
    println!(
        "Quickest of several runs, one core. plan: order and pattern; anew: factorise and solve on that plan, from nothing;"
    );
    println!("next: another solve of the same shape from the last solution, sources 1 % lower.");
    println!();
    println!(
        "{:<28} {:>7} {:>8} {:>10} {:>10} {:>10} {:>6} {:>9}",
        "network", "nodes", "elements", "plan ms", "anew ms", "next ms", "rounds", "residual"
    );
    for nodes in [50, 200, 1_000, 5_000, 10_000, 20_000, 40_000, 80_000] {
        row("robot, resistances", &robot(nodes, Loads::Linear));
    }
    for nodes in [50, 200, 1_000, 5_000, 10_000, 40_000] {
        row("robot, loads on every end", &robot(nodes, Loads::Bent));
    }
    for nodes in [200, 1_000, 5_000, 20_000, 40_000] {
        row("random tree + 5 % edges", &random(nodes));
    }
}

/// Measures one network and prints its row.
fn row(name: &str, network: &Network) {
    let lower = scaled(network, 0.99);
    let runs = (200_000 / network.nodes as usize).clamp(25, 200);
    let plan = quickest(runs.min(40), || {
        black_box(Solver::new(black_box(network)));
    });
    let warmer = warmed(network, 1.01);
    let mut solver = Solver::new(network);
    let mut turn = 0;
    let anew = quickest(runs, || {
        turn += 1;
        let network = if turn % 2 == 0 { network } else { &warmer };
        black_box(solver.solve(black_box(network), None).is_ok());
    });
    let mut solver = Solver::new(network);
    let mut working = match solver.solve(network, None) {
        Ok(working) => working,
        Err(error) => return println!("{name:<28} {:>7} {error:?}", network.nodes),
    };
    let (rounds, largest) =
        (working.rounds, working.amps.iter().fold(0.0f64, |most, amps| most.max(amps.abs())));
    let residual = working.residual / largest;
    let mut turn = 0;
    let next = quickest(runs, || {
        turn += 1;
        let network = if turn % 2 == 0 { network } else { &lower };
        if let Ok(solved) = solver.solve(black_box(network), Some(&working)) {
            working = solved;
        }
    });
    println!(
        "{name:<28} {:>7} {:>8} {plan:>10.3} {anew:>10.3} {next:>10.3} {rounds:>6} {residual:>9.1e}",
        network.nodes,
        network.elements.len(),
    );
}

/// The shortest time of several runs, in milliseconds: what else the machine does can only lengthen a run.
fn quickest(runs: usize, mut run: impl FnMut()) -> f64 {
    let time = |_| {
        let begin = Instant::now();
        run();
        begin.elapsed().as_secs_f64() * 1e3
    };
    (0..runs).map(time).fold(f64::INFINITY, f64::min)
}

/// The same network with all sources scaled.
fn scaled(network: &Network, factor: f64) -> Network {
    let mut network = network.clone();
    for element in &mut network.elements {
        if let Law::Source { emf, .. } = &mut element.law {
            *emf = *emf * factor;
        }
    }
    network
}

/// The same network with all wires and resistances scaled, so that nothing of the last factor can be used again.
fn warmed(network: &Network, factor: f64) -> Network {
    let mut network = network.clone();
    for element in &mut network.elements {
        if let Law::Resistor(ohms) = &mut element.law {
            *ohms = *ohms * factor;
        }
    }
    network
}

/// Numbers that look random and are the same every time.
struct Numbers(u64);

impl Numbers {
    fn below(&mut self, limit: u32) -> u32 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        ((self.0 >> 33) % u64::from(limit.max(1))) as u32
    }

    fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * f64::from(self.below(1 << 20)) / f64::from(1 << 20)
    }
}

fn element(a: u32, b: u32, law: Law) -> Element {
    Element { a: NodeId(a), b: NodeId(b), law }
}

/// Two batteries on a plus and a minus bar; from the plus bar fused feeders to smaller bars, from those chains of three
/// wires to a load and two back to the minus bar, which lies at node 0.
fn robot(nodes: u32, loads: Loads) -> Network {
    let mut numbers = Numbers(1);
    let mut network = Network { nodes: 2, ..Network::default() };
    for emf in [25.2, 24.9] {
        let law = Law::Source { emf: Volts(emf), resistance: Ohms(0.02 / f64::from(nodes)) };
        network.elements.push(element(1, 0, law));
    }
    let mut bars = Vec::new();
    while network.nodes < nodes {
        if bars.len() * 60 <= network.nodes as usize {
            let bar = wire(&mut network, 1, 1e-4);
            bars.push(bar);
        }
        let bar = bars[numbers.below(bars.len() as u32) as usize];
        let ohms = numbers.between(0.002, 0.05);
        let near = wire(&mut network, bar, ohms);
        let feed = wire(&mut network, near, 0.003);
        let back = wire(&mut network, 0, ohms);
        let kind = numbers.below(4);
        let law = load(loads, kind, &mut numbers);
        network.elements.push(element(feed, back, law));
        if kind == 3 {
            network.elements.push(element(near, feed, Law::Open));
        }
    }
    network
}

fn wire(network: &mut Network, from: u32, ohms: f64) -> u32 {
    let to = network.nodes;
    network.nodes += 1;
    network.elements.push(element(from, to, Law::Resistor(Ohms(ohms))));
    to
}

fn load(loads: Loads, kind: u32, numbers: &mut Numbers) -> Law {
    match (loads, kind) {
        (Loads::Bent, 0 | 1) => {
            Law::PowerLoad { watts: Watts(numbers.between(1.0, 20.0)), cutoff: Volts(9.0) }
        }
        (Loads::Bent, 2) => Law::CurrentLoad { amps: Amps(numbers.between(0.1, 1.0)), cutoff: Volts(6.0) },
        (Loads::Bent, _) => Law::Diode { drop: Volts(numbers.between(20.0, 30.0)), resistance: Ohms(5.0) },
        (Loads::Linear, _) => Law::Resistor(Ohms(numbers.between(10.0, 500.0))),
    }
}

/// A random tree with 5 % more edges anywhere: the hard case, since nothing in a robot joins far ends at random.
fn random(nodes: u32) -> Network {
    let mut numbers = Numbers(2);
    let mut network = Network { nodes, ..Network::default() };
    let resistor = |numbers: &mut Numbers| Law::Resistor(Ohms(1.0 / numbers.between(10.0, 1000.0)));
    for node in 1..nodes {
        let law = resistor(&mut numbers);
        network.elements.push(element(node, numbers.below(node), law));
    }
    for _ in 0..nodes / 20 {
        let (a, b) = (numbers.below(nodes), numbers.below(nodes));
        if a != b {
            let law = resistor(&mut numbers);
            network.elements.push(element(a, b, law));
        }
    }
    let law = Law::Source { emf: Volts(24.0), resistance: Ohms(0.1) };
    network.elements.push(element(nodes - 1, 0, law));
    network
}
