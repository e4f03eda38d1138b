//! Packs, chargers, regulators, contactors.

use wattle_grammar::kind::key;

use super::*;
use crate::{
    design::State,
    sample::{R, Yes},
};

#[test]
fn unequal_packs_in_parallel_exchange_current() {
    let mut sample = Sample::default();
    sample.thing("battery", "A", &[(key::VOLTAGE, N(12.6)), (key::RESISTANCE, N(0.03))]);
    sample.thing("battery", "B", &[(key::VOLTAGE, N(11.1)), (key::RESISTANCE, N(0.05))]);
    sample.wire("A.pos", "B.pos", 2.0, 0.3);
    sample.wire("A.neg", "B.neg", 2.0, 0.3);
    sample.mode("off", Level::Off, &[]);
    let robot = Solved::new(sample);
    let point = robot.point("off", Charge::Nominal);
    let expected = (12.6 - 11.1) / (0.03 + 0.05 + 2.0 * ohms(2.0, 0.3));
    near(robot.given(point, "A"), expected, 1e-9);
    near(robot.given(point, "B"), -expected, 1e-9);
    let sources = point.sources(&robot.sample.design, &robot.topology);
    assert_eq!(
        sources.iter().map(|source| source.0).collect::<Vec<_>>(),
        [robot.thing("A"), robot.thing("B")]
    );
}

#[test]
fn a_load_on_a_tap_draws_from_the_cells_below_it_only() {
    let mut sample = Sample::default();
    let ratings =
        [(key::CHEMISTRY, W("lipo")), (key::CELLS, N(3.0)), (key::RESISTANCE, N(0.03)), (key::TAPS, Yes)];
    sample.thing("battery", "PACK", &ratings);
    sample.thing("resistor", "R", &[(key::RESISTANCE, N(10.0))]);
    sample.join("PACK.t2", "R.1");
    sample.join("R.2", "PACK.neg");
    sample.mode("off", Level::Off, &[]);
    let robot = Solved::new(sample);
    let point = robot.point("off", Charge::Full);
    let expected = 2.0 * 4.2 / (10.0 + 2.0 * 0.01 + 2.0 * 0.2e-3);
    near(robot.wire(point, 1), expected, 1e-9);
    assert!(is_nothing(robot.given(point, "PACK")), "the top cell gives nothing");
    let watts = point.source_watts(&robot.topology, robot.thing("PACK")).unwrap();
    near(watts.0, expected * expected * (10.0 + 2.0 * 0.2e-3), 1e-9);
}

#[test]
fn a_charger_charges_with_its_current_and_is_absent_otherwise() {
    let mut sample = Sample::default();
    pack(&mut sample, "PACK");
    let ratings = [(key::CHEMISTRY, W("lipo")), (key::CELLS, N(6.0)), (key::CURRENT, N(5.0))];
    sample.thing("charger", "CHG", &ratings);
    sample.join("CHG.pos", "PACK.pos");
    sample.join("CHG.neg", "PACK.neg");
    sample.mode("charge", Level::Off, &[("CHG", State::Closed)]);
    sample.mode("off", Level::Off, &[]);
    let robot = Solved::new(sample);
    near(robot.given(robot.point("charge", Charge::Empty), "PACK"), -5.0, 1e-9);
    // Full, both stand at 25.2 V and nothing flows.
    assert!(robot.given(robot.point("charge", Charge::Full), "PACK").abs() < 1e-6);
    assert!(is_nothing(robot.given(robot.point("off", Charge::Empty), "PACK")));
}

fn regulated(style: &'static str) -> Solved {
    regulated_from(12.0, 8.0, style)
}

/// 5 V made from a pack of `pack` volts by a regulator that works from `lowest` on.
fn regulated_from(pack: f64, lowest: f64, style: &'static str) -> Solved {
    let mut sample = Sample::default();
    sample.thing("battery", "PACK", &[(key::VOLTAGE, N(pack)), (key::RESISTANCE, N(0.1))]);
    let ratings = [
        (key::OUTPUT, N(5.0)),
        (key::CURRENT, N(3.0)),
        (key::STYLE, W(style)),
        (key::SUPPLY, R(lowest, 30.0)),
        (key::TOLERANCE, N(0.0)),
        (key::QUIESCENT, N(0.01)),
    ];
    sample.thing("regulator", "REG", &ratings);
    sample.thing("controller", "C", &[(key::SUPPLY, R(4.75, 5.25)), (key::TYPICAL, N(2.0))]);
    for (from, to) in
        [("PACK.pos", "REG.in"), ("PACK.neg", "REG.in-neg"), ("REG.out", "C.pos"), ("REG.out-neg", "C.neg")]
    {
        sample.join(from, to);
    }
    sample.mode("run", Level::Typical, &[]);
    Solved::new(sample)
}

