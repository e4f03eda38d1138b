//! Loads, diodes and limited sources: closed-form answers, and what must hold for every network that has them.
#![allow(clippy::unwrap_used, reason = "a test stops where it fails")]

use proptest::prelude::*;
use wattle_grammar::quantity::{Amps, Ohms, Volts};
use wattle_linter::network::{Element, ElementId, Law, Network, NodeId, Solver, Unsolved, Working, solve};
use wattle_tests::{
    law::assert_solved,
    random_network::{Numbers, current_load, diode, element, power_load, resistor, robot_network, source},
};

fn network(nodes: u32, elements: Vec<Element>) -> Network {
    Network { nodes, elements, ..Network::default() }
}

fn assert_near(figure: f64, expected: f64) {
    assert!((figure - expected).abs() <= 1e-9 * expected.abs().max(1e-3), "{figure} instead of {expected}");
}

/// A source of `emf` behind `ohms` with one load.
fn loaded(emf: f64, ohms: f64, load: Law) -> Network {
    network(2, vec![element(1, 0, source(emf, ohms)), element(1, 0, load)])
}

proptest! {
    #[test]
    fn a_power_load_takes_the_higher_root(emf in 5.0f64..60.0, ohms in 0.01f64..2.0, share in 0.01f64..0.99) {
        // v² - E v + R P = 0; textbook algebra.
        let watts = share * emf * emf / (4.0 * ohms);
        let working = solve(&loaded(emf, ohms, power_load(watts, 0.3 * emf)), None).unwrap();
        assert_near(working.volts[1], 0.5 * (emf + (emf * emf - 4.0 * ohms * watts).sqrt()));
        prop_assert_eq!(&working.below_cutoff, &[]);
    }

    #[test]
    fn beyond_the_highest_power_there_is_no_working_point(
        emf in 5.0f64..60.0, ohms in 0.01f64..2.0, over in 1e-9f64..20.0, share in 0.05f64..0.49,
    ) {
        let (watts, cutoff) = ((1.0 + over) * emf * emf / (4.0 * ohms), share * emf);
        let network = loaded(emf, ohms, power_load(watts, cutoff));
        prop_assert_eq!(solve(&network, None), Err(Unsolved::Overdrawn(vec![ElementId(1)])));
        // Collapsed, the load is the resistance that it has at its cut-off.
        let collapsed = Solver::new(&network).solve_collapsed(&network, None).unwrap();
        let load = cutoff * cutoff / watts;
        assert_near(collapsed.volts[1], emf * load / (load + ohms));
        prop_assert_eq!(&collapsed.below_cutoff, &[ElementId(1)]);
    }

    #[test]
    fn robots_satisfy_every_law(nodes in 4u32..600, weakness in 0.1f64..2.0, seed: u64) {
        let network = robot_network(nodes, weakness, seed);
        let mut solver = Solver::new(&network);
        let collapsed = solver.solve_collapsed(&network, None).unwrap();
        assert_solved(&network, &collapsed);
        match solver.solve(&network, None) {
            Ok(working) => prop_assert_eq!(&working.volts, &collapsed.volts),
            Err(Unsolved::Overdrawn(loads)) => {
                prop_assert!(loads.iter().all(|load| collapsed.below_cutoff.contains(load)));
            }
            Err(other) => prop_assert!(false, "{:?}", other),
        }
    }

    #[test]
    fn a_robot_solved_from_a_neighbour_is_the_same(nodes in 4u32..300, seed: u64, other: u64) {
        let first = robot_network(nodes, 0.3, seed);
        let mut second = first.clone();
        for (element, stranger) in second.elements.iter_mut().zip(&robot_network(nodes, 0.3, other).elements) {
            if element.a == stranger.a && element.b == stranger.b {
                element.law = stranger.law;
            }
        }
        let mut solver = Solver::new(&first);
        if let (Ok(start), Ok(fresh)) = (solver.solve(&first, None), solve(&second, None)) {
            let again = solver.solve(&second, Some(&start)).unwrap();
            assert_solved(&second, &again);
            let far = again.volts.iter().zip(&fresh.volts).fold(0.0f64, |far, (a, b)| far.max((a - b).abs()));
            prop_assert!(far < 1e-7, "{} V apart", far);
        }
    }

    #[test]
    fn rubbish_never_panics_and_never_hangs(nodes in 0u32..8, seed: u64) {
        let network = rubbish(nodes, seed);
        if let Ok(working) = solve(&network, None) {
            prop_assert!(working.volts.iter().chain(&working.amps).all(|figure| figure.is_finite()));
        }
    }
}

