//! What must hold for every linear network: Kirchhoff's laws, agreement with a dense reference, linearity, energy.
#![allow(clippy::unwrap_used, reason = "a test stops where it fails")]

use proptest::prelude::*;
use wattle_grammar::quantity::{Amps, Ohms, Volts};
use wattle_linter::network::{Element, ElementId, Law, Network, Solver, Unsolved, Working, solve};
use wattle_tests::{
    dense::solve_dense,
    random_network::{element, linear_network, resistor, source},
};

const EPSILON: f64 = f64::EPSILON;

/// Agreement of two ways to the same figure, over the largest figure. Conductances lie 10⁸ apart: changing one by its last
/// place can move a voltage by 2·10⁻⁸ of the largest, so no two ways agree better than that.
const AGREED: f64 = 1e-7;

fn largest(values: &[f64]) -> f64 {
    values.iter().fold(0.0, |most, value| most.max(value.abs()))
}

fn across(working: &Working, element: &Element) -> f64 {
    working.volts[element.a.0 as usize] - working.volts[element.b.0 as usize]
}

/// EMF, volt, and resistance, ohm, of an element that has them.
fn straight(law: Law) -> Option<(f64, f64)> {
    match law {
        Law::Resistor(Ohms(ohms)) => Some((0.0, ohms)),
        Law::Source { emf: Volts(volts), resistance: Ohms(ohms) } => Some((volts, ohms)),
        _ => None,
    }
}

/// The current of an element from its voltage and its law alone, and how far the rounding of node voltages to `f64` may
/// put it off. Perfect joints and ideal sources take the solver's word, and prove their voltage instead.
fn current_by_law(working: &Working, number: usize, element: &Element) -> (f64, f64) {
    let size = largest(&working.volts);
    let volts = across(working, element);
    match (element.law, straight(element.law)) {
        (_, Some((emf, 0.0))) => {
            assert!((volts - emf).abs() <= 8.0 * EPSILON * (size + emf.abs()), "{volts} V across {emf} V");
            (working.amps[number], 0.0)
        }
        (_, Some((emf, ohms))) => ((volts - emf) / ohms, 4.0 * EPSILON * (size + emf.abs()) / ohms),
        (Law::Current(Amps(amps)), _) => (amps, 0.0),
        _ => (0.0, 0.0),
    }
}

/// Kirchhoff's current law at every node, with the solver's currents and with those that follow from its voltages.
fn assert_kirchhoff(network: &Network, working: &Working) {
    let nodes = network.nodes as usize;
    let (mut by_amps, mut by_volts, mut slack) = (vec![0.0; nodes], vec![0.0; nodes], vec![0.0; nodes]);
    for (number, element) in network.elements.iter().enumerate() {
        let (current, off) = current_by_law(working, number, element);
        for (node, sign) in [(element.a.0 as usize, 1.0), (element.b.0 as usize, -1.0)] {
            by_amps[node] += sign * working.amps[number];
            by_volts[node] += sign * current;
            slack[node] += off;
        }
    }
    // Where nothing flows at all, all that is left is the last place of the sources' prospective currents.
    let limit = 1e-9 * largest(&working.amps) + 1e-18;
    assert!(working.residual <= limit);
    for node in 0..nodes {
        assert!(by_amps[node].abs() <= limit, "{} A left over at {node}", by_amps[node]);
        assert!(by_volts[node].abs() <= limit + slack[node], "{} A left over at {node}", by_volts[node]);
    }
}

/// Compares by the largest of all figures; picovolts and picoamperes are nothing in a network of volts.
fn assert_close(one: &[f64], other: &[f64], tolerance: f64) {
    let size = largest(one).max(largest(other)).max(1e-12 / tolerance);
    for (number, (a, b)) in one.iter().zip(other).enumerate() {
        assert!((a - b).abs() <= tolerance * size, "{a} and {b} at {number} differ, largest {size}");
    }
}

