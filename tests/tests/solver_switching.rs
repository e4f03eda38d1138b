//! Contacts that follow coils, and converters whose inputs follow their outputs.
#![allow(clippy::unwrap_used, reason = "a test stops where it fails")]

use proptest::prelude::*;
use wattle_grammar::quantity::{Amps, Ohms, Share, Volts};
use wattle_linter::network::{
    Converter, Element, ElementId, Follower, Law, Network, Solver, Unsolved, Working, solve,
};
use wattle_tests::random_network::{Numbers, element, power_load, resistor, robot_network, source};

fn assert_near(figure: f64, expected: f64) {
    assert!((figure - expected).abs() <= 1e-8 * expected.abs().max(1e-3), "{figure} instead of {expected}");
}

/// A contact that operates at 8 V and releases below 3 V.
fn follower(coil: u32, contact: u32, normally_closed: bool) -> Follower {
    Follower {
        coil: ElementId(coil),
        contact: ElementId(contact),
        normally_closed,
        operate: Volts(8.0),
        release: Volts(3.0),
        closed: Ohms(0.01),
        begins_operated: false,
    }
}

fn relays(nodes: u32, elements: Vec<Element>, followers: Vec<Follower>) -> Network {
    Network { nodes, elements, followers, ..Network::default() }
}

/// A coil straight on a source; its contact is in series with a lamp.
fn lamp_relay(volts: f64, normally_closed: bool) -> Network {
    let elements = vec![
        element(1, 0, source(volts, 0.1)),
        element(1, 0, resistor(100.0)),
        element(1, 2, Law::Open),
        element(2, 0, resistor(50.0)),
    ];
    relays(3, elements, vec![follower(1, 2, normally_closed)])
}

#[test]
fn a_contact_follows_its_coil_with_hysteresis() {
    let mut solver = Solver::new(&lamp_relay(0.0, false));
    let mut working = Working::default();
    let mut seen = Vec::new();
    for volts in [0.0, 5.0, 9.0, 5.0, 2.0, 5.0, -9.0] {
        working = solver.solve(&lamp_relay(volts, false), Some(&working)).unwrap();
        seen.push(working.closed[0]);
    }
    assert_eq!(seen, [false, false, true, true, false, false, true]);
}

#[test]
fn a_break_contact_opens_and_nothing_flows() {
    let at_rest = solve(&lamp_relay(2.0, true), None).unwrap();
    assert_near(at_rest.amps[3], (2.0 / (1.0 + 0.1 * (1.0 / 100.0 + 1.0 / 50.01))) / 50.01);
    let operated = solve(&lamp_relay(12.0, true), None).unwrap();
    assert_eq!((operated.amps[3], operated.closed[0]), (0.0, false));
}

#[test]
fn a_break_contact_that_feeds_its_own_coil_chatters() {
    // A lamp contact of the same relay goes along; that of a quiet relay does not.
    let elements = vec![
        element(1, 0, source(12.0, 0.1)),
        element(1, 2, Law::Open),
        element(2, 0, resistor(100.0)),
        element(1, 3, Law::Open),
        element(3, 0, resistor(50.0)),
        element(1, 0, resistor(100.0)),
        element(1, 3, Law::Open),
    ];
    let followers = vec![follower(2, 1, true), follower(5, 6, true), follower(2, 3, false)];
    assert_eq!(solve(&relays(4, elements, followers), None), Err(Unsolved::Chatter(vec![0, 2])));
}

#[test]
fn a_relay_whose_load_starves_its_coil_chatters() {
    // The contact puts 1 Ω on a source of 2 Ω: 12 V fall to 4 V at the coil, which keeps it; at 0.5 Ω it lets go.
    let with = |load: f64| {
        let elements = vec![
            element(1, 0, source(12.0, 2.0)),
            element(1, 0, resistor(1000.0)),
            element(1, 2, Law::Open),
            element(2, 0, resistor(load)),
        ];
        solve(&relays(3, elements, vec![follower(1, 2, false)]), None)
    };
    assert!(with(1.0).unwrap().closed[0]);
    assert_eq!(with(0.5), Err(Unsolved::Chatter(vec![0])));
}

