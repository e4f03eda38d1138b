//! Variants solved side by side come to what each comes to when it is solved alone.
#![allow(clippy::unwrap_used, reason = "a test stops where it fails")]

use std::sync::Arc;

use proptest::prelude::*;
use wattle_grammar::quantity::{Amps, Ohms, Share, Volts, Watts};
use wattle_linter::network::{
    Converter, ElementId, Follower, Law, Network, Problem, Solver, Unsolved, Variant, Working, solve,
};
use wattle_tests::random_network::{Numbers, element, power_load, resistor, robot_network, source};

/// How far two solutions may differ, as a share of the largest figure.
const SAME: f64 = 1e-8;

/// The numbers of a variant, drawn around those of a network.
struct Drawn {
    emf: Vec<(ElementId, Volts)>,
    warmth: Arc<[f64]>,
    set: Vec<Volts>,
    coils: Vec<f64>,
}

impl Drawn {
    fn new(network: &Network, numbers: &mut Numbers) -> Self {
        let share = numbers.between(0.7, 1.1);
        let sources = network.elements.iter().enumerate().filter_map(|(number, one)| match one.law {
            Law::Source { emf, .. } => Some((ElementId(number as u32), emf * share)),
            _ => None,
        });
        let emf = sources.collect();
        let warmth = network.elements.iter().map(|_| numbers.between(1.0, 1.6)).collect();
        let set =
            network.converters.iter().map(|one| one.output_volts * numbers.between(0.95, 1.05)).collect();
        let coils = network.followers.iter().map(|_| numbers.between(0.9, 1.2)).collect();
        Self { emf, warmth, set, coils }
    }

    fn of<'a>(&'a self, network: &'a Arc<Network>) -> Variant<'a> {
        Variant { network, emf: &self.emf, warmth: Some(&self.warmth), set: &self.set, coils: &self.coils }
    }
}

fn assert_same(network: &Network, one: &Result<Working, Unsolved>, other: &Result<Working, Unsolved>) {
    let (Ok(one), Ok(other)) = (one, other) else {
        assert_eq!(one.is_ok(), other.is_ok(), "{one:?} {other:?}");
        return;
    };
    assert_eq!((&one.closed, &one.running), (&other.closed, &other.running));
    let largest = one.amps.iter().fold(0.0f64, |most, amps| most.max(amps.abs()));
    let below = |of: &Working| -> Vec<ElementId> {
        let flows = |load: &&ElementId| of.amps[load.0 as usize].abs() > SAME * largest;
        of.below_cutoff.iter().filter(flows).copied().collect()
    };
    assert_eq!(below(one), below(other));
    // Where nothing flows nothing tells whether a load that hangs on one wire alone is joined to it or floats.
    for (number, element) in network.elements.iter().enumerate() {
        let (ones, others) = (one.amps[number], other.amps[number]);
        assert!((ones - others).abs() <= SAME * largest.max(1e-3), "{number}: {ones} {others}");
        if ones.abs() > SAME * largest {
            let across = |of: &Working| of.volts[element.a.0 as usize] - of.volts[element.b.0 as usize];
            assert!((across(one) - across(other)).abs() <= SAME * 60.0, "{number}: {element:?}");
        }
    }
    assert!(one.residual <= 1e-9 * largest.max(1e-6), "{} of {largest}", one.residual);
}