/// Any laws between any nodes, with numbers that nobody would write.
fn rubbish(nodes: u32, seed: u64) -> Network {
    let mut numbers = Numbers(seed);
    let number = |numbers: &mut Numbers| match numbers.below(40) {
        0 => f64::NAN,
        1 => f64::INFINITY,
        2 => -1.0,
        3 => 1e200,
        4..=8 => 0.0,
        9..=12 => numbers.decade(-12.0, 12.0),
        _ => numbers.between(0.0, 30.0),
    };
    let mut elements = Vec::new();
    for _ in 0..numbers.below(16) {
        let (x, y, sinks) = (number(&mut numbers), number(&mut numbers), numbers.below(2) == 0);
        let law = match numbers.below(8) {
            0 => resistor(x),
            1 => source(x, y),
            2 => Law::LimitedSource { emf: Volts(x), resistance: Ohms(y), limit: Amps(x + y), sinks },
            3 => Law::Current(Amps(x)),
            4 => current_load(x, y),
            5 => power_load(x, y),
            6 => diode(x, y),
            _ => Law::Open,
        };
        // Now and then a node that does not exist.
        let beyond = u32::from(nodes == 0 || numbers.below(30) == 0);
        let (a, b) = (numbers.below(nodes + beyond), numbers.below(nodes + beyond));
        elements.push(element(a, b, law));
    }
    network(nodes, elements)
}

#[test]
fn at_the_edge_of_the_highest_power_both_sides_are_told_apart() {
    // 12 V behind 1 Ω carries 36 W at most.
    assert!(solve(&loaded(12.0, 1.0, power_load(36.0 * (1.0 - 1e-9), 4.0)), None).is_ok());
    let over = solve(&loaded(12.0, 1.0, power_load(36.0 * (1.0 + 1e-9), 4.0)), None);
    assert_eq!(over, Err(Unsolved::Overdrawn(vec![ElementId(1)])));
}

#[test]
fn a_load_that_pulls_its_own_supply_below_its_cutoff_is_overdrawn() {
    // 12 V behind 1 Ω would carry 30 W at 8.4 V, but the load lets go at 9 V.
    let over = solve(&loaded(12.0, 1.0, power_load(30.0, 9.0)), None);
    assert_eq!(over, Err(Unsolved::Overdrawn(vec![ElementId(1)])));
}

#[test]
fn a_load_on_too_low_a_battery_is_below_its_cutoff_but_not_overdrawn() {
    let working = solve(&loaded(6.0, 0.1, power_load(30.0, 9.0)), None).unwrap();
    assert_eq!(working.below_cutoff, [ElementId(1)]);
    assert_near(working.volts[1], 6.0 * 2.7 / 2.8);
}

#[test]
fn overdrawn_loads_are_named_heaviest_first_and_others_are_not() {
    let elements = vec![
        element(1, 0, source(12.0, 0.5)),
        element(1, 0, power_load(20.0, 6.0)),
        element(1, 0, power_load(70.0, 6.0)),
        element(2, 0, source(12.0, 0.5)),
        element(2, 0, power_load(40.0, 6.0)),
    ];
    assert_eq!(
        solve(&network(3, elements), None),
        Err(Unsolved::Overdrawn(vec![ElementId(2), ElementId(1)]))
    );
}

#[test]
fn a_load_without_any_supply_stands_at_nothing() {
    let elements = vec![
        element(1, 0, source(24.0, 0.1)),
        element(1, 2, Law::Open),
        element(2, 3, resistor(0.01)),
        element(3, 0, power_load(50.0, 9.0)),
        element(2, 0, resistor(1000.0)),
    ];
    let working = solve(&network(4, elements), None).unwrap();
    assert_eq!((working.volts[3], working.amps[3]), (0.0, 0.0));
    assert_eq!(working.below_cutoff, [ElementId(3)]);
    assert_eq!(working.island, [0, 0, 0, 0]);
}