#[test]
fn a_relay_holds_itself_after_the_button_is_let_go() {
    let at = |button: Law| {
        let elements = vec![
            element(1, 0, source(12.0, 0.1)),
            element(1, 2, button),
            element(1, 2, Law::Open),
            element(2, 0, resistor(100.0)),
        ];
        relays(3, elements, vec![follower(3, 2, false)])
    };
    let (pressed, released) = (at(resistor(0.01)), at(Law::Open));
    let mut solver = Solver::new(&pressed);
    assert!(!solver.solve(&released, None).unwrap().closed[0]);
    let held = solver.solve(&pressed, None).unwrap();
    let after = solver.solve(&released, Some(&held)).unwrap();
    assert!(held.closed[0] && after.closed[0]);
    assert_near(after.amps[3], 12.0 / 100.11);
}

#[test]
fn of_two_relays_that_lock_each_other_out_the_first_wins() {
    let elements = vec![
        element(1, 0, source(12.0, 0.1)),
        element(1, 2, Law::Open),
        element(2, 0, resistor(100.0)),
        element(1, 3, Law::Open),
        element(3, 0, resistor(100.0)),
    ];
    let followers = vec![follower(4, 1, true), follower(2, 3, true)];
    let working = solve(&relays(4, elements, followers), None).unwrap();
    // Follower 0 belongs to the coil of element 4 and is the first in the list.
    assert_eq!(working.closed, [false, true]);
}

#[test]
fn a_chain_of_relays_comes_to_rest() {
    // Each relay's contact feeds the next one's coil.
    let mut elements = vec![element(1, 0, source(24.0, 0.1))];
    let mut followers = Vec::new();
    for relay in 0..20u32 {
        let (feed, contact) = (if relay == 0 { 1 } else { relay + 1 }, relay + 2);
        elements.push(element(feed, 0, resistor(200.0)));
        elements.push(element(1, contact, Law::Open));
        followers.push(follower(1 + 2 * relay, 2 + 2 * relay, false));
    }
    let working = solve(&relays(22, elements, followers), None).unwrap();
    assert!(working.closed.iter().all(|closed| *closed));
}

#[test]
fn a_contact_of_no_resistance_is_still_a_contact() {
    let mut network = lamp_relay(12.0, false);
    network.followers[0].closed = Ohms(0.0);
    let working = solve(&network, None).unwrap();
    assert_near(working.amps[2], working.volts[1] / 50.0);
    assert!(working.residual <= 1e-9 * working.amps[0].abs());
}

/// A converter from element `input` to element `output`.
fn converter(input: u32, output: u32, output_volts: f64) -> Converter {
    Converter {
        input: ElementId(input),
        output: ElementId(output),
        efficiency: Share(0.9),
        linear: false,
        quiescent: Amps(0.01),
        output_volts: Volts(output_volts),
        dropout: Volts(1.0),
        lowest_input: Volts(output_volts + 1.0),
    }
}

fn output(limit: f64) -> Law {
    Law::LimitedSource { emf: Volts(0.0), resistance: Ohms(0.02), limit: Amps(limit), sinks: false }
}

/// A battery, a converter at nodes 1 and 2, and a load of `ohms` at its output.
fn regulated(emf: f64, ohms: f64, load: f64, converter: Converter) -> Network {
    let elements = vec![
        element(1, 0, source(emf, ohms)),
        element(1, 0, power_load(0.0, 3.0)),
        element(2, 0, output(10.0)),
        element(2, 0, resistor(load)),
    ];
    Network { nodes: 3, elements, converters: vec![converter], ..Network::default() }
}

/// The input voltage at which `watts` and `amps` besides are drawn from a source. From
/// `v² - (E - R i) v + R P = 0`, textbook algebra.
fn input_volts(emf: f64, ohms: f64, watts: f64, amps: f64) -> f64 {
    let free = emf - ohms * amps;
    0.5 * (free + (free * free - 4.0 * ohms * watts).sqrt())
}