/// `count` branches on a pack: a regulator with a load each, behind a relay whose coil hangs on the pack.
fn machine(count: u32, numbers: &mut Numbers) -> Network {
    let mut network = Network { nodes: 2, ..Network::default() };
    network.elements.push(element(1, 0, source(numbers.between(20.0, 26.0), 0.02)));
    for _ in 0..count {
        let first = network.nodes;
        let (coil, switched, out, load) = (first, first + 1, first + 2, first + 3);
        network.nodes += 4;
        let at = network.elements.len() as u32;
        let ohms = numbers.decade(-3.0, -1.0);
        network.elements.push(element(1, coil, resistor(ohms)));
        network.elements.push(element(coil, 0, resistor(numbers.between(100.0, 400.0))));
        network.elements.push(element(1, switched, Law::Open));
        let input = Law::PowerLoad { watts: Watts(0.0), cutoff: Volts(6.0) };
        network.elements.push(element(switched, 0, input));
        let (emf, limit) = (Volts(5.0), Amps(numbers.between(2.0, 6.0)));
        let output = Law::LimitedSource { emf, resistance: Ohms(1e-3), limit, sinks: false };
        network.elements.push(element(out, 0, output));
        network.elements.push(element(out, load, resistor(ohms)));
        network.elements.push(element(load, 0, power_load(numbers.between(0.5, 9.0), 3.0)));
        network.followers.push(Follower {
            coil: ElementId(at + 1),
            contact: ElementId(at + 2),
            normally_closed: numbers.below(6) == 0,
            operate: Volts(numbers.between(14.0, 24.0)),
            release: Volts(numbers.between(1.0, 6.0)),
            closed: Ohms(2e-3),
            begins_operated: false,
        });
        network.converters.push(Converter {
            input: ElementId(at + 3),
            output: ElementId(at + 4),
            efficiency: Share(0.85),
            linear: numbers.below(4) == 0,
            quiescent: Amps(0.01),
            output_volts: emf,
            dropout: Volts(1.0),
            lowest_input: Volts(7.0),
        });
    }
    network
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(96))]

    #[test]
    fn random_wiring_comes_to_the_same(nodes in 4u32..300, weakness in 0.1f64..1.6, seed: u64) {
        let network = Arc::new(robot_network(nodes, weakness, seed));
        let mut numbers = Numbers(seed ^ 1);
        let drawn: Vec<Drawn> = (0..11).map(|_| Drawn::new(&network, &mut numbers)).collect();
        let near = solve(&network, None).ok();
        for near in [None, near.as_ref()] {
            let problems: Vec<Problem<'_>> =
                drawn.iter().map(|one| Problem { variant: one.of(&network), after: near, near }).collect();
            let side_by_side = Solver::default().solve_all(&problems);
            prop_assert_eq!(side_by_side.len(), drawn.len());
            for (found, one) in side_by_side.iter().zip(&drawn) {
                assert_same(&network, found, &solve(&one.of(&network).network(), near));
            }
        }
    }

    #[test]
    fn relays_and_regulators_come_to_the_same(count in 1u32..12, seed: u64) {
        let mut numbers = Numbers(seed);
        let network = Arc::new(machine(count, &mut numbers));
        let drawn: Vec<Drawn> = (0..9).map(|_| Drawn::new(&network, &mut numbers)).collect();
        let problems: Vec<Problem<'_>> =
            drawn.iter().map(|one| Problem { variant: one.of(&network), after: None, near: None }).collect();
        for (found, one) in Solver::default().solve_all(&problems).iter().zip(&drawn) {
            assert_same(&network, found, &solve(&one.of(&network).network(), None));
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    /// The solver keeps what it has laid out: other numbers of the same networks must all be taken over, and other
    /// networks must not be taken for those.
    #[test]
    fn one_solver_comes_to_the_same_time_after_time(count in 1u32..8, seed: u64) {
        let mut numbers = Numbers(seed);
        let networks: Vec<Arc<Network>> = (0..3)
            .map(|_| Arc::new(machine(count, &mut numbers)))
            .collect();
        let mut solver = Solver::default();
        for round in 0..8 {
            let drawn: Vec<Drawn> = (0..6).map(|_| Drawn::new(&networks[0], &mut numbers)).collect();
            let of = |at: usize| &networks[if round % 3 == 0 { at % 3 } else { at % 2 }];
            let numbered = drawn.iter().enumerate();
            let problems: Vec<Problem<'_>> = numbered
                .map(|(at, one)| Problem {
                    // Every other round leaves the warmth away.
                    variant: Variant { warmth: Some(&one.warmth).filter(|_| round % 2 == 0), ..one.of(of(at)) },
                    after: None,
                    near: None,
                })
                .collect();
            for (found, problem) in solver.solve_all(&problems).iter().zip(&problems) {
                assert_same(problem.variant.network, found, &solve(&problem.variant.network(), None));
            }
        }
    }
}

#[test]
fn a_network_of_another_shape_among_them_is_solved_too() {
    let [one, other] = [robot_network(20, 0.5, 1), robot_network(24, 0.5, 2)].map(Arc::new);
    let problems = [&one, &other, &one].map(|network| Problem {
        variant: Variant::plain(network),
        after: None,
        near: None,
    });
    let found = Solver::default().solve_all(&problems);
    for (found, network) in found.iter().zip([&one, &other, &one]) {
        assert_same(network, found, &solve(network, None));
    }
}

#[test]
fn numbers_out_of_range_are_told_and_harm_no_other() {
    let sound = robot_network(20, 0.5, 1);
    let mut broken = sound.clone();
    broken.elements[0].law = source(f64::NAN, 1.0);
    let [sound, broken] = [sound, broken].map(Arc::new);
    let problems = [&sound, &broken].map(|network| Problem {
        variant: Variant::plain(network),
        after: None,
        near: None,
    });
    let found = Solver::default().solve_all(&problems);
    assert_same(&sound, &found[0], &solve(&sound, None));
    assert_eq!(found[1], Err(Unsolved::NotFinite(ElementId(0))));
}