/// What 1 MΩ across an input or an output turn into heat.
fn leak(volts: f64) -> f64 {
    volts * volts / 1e6
}

/// A rail that nothing draws from is live all the same.
#[test]
fn an_unloaded_output_stands_at_its_voltage() {
    let mut sample = Sample::default();
    sample.thing("battery", "PACK", &[(key::VOLTAGE, N(14.28)), (key::RESISTANCE, N(0.06))]);
    let ratings = [
        (key::OUTPUT, N(9.79)),
        (key::CURRENT, N(0.895)),
        (key::SUPPLY, R(11.6, 19.2)),
        (key::QUIESCENT, N(0.035)),
        (key::CURRENT_LIMIT, N(1.08)),
    ];
    sample.thing("regulator", "REG", &ratings);
    sample.wire("PACK.pos", "REG.in", 13.3, 0.256);
    sample.wire("PACK.neg", "REG.in-neg", 1.0, 1.31);
    sample.mode("off", Level::Off, &[]);
    let robot = Solved::new(sample);
    for point in &robot.figures.points {
        let volts = robot.volts(point, "REG.out", "REG.out-neg");
        assert!((9.2..10.4).contains(&volts), "{volts}");
    }
}

#[test]
fn a_switching_regulator_balances_powers() {
    let robot = regulated("buck");
    let point = robot.point("run", Charge::Nominal);
    // 85 % by default; the output holds 5 V behind 1 mΩ.
    let output = 2.0 * (5.0 - 2.0 * 1e-3);
    let drawn = robot.drawn(point, "REG");
    let input = robot.volts(point, "REG.in", "REG.in-neg");
    near(drawn * input, (output + leak(5.0)) / 0.85 + 0.01 * input + leak(input), 1e-8);
    near(robot.given(point, "PACK"), drawn, 1e-9);
    near(robot.wire(point, 3), 2.0, 1e-9);
    // Input and output negative are joined inside, and no current leaves through that joint.
    near(robot.wire(point, 4), -2.0, 1e-9);
}

#[test]
fn a_regulator_that_raises_holds_its_output_above_its_input() {
    for style in ["boost", "buck-boost"] {
        let robot = regulated_from(3.7, 2.5, style);
        let point = robot.point("run", Charge::Nominal);
        let output = 2.0 * (5.0 - 2.0 * 1e-3);
        let input = robot.volts(point, "REG.in", "REG.in-neg");
        let given = (output + leak(5.0)) / 0.85;
        near(robot.drawn(point, "REG") * input, given + 0.01 * input + leak(input), 1e-8);
        near(robot.volts(point, "REG.out", "REG.out-neg"), output / 2.0, 1e-6);
    }
}

#[test]
fn a_regulator_of_unknown_range_gives_nothing_from_a_dead_input() {
    for style in ["buck", "boost", "buck-boost", "linear"] {
        let mut sample = Sample::default();
        pack(&mut sample, "PACK");
        sample.thing("switch", "S", &[]);
        let ratings = [(key::OUTPUT, N(5.0)), (key::STYLE, W(style)), (key::QUIESCENT, N(0.03))];
        sample.thing("regulator", "REG", &ratings);
        sample.thing("resistor", "R", &[(key::RESISTANCE, N(10.0))]);
        for (from, to) in [
            ("PACK.pos", "S.1"),
            ("S.2", "REG.in"),
            ("REG.in-neg", "PACK.neg"),
            ("REG.out", "R.1"),
            ("R.2", "REG.out-neg"),
        ] {
            sample.join(from, to);
        }
        sample.mode("off", Level::Off, &[]);
        let robot = Solved::new(sample);
        for charge in Charge::ALL {
            let point = robot.point("off", charge);
            assert!(is_nothing(robot.wire(point, 3)), "{style} {charge:?} {:?}", point.outcome);
        }
    }
}