proptest! {
    #[test]
    fn a_converter_draws_what_it_gives(emf in 8.0f64..40.0, ohms in 0.01f64..0.3, load in 1.0f64..50.0) {
        let working = solve(&regulated(emf, ohms, load, converter(1, 2, 5.0)), None).unwrap();
        let amps = 5.0 / (load + 0.02);
        let given = amps * amps * load;
        assert_near(working.volts[2], amps * load);
        assert_near(working.volts[1], input_volts(emf, ohms, given / 0.9, 0.01));
        prop_assert!(working.running[0] && working.below_cutoff.is_empty());
    }

    #[test]
    fn a_linear_regulator_draws_the_current_that_it_gives(emf in 8.0f64..20.0, ohms in 0.01f64..0.5, load in 2.0f64..50.0) {
        let converter = Converter { linear: true, ..converter(1, 2, 5.0) };
        let working = solve(&regulated(emf, ohms, load, converter), None).unwrap();
        let amps = 5.0 / (load + 0.02);
        assert_near(working.amps[1], amps + 0.01);
        assert_near(working.volts[1], emf - ohms * (amps + 0.01));
    }

    #[test]
    fn a_regulator_in_dropout_passes_the_input_on(emf in 5.0f64..5.9, load in 5.0f64..50.0) {
        // v_in = E - R (i + i_q), v_out = v_in - 1 V - 0.02 Ω · i, i = v_out / load.
        let converter = Converter { linear: true, lowest_input: Volts(2.0), ..converter(1, 2, 5.0) };
        let working = solve(&regulated(emf, 0.2, load, converter), None).unwrap();
        let amps = (emf - 0.2 * 0.01 - 1.0) / (load + 0.02 + 0.2);
        assert_near(working.volts[2], amps * load);
    }

    #[test]
    fn two_converters_in_a_row_multiply_their_losses(emf in 18.0f64..30.0, ohms in 0.01f64..0.2, load in 2.0f64..20.0) {
        let elements = vec![
            element(1, 0, source(emf, ohms)),
            element(1, 0, power_load(0.0, 3.0)),
            element(2, 0, output(10.0)),
            element(2, 0, power_load(0.0, 3.0)),
            element(3, 0, output(10.0)),
            element(3, 0, resistor(load)),
        ];
        let converters = vec![converter(1, 2, 12.0), converter(3, 4, 5.0)];
        let network = Network { nodes: 4, elements, converters, ..Network::default() };
        let working = solve(&network, None).unwrap();
        let amps = 5.0 / (load + 0.02);
        let middle = input_volts(12.0, 0.02, amps * amps * load / 0.9, 0.01);
        assert_near(working.volts[2], middle);
        let given = middle * (12.0 - middle) / 0.02;
        // Their difference of nearby voltages costs digits.
        prop_assert!((working.volts[1] - input_volts(emf, ohms, given / 0.9, 0.01)).abs() < 1e-6);
    }
}

/// A robot with converters between its plus bar and rails of their own, and relays anywhere whose contacts put loads on.
fn switching_robot(nodes: u32, seed: u64) -> Network {
    let mut numbers = Numbers(seed);
    let mut network = robot_network(nodes, 0.5, seed);
    let mut rails = vec![1];
    for _ in 0..numbers.below(5) {
        let (input, rail) = (network.elements.len() as u32, network.nodes);
        let from = rails[numbers.below(rails.len() as u32) as usize];
        network.nodes += 1;
        network.elements.push(element(from, 0, power_load(0.0, 3.0)));
        network.elements.push(element(rail, 0, output(numbers.between(0.5, 20.0))));
        network.elements.push(element(rail, 0, power_load(numbers.between(0.0, 30.0), 4.0)));
        let linear = numbers.below(3) == 0;
        network
            .converters
            .push(Converter { linear, ..converter(input, input + 1, numbers.between(3.0, 20.0)) });
        rails.push(rail);
    }
    for _ in 0..numbers.below(6) {
        let coil = network.elements.len() as u32;
        let mut rail = || rails[numbers.below(rails.len() as u32) as usize];
        let (feed, from, to) = (rail(), rail(), network.nodes);
        network.nodes += 1;
        network.elements.push(element(feed, 0, resistor(200.0)));
        network.elements.push(element(from, to, Law::Open));
        network.elements.push(element(
            to,
            if numbers.below(2) == 0 { 0 } else { feed },
            resistor(numbers.decade(0.0, 3.0)),
        ));
        network.followers.push(follower(coil, coil + 1, numbers.below(2) == 0));
    }
    network
}

proptest! {
    #[test]
    fn robots_with_relays_and_converters_come_to_rest(nodes in 4u32..100, seed: u64) {
        let network = switching_robot(nodes, seed);
        match solve(&network, None) {
            Ok(working) => {
                let largest = working.amps.iter().fold(0.0f64, |most, amps| most.max(amps.abs()));
                prop_assert!(working.residual <= 1e-9 * largest);
                for converter in &network.converters {
                    let watts = |number: ElementId| {
                        let element = &network.elements[number.0 as usize];
                        let volts = working.volts[element.a.0 as usize] - working.volts[element.b.0 as usize];
                        volts * working.amps[number.0 as usize]
                    };
                    prop_assert!(watts(converter.input) >= -watts(converter.output) - 1e-6 * largest);
                }
            }
            // One in some ten thousand of these does not settle within its bounds, and says so.
            Err(Unsolved::Overdrawn(_) | Unsolved::Chatter(_) | Unsolved::Unsettled(_)) => {}
            Err(other) => prop_assert!(false, "{:?}", other),
        }
    }
}