/// The network with the EMF or current of every source changed.
fn with_sources(network: &Network, change: impl Fn(usize, f64) -> f64) -> Network {
    let mut changed = network.clone();
    for (number, element) in changed.elements.iter_mut().enumerate() {
        match &mut element.law {
            Law::Source { emf: Volts(value), .. } | Law::Current(Amps(value)) => {
                *value = change(number, *value)
            }
            _ => {}
        }
    }
    changed
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 96, ..ProptestConfig::default() })]

    #[test]
    fn currents_balance_at_every_node(nodes in 2u32..2000, islands in 1u32..5, seed: u64) {
        let islands = islands.min(nodes);
        let network = linear_network(nodes, islands, seed);
        let working = solve(&network, None).unwrap();
        assert_kirchhoff(&network, &working);
        for node in 0..nodes {
            prop_assert_eq!(working.island[node as usize], node % islands);
        }
        prop_assert!((0..islands).all(|island| working.volts[island as usize] == 0.0));
    }

    #[test]
    fn scaling_all_sources_scales_all_answers(nodes in 2u32..300, seed: u64, factor in 0.01f64..100.0) {
        let network = linear_network(nodes, 1, seed);
        let one = solve(&network, None).unwrap();
        let other = solve(&with_sources(&network, |_, value| factor * value), None).unwrap();
        let scaled = |values: &[f64]| values.iter().map(|value| factor * value).collect::<Vec<f64>>();
        assert_close(&scaled(&one.volts), &other.volts, AGREED);
        assert_close(&scaled(&one.amps), &other.amps, AGREED);
    }

    #[test]
    fn effects_of_sources_add_up(nodes in 2u32..300, seed: u64) {
        let network = linear_network(nodes, 1, seed);
        let mut solver = Solver::new(&network);
        let both = solver.solve(&network, None).unwrap();
        let odd = with_sources(&network, |number, value| if number % 2 == 1 { value } else { 0.0 });
        let even = with_sources(&network, |number, value| if number % 2 == 0 { value } else { 0.0 });
        let (odd, even) = (solver.solve(&odd, None).unwrap(), solver.solve(&even, None).unwrap());
        let sum = |a: &[f64], b: &[f64]| a.iter().zip(b).map(|(a, b)| a + b).collect::<Vec<f64>>();
        // Each part may be larger than the sum, so their own size sets the tolerance.
        let off = |a: &[f64], b: &[f64]| AGREED * (1.0 + largest(a) + largest(b));
        let volts = sum(&odd.volts, &even.volts);
        let amps = sum(&odd.amps, &even.amps);
        prop_assert!(volts.iter().zip(&both.volts).all(|(a, b)| (a - b).abs() <= off(&odd.volts, &even.volts)));
        prop_assert!(amps.iter().zip(&both.amps).all(|(a, b)| (a - b).abs() <= off(&odd.amps, &even.amps)));
    }

    #[test]
    fn reversing_all_sources_reverses_all_answers(nodes in 2u32..300, seed: u64) {
        let network = linear_network(nodes, 2.min(nodes), seed);
        let one = solve(&network, None).unwrap();
        let other = solve(&with_sources(&network, |_, value| -value), None).unwrap();
        let reversed = |values: &[f64]| values.iter().map(|value| -value).collect::<Vec<f64>>();
        assert_close(&reversed(&one.volts), &other.volts, 1e-13);
        assert_close(&reversed(&one.amps), &other.amps, 1e-13);
    }

    #[test]
    fn sources_give_what_resistances_burn(nodes in 2u32..500, seed: u64) {
        let network = linear_network(nodes, 1, seed);
        let working = solve(&network, None).unwrap();
        let (mut given, mut burnt, mut size) = (0.0, 0.0, 0.0f64);
        for (number, element) in network.elements.iter().enumerate() {
            let amps = working.amps[number];
            match straight(element.law) {
                Some((emf, ohms)) => {
                    given -= emf * amps;
                    burnt += ohms * amps * amps;
                    size += (emf * amps).abs();
                }
                None => {
                    given -= across(&working, element) * amps;
                    size += (across(&working, element) * amps).abs();
                }
            }
        }
        prop_assert!((given - burnt).abs() <= 1e-9 * (size + burnt) + 1e-18, "{} W given, {} W burnt", given, burnt);
    }

    #[test]
    fn a_solver_used_again_gives_what_a_fresh_one_gives(nodes in 2u32..300, seed: u64, opened: usize) {
        let network = linear_network(nodes, 1, seed);
        let mut solver = Solver::new(&network);
        let first = solver.solve(&network, None).unwrap();
        let mut other = network.clone();
        let resistors: Vec<usize> = (0..other.elements.len())
            .filter(|&number| straight(other.elements[number].law).is_some_and(|(_, ohms)| ohms > 0.0))
            .collect();
        prop_assume!(!resistors.is_empty());
        // An open contact may cut a given current off: then both must say so.
        other.elements[resistors[opened % resistors.len()]].law = Law::Open;
        match (solver.solve(&other, Some(&first)), solve(&other, None)) {
            (Ok(again), Ok(fresh)) => {
                assert_kirchhoff(&other, &again);
                prop_assert_eq!(&again.island, &fresh.island);
                assert_close(&again.volts, &fresh.volts, AGREED);
            }
            (again, fresh) => prop_assert_eq!(again.err(), fresh.err()),
        }
    }
}