#[test]
fn a_current_load_falls_below_its_cutoff() {
    // 1 A above 8 V, in proportion below: 8 Ω there.
    assert_near(solve(&loaded(12.0, 2.0, current_load(1.0, 8.0)), None).unwrap().volts[1], 10.0);
    assert_near(solve(&loaded(6.0, 2.0, current_load(1.0, 8.0)), None).unwrap().volts[1], 6.0 * 8.0 / 10.0);
}

#[test]
fn current_loads_in_series_share_as_the_lesser_lets_them() {
    let elements = vec![
        element(2, 0, source(24.0, 1.0)),
        element(2, 1, current_load(1.0, 6.0)),
        element(1, 0, current_load(0.5, 6.0)),
    ];
    let network = network(3, elements);
    let working = solve(&network, None).unwrap();
    assert_solved(&network, &working);
    assert_near(working.amps[1], 0.5);
    assert_near(working.volts[2] - working.volts[1], 3.0);
}

#[test]
fn a_diode_conducts_forward_and_blocks_backward() {
    let forward = loaded(12.0, 100.0, diode(0.7, 0.5));
    assert_near(solve(&forward, None).unwrap().amps[1], 11.3 / 100.5);
    let elements =
        vec![element(1, 0, source(12.0, 1.0)), element(2, 1, diode(0.7, 0.5)), element(2, 3, resistor(10.0))];
    let working = solve(&network(4, elements), None).unwrap();
    assert_eq!(working.amps[1], 0.0);
    assert_eq!(working.island, [0, 0, 1, 1]);
}

#[test]
fn the_higher_of_two_packs_behind_diodes_feeds_alone() {
    let elements = vec![
        element(1, 0, source(24.0, 0.1)),
        element(2, 0, source(22.0, 0.1)),
        element(1, 3, diode(0.5, 0.01)),
        element(2, 3, diode(0.5, 0.01)),
        element(3, 0, resistor(10.0)),
    ];
    let working = solve(&network(4, elements), None).unwrap();
    assert_near(working.amps[2], 23.5 / 10.11);
    assert_eq!(working.amps[3], 0.0);
}

proptest! {
    #[test]
    fn a_bridge_of_diodes_turns_both_polarities_the_same_way(emf in -40.0f64..40.0, drop in 0.1f64..1.2) {
        let elements = vec![
            element(1, 2, source(emf, 1.0)),
            element(1, 3, diode(drop, 0.1)),
            element(2, 3, diode(drop, 0.1)),
            element(0, 1, diode(drop, 0.1)),
            element(0, 2, diode(drop, 0.1)),
            element(3, 0, resistor(10.0)),
        ];
        let network = network(4, elements);
        let working = solve(&network, None).unwrap();
        assert_solved(&network, &working);
        let amps = ((emf.abs() - 2.0 * drop) / 11.2).max(0.0);
        prop_assert!((working.amps[5] - amps).abs() < 1e-12);
    }

    #[test]
    fn a_turned_motor_lifts_the_rail_through_the_drivers_diodes(emf in 3.0f64..60.0, battery in 0.0f64..30.0) {
        // Rail at 1, motor leads at 2 and 3; a battery that takes no current back.
        let battery = Law::LimitedSource { emf: Volts(battery), resistance: Ohms(0.05), limit: Amps(50.0), sinks: false };
        let elements = vec![
            element(1, 0, battery),
            element(1, 0, resistor(20.0)),
            element(2, 3, source(emf, 1.0)),
            element(2, 1, diode(0.8, 0.02)),
            element(3, 1, diode(0.8, 0.02)),
            element(0, 2, diode(0.8, 0.02)),
            element(0, 3, diode(0.8, 0.02)),
        ];
        let network = network(4, elements);
        let working = solve(&network, None).unwrap();
        assert_solved(&network, &working);
        let alone = (emf - 1.6) / (20.0 + 1.0 + 0.04) * 20.0;
        let Law::LimitedSource { emf: Volts(battery), .. } = battery else { return Ok(()) };
        if alone > battery {
            assert_near(working.volts[1], alone);
        }
    }
}