#[test]
fn hardly_a_robot_with_relays_and_converters_is_given_up() {
    let networks: Vec<Network> = (0..500).map(|seed| switching_robot(40, seed)).collect();
    let mut solved = 0;
    for network in &networks {
        match solve(network, None) {
            Ok(working) => {
                solved += 1;
                assert_eq!(solve(network, Some(&working)).unwrap().closed, working.closed);
            }
            Err(error) => assert!(!matches!(error, Unsolved::Unsettled(_) | Unsolved::NotFinite(_))),
        }
    }
    assert!(solved > 300, "{solved} of 500 solved");
}

#[test]
fn a_converter_below_its_lowest_input_is_off() {
    let working = solve(&regulated(5.5, 0.1, 10.0, converter(1, 2, 5.0)), None).unwrap();
    assert_eq!((working.running[0], working.volts[1], working.amps[3]), (false, 5.5, 0.0));
}

#[test]
fn a_converter_that_pulls_its_own_input_down_is_overdrawn() {
    // 5 V on 1 Ω is 25 W; 12 V behind 2 Ω carry 18 W at most.
    let over = solve(&regulated(12.0, 2.0, 1.0, converter(1, 2, 5.0)), None);
    assert_eq!(over, Err(Unsolved::Overdrawn(vec![ElementId(1)])));
    // 7 V behind 0.5 Ω would carry 11 W at 6.1 V, but the converter stops at 6.5 V.
    let stops = Converter { lowest_input: Volts(6.5), ..converter(1, 2, 5.0) };
    let over = solve(&regulated(7.0, 0.5, 2.5, stops), None);
    assert_eq!(over, Err(Unsolved::Overdrawn(vec![ElementId(1)])));
}

#[test]
fn a_collapsed_converter_is_off_and_its_load_dead() {
    let network = regulated(12.0, 2.0, 1.0, converter(1, 2, 5.0));
    let working = Solver::new(&network).solve_collapsed(&network, None).unwrap();
    assert_eq!((working.running[0], working.amps[3], working.volts[1]), (false, 0.0, 12.0));
}

#[test]
fn a_converter_at_its_limit_gives_the_limit() {
    let mut network = regulated(12.0, 0.1, 0.5, converter(1, 2, 5.0));
    network.elements[2].law = output(4.0);
    let working = solve(&network, None).unwrap();
    assert_near(working.volts[2], 2.0);
    assert_near(working.volts[1], input_volts(12.0, 0.1, 8.0 / 0.9, 0.01));
}

#[test]
fn a_converter_carries_on_from_a_neighbouring_solution() {
    let network = |emf: f64| regulated(emf, 0.1, 5.0, converter(1, 2, 5.0));
    let mut solver = Solver::new(&network(12.0));
    let full = solver.solve(&network(12.0), None).unwrap();
    let empty = solver.solve(&network(9.0), Some(&full)).unwrap();
    let fresh = solve(&network(9.0), None).unwrap();
    assert_near(empty.volts[1], fresh.volts[1]);
    assert!(empty.rounds < fresh.rounds);
}

#[test]
fn a_relay_fed_by_a_converter_switches_a_converters_load() {
    // The 12 V rail operates a relay that puts the load of the 5 V rail on.
    let elements = vec![
        element(1, 0, source(24.0, 0.1)),
        element(1, 0, power_load(0.0, 3.0)),
        element(2, 0, output(10.0)),
        element(2, 0, resistor(100.0)),
        element(2, 3, Law::Open),
        element(3, 0, resistor(4.0)),
    ];
    let network = Network {
        nodes: 4,
        elements,
        followers: vec![follower(3, 4, false)],
        converters: vec![converter(1, 2, 12.0)],
    };
    let working = solve(&network, None).unwrap();
    let load = 1.0 / (1.0 / 100.0 + 1.0 / 4.01);
    assert!(working.closed[0]);
    assert_near(working.volts[2], 12.0 * load / (load + 0.02));
}

#[test]
fn references_that_lead_nowhere_are_named() {
    let mut network = lamp_relay(12.0, false);
    network.followers[0].coil = ElementId(99);
    assert_eq!(solve(&network, None), Err(Unsolved::NotFinite(ElementId(2))));
    let not_a_load = converter(0, 2, 5.0);
    let network = regulated(12.0, 0.1, 5.0, not_a_load);
    assert_eq!(solve(&network, None), Err(Unsolved::NotFinite(ElementId(0))));
}