proptest! {
    // Fewer, since the reference takes its time.
    #![proptest_config(ProptestConfig { cases: 32, ..ProptestConfig::default() })]

    #[test]
    fn agrees_with_dense_elimination(nodes in 2u32..=150, islands in 1u32..4, seed: u64) {
        let islands = islands.min(nodes);
        let network = linear_network(nodes, islands, seed);
        let working = solve(&network, None).unwrap();
        let grounds: Vec<u32> = (0..islands).collect();
        let (volts, amps) = solve_dense(&network, &grounds);
        assert_close(&working.volts, &volts, AGREED);
        assert_close(&working.amps, &amps, AGREED);
    }
}

#[test]
fn a_micro_ohm_joint_far_up_a_rail_still_balances() {
    // 1 mA through 1 µΩ at 48 V: the drop is 1 nV, less than 48 V can be told apart by a thousandth of that.
    let elements = vec![
        element(1, 0, source(48.0, 1.0)),
        element(1, 2, resistor(1e-6)),
        element(2, 3, resistor(1e-6)),
        element(3, 0, resistor(47_999.0)),
    ];
    let network = Network { nodes: 4, elements, ..Network::default() };
    let working = solve(&network, None).unwrap();
    assert!(working.residual <= 1e-9 * 1e-3);
    assert!(working.amps[1..].iter().all(|amps| (amps - 1e-3).abs() < 1e-12), "{:?}", working.amps);
}

#[test]
fn ideal_sources_that_disagree_are_named() {
    let elements = vec![
        element(2, 0, source(12.0, 0.0)),
        element(1, 0, source(5.0, 0.0)),
        element(2, 3, resistor(0.0)),
        element(3, 0, source(11.0, 0.0)),
        element(1, 2, resistor(10.0)),
    ];
    let network = Network { nodes: 4, elements, ..Network::default() };
    let named = vec![ElementId(0), ElementId(2), ElementId(3)];
    assert_eq!(solve(&network, None), Err(Unsolved::SourceLoop(named)));
}

#[test]
fn a_given_current_with_nowhere_to_go_is_named() {
    let elements = vec![
        element(1, 0, source(12.0, 0.1)),
        element(1, 0, resistor(5.0)),
        element(0, 2, Law::Current(Amps(1.0))),
    ];
    let network = Network { nodes: 3, elements, ..Network::default() };
    assert_eq!(solve(&network, None), Err(Unsolved::NotFinite(ElementId(2))));
}

#[test]
fn the_empty_network_has_a_working_point() {
    assert_eq!(solve(&Network::default(), None), Ok(Working::default()));
    let lonely = solve(&Network { nodes: 3, ..Network::default() }, None).unwrap();
    assert_eq!((lonely.island, lonely.volts), (vec![0, 1, 2], vec![0.0; 3]));
}