fn limited(limit: f64, sinks: bool) -> Law {
    Law::LimitedSource { emf: Volts(12.0), resistance: Ohms(0.1), limit: Amps(limit), sinks }
}

#[test]
fn a_limited_source_holds_voltage_then_current() {
    let at = |ohms: f64| {
        let elements = vec![element(1, 0, limited(5.0, false)), element(1, 0, resistor(ohms))];
        solve(&network(2, elements), None).unwrap().volts[1]
    };
    assert_near(at(11.9), 11.9);
    assert_near(at(1.0), 5.0);
    assert_near(at(1e-3), 5e-3);
}

#[test]
fn a_limited_source_takes_current_back_only_when_it_sinks() {
    let against = |sinks: bool| {
        let elements = vec![element(1, 0, limited(5.0, sinks)), element(1, 0, source(14.0, 0.9))];
        solve(&network(2, elements), None).unwrap()
    };
    assert_eq!(against(false).amps[0], 0.0);
    assert_near(against(false).volts[1], 14.0);
    assert_near(against(true).amps[0], 2.0);
}

#[test]
fn an_unloaded_supply_holds_its_output() {
    let elements = vec![element(1, 0, limited(5.0, false)), element(1, 2, resistor(3.0))];
    let working = solve(&network(3, elements), None).unwrap();
    assert_near(working.volts[2], 12.0);
    assert_eq!(working.island, [0, 0, 0]);
}

#[test]
fn a_power_load_beyond_a_supplys_limit_is_overdrawn() {
    let with = |watts: f64| {
        let elements = vec![element(1, 0, limited(5.0, false)), element(1, 0, power_load(watts, 9.0))];
        solve(&network(2, elements), None)
    };
    assert_near(with(50.0).unwrap().volts[1], 0.5 * (12.0 + (144.0f64 - 20.0).sqrt()));
    assert_eq!(with(62.0), Err(Unsolved::Overdrawn(vec![ElementId(1)])));
}

#[test]
fn a_given_current_finds_its_way_through_a_diode() {
    let elements = vec![
        element(1, 0, source(24.0, 0.5)),
        element(0, 2, Law::Current(Amps(2.0))),
        element(2, 1, diode(0.7, 0.1)),
    ];
    let working = solve(&network(3, elements), None).unwrap();
    assert_near(working.volts[2], 25.0 + 0.7 + 0.2);
}

#[test]
fn power_loads_in_series_come_to_an_end() {
    let elements = vec![
        element(2, 0, source(24.0, 0.1)),
        element(2, 1, power_load(10.0, 5.0)),
        element(1, 0, power_load(10.0, 5.0)),
    ];
    let network = network(3, elements);
    let working = Solver::new(&network).solve_collapsed(&network, None).unwrap();
    assert_solved(&network, &working);
}

#[test]
fn numbers_out_of_range_are_named() {
    let bad = [
        resistor(f64::NAN),
        resistor(-1.0),
        source(f64::INFINITY, 1.0),
        Law::Current(Amps(f64::NAN)),
        power_load(10.0, 0.0),
        power_load(-10.0, 5.0),
        current_load(f64::NAN, 5.0),
        diode(f64::NEG_INFINITY, 1.0),
    ];
    for law in bad {
        let elements = vec![element(1, 0, resistor(1.0)), element(1, 0, law)];
        assert_eq!(solve(&network(2, elements), None), Err(Unsolved::NotFinite(ElementId(1))), "{law:?}");
    }
    let astray = Element { a: NodeId(7), b: NodeId(0), law: Law::Open };
    assert_eq!(solve(&network(2, vec![astray]), None), Err(Unsolved::NotFinite(ElementId(0))));
}

#[test]
fn a_start_that_belongs_to_another_network_is_ignored() {
    let strange = Working { volts: vec![1.0; 9], ..Working::default() };
    let network = loaded(12.0, 1.0, power_load(20.0, 4.0));
    assert_eq!(solve(&network, Some(&strange)), solve(&network, None));
}