/// Behind the diode and with an open output its draw is the rounding of two equal voltages over a milliohm.
#[test]
fn an_idle_isolated_regulator_comes_to_rest() {
    let mut sample = Sample::default();
    sample.thing("battery", "PACK", &[(key::VOLTAGE, N(14.5)), (key::RESISTANCE, N(0.02))]);
    sample.thing("diode", "D", &[(key::FORWARD, N(0.4))]);
    let first = [(key::OUTPUT, N(4.32)), (key::SUPPLY, R(7.2, 19.0)), (key::ISOLATED, Yes)];
    sample.thing("regulator", "REG", &first);
    sample.thing("switch", "S", &[]);
    let second = [(key::OUTPUT, N(3.66)), (key::DROPOUT, N(1.5)), (key::QUIESCENT, N(0.039))];
    sample.thing("regulator", "NEXT", &second);
    sample.wire("PACK.pos", "D.anode", 1.31, 0.568);
    sample.wire("D.cathode", "REG.in", 0.205, 0.876);
    sample.wire("REG.in-neg", "PACK.neg", 2.08, 0.68);
    sample.wire("REG.out", "S.1", 0.518, 0.101);
    sample.wire("S.2", "NEXT.in", 0.518, 0.115);
    sample.wire("NEXT.in-neg", "REG.out-neg", 13.3, 0.998);
    sample.mode("off", Level::Off, &[]);
    let robot = Solved::new(sample);
    assert!(robot.figures.points.iter().all(|point| point.outcome.is_ok()));
}

#[test]
fn a_linear_regulator_passes_its_current_on() {
    let robot = regulated("linear");
    let point = robot.point("run", Charge::Nominal);
    let leaks = (robot.volts(point, "REG.in", "REG.in-neg") + 5.0) / 1e6;
    near(robot.drawn(point, "REG"), 2.01 + leaks, 1e-8);
}

/// A contactor of a rated coil voltage whose coil a key switch feeds; the lamp is behind its main contact.
fn contactor_robot(coil_volts: f64) -> Solved {
    let mut sample = Sample::default();
    pack(&mut sample, "PACK");
    sample.thing("switch", "KEY", &[]);
    sample.thing("contactor", "K", &[(key::COIL_VOLTAGE, N(coil_volts)), (key::COIL, N(0.4))]);
    sample.thing("light", "L", &[(key::VOLTAGE, N(24.0)), (key::TYPICAL, N(2.0))]);
    for (from, to) in [
        ("PACK.pos", "KEY.1"),
        ("KEY.2", "K.A1"),
        ("K.A2", "PACK.neg"),
        ("PACK.pos", "K.1"),
        ("K.2", "L.pos"),
        ("L.neg", "PACK.neg"),
    ] {
        sample.join(from, to);
    }
    sample.mode("off", Level::Off, &[]);
    sample.mode("run", Level::Typical, &[("KEY", State::Closed)]);
    Solved::new(sample)
}

#[test]
fn a_contactor_follows_the_solved_voltage_of_its_coil() {
    let robot = contactor_robot(24.0);
    let (off, run) = (robot.point("off", Charge::Full), robot.point("run", Charge::Full));
    assert!(is_nothing(robot.volts(off, "L.pos", "L.neg")));
    assert!(robot.volts(run, "L.pos", "L.neg") > 25.0);
    let coil = run.coil_volts(&robot.topology, robot.thing("K")).unwrap().0;
    near(robot.drawn(run, "K"), coil / 60.0, 1e-9);
    let main = robot.topology.inside(robot.thing("K")).nth(1).unwrap().0;
    assert_eq!([off, run].map(|point| point.is_closed(main)), [Some(false), Some(true)]);
}

#[test]
fn a_contactor_that_is_in_stays_in_while_the_pack_runs_down() {
    // Must-operate is 75 % of 24 V = 18 V: an empty pack would not pull it in, but it lets go below 2.4 V only.
    let robot = contactor_robot(24.0);
    let point = robot.point("run", Charge::Empty);
    let coil = point.coil_volts(&robot.topology, robot.thing("K")).unwrap();
    assert!(coil < Volts(18.0) && coil > Volts(17.9), "{coil:?}");
    assert!(robot.drawn(point, "L") > 1.0);
}

#[test]
fn a_contactor_for_more_than_a_full_pack_never_pulls_in() {
    // 75 % of 36 V is 27 V.
    let robot = contactor_robot(36.0);
    for charge in Charge::ALL {
        assert!(is_nothing(robot.drawn(robot.point("run", charge), "L")), "{charge:?}");
    }
}
