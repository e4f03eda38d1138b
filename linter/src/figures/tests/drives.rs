//! Drivers and motors in ordinary modes.

use wattle_grammar::{kind::key, quantity::Ohms};

use super::*;
use crate::{
    design::State,
    sample::{R, Yes},
    unfold::{Motor, motor},
};

/// A pack, a main switch, a driver with the given ratings, and a motor on its first channel.
fn driver_robot(driver: &[(&'static str, f64)], motor: &[(&'static str, f64)]) -> Sample {
    let mut sample = Sample::default();
    pack(&mut sample, "PACK");
    sample.thing("switch", "MAIN", &[]);
    let mut ratings = vec![(key::SUPPLY, R(6.0, 30.0))];
    ratings.extend(driver.iter().map(|(key, value)| (*key, N(*value))));
    sample.thing("driver", "D", &ratings);
    let ratings: Vec<_> = motor.iter().map(|(key, value)| (*key, N(*value))).collect();
    sample.thing("motor", "M", &ratings);
    for (from, to) in [("PACK.pos", "MAIN.1"), ("MAIN.2", "D.pos"), ("D.neg", "PACK.neg")] {
        sample.join(from, to);
    }
    sample.wire("D.m1a", "M.a", 1.0, 1.0);
    sample.wire("M.b", "D.m1b", 1.0, 1.0);
    sample
}

/// What leaks across a driver, siemens.
const LEAK: f64 = 1e-6;

const SMALL: &[(&str, f64)] = &[(key::VOLTAGE, 12.0), (key::TYPICAL, 6.0), (key::STALL, 48.0)];

fn run(sample: &mut Sample) {
    sample.mode("run", Level::Typical, &[("MAIN", State::Closed)]);
}

#[test]
fn a_chopper_gives_motor_current_and_draws_motor_power() {
    let mut sample = driver_robot(&[(key::QUIESCENT, 0.05)], SMALL);
    run(&mut sample);
    let robot = Solved::new(sample);
    for charge in Charge::ALL {
        let point = robot.point("run", charge);
        // The leakage that keeps an open motor circuit solvable takes some microampere.
        near(robot.wire(point, 4), 6.0, 1e-5);
        near(robot.wire(point, 5), 6.0, 1e-5);
        near(robot.volts(point, "M.a", "M.b"), 12.0, 1e-5);
        let bus = robot.volts(point, "D.pos", "D.neg");
        near(robot.drawn(point, "D"), 12.0 * 6.0 / 0.95 / bus + 0.05 + bus * LEAK, 1e-9);
        near(robot.given(point, "PACK"), robot.drawn(point, "D"), 1e-9);
    }
}

#[test]
fn a_motor_for_more_than_the_supply_gets_it_straight_through() {
    let mut sample = driver_robot(&[], &[(key::VOLTAGE, 36.0), (key::TYPICAL, 6.0), (key::STALL, 60.0)]);
    run(&mut sample);
    let robot = Solved::new(sample);
    let point = robot.point("run", Charge::Full);
    near(robot.drawn(point, "D"), 6.0, 1e-5);
    near(robot.wire(point, 4), 6.0, 1e-5);
    // It cannot have more volts than the supply has without load.
    assert!(robot.volts(point, "M.a", "M.b") <= 25.2 + 1e-6);
}

#[test]
fn a_supply_that_sags_below_the_motor_passes_straight_through() {
    // 23.9 V / 0.95 is 25.16 V: below the full pack's 25.2 V but above what is left under 20 A.
    let mut sample = driver_robot(&[], &[(key::VOLTAGE, 23.9), (key::TYPICAL, 20.0), (key::STALL, 160.0)]);
    run(&mut sample);
    let robot = Solved::new(sample);
    near(robot.drawn(robot.point("run", Charge::Full), "D"), 20.0, 1e-5);
}

#[test]
fn at_stall_the_limit_flows_in_the_motor_and_less_in_the_battery() {
    let mut sample = driver_robot(
        &[(key::CURRENT_LIMIT, 25.0)],
        &[(key::VOLTAGE, 24.0), (key::TYPICAL, 6.0), (key::STALL, 60.0)],
    );
    sample.mode("stall", Level::Stall, &[("MAIN", State::Closed)]);
    let robot = Solved::new(sample);
    let point = robot.point("stall", Charge::Full);
    near(robot.wire(point, 4), 25.0, 1e-5);
    // 24 V / 60 A = 0.4 Ω; 25² · 0.4 / 0.95 = 263 W.
    near(robot.volts(point, "M.a", "M.b"), 10.0, 1e-5);
    let bus = robot.volts(point, "D.pos", "D.neg");
    near(robot.drawn(point, "D"), 250.0 / 0.95 / bus + bus * LEAK, 1e-9);
    assert!(!point.ordinary);
}

#[test]
fn a_driver_without_power_drives_nothing() {
    let mut sample = driver_robot(&[], SMALL);
    sample.mode("dead", Level::Typical, &[]);
    let robot = Solved::new(sample);
    let point = robot.point("dead", Charge::Full);
    assert!(is_nothing(robot.wire(point, 4)));
    assert!(is_nothing(robot.given(point, "PACK")));
}

#[test]
fn a_motor_behind_an_open_isolation_relay_is_not_driven() {
    let mut sample = driver_robot(&[], SMALL);
    sample.thing("relay", "K", &[(key::COIL_VOLTAGE, N(24.0)), (key::COIL, N(0.1))]);
    sample.thing("switch", "EN", &[]);
    let broken = sample.at("K.11");
    sample.design.wires[3].to.0 = broken;
    for (from, to) in [("K.14", "M.a"), ("PACK.pos", "EN.1"), ("EN.2", "K.A1"), ("K.A2", "PACK.neg")] {
        sample.join(from, to);
    }
    run(&mut sample);
    sample.mode("enabled", Level::Typical, &[("MAIN", State::Closed), ("EN", State::Closed)]);
    let robot = Solved::new(sample);
    assert!(is_nothing(robot.wire(robot.point("run", Charge::Full), 4)));
    assert!(robot.drawn(robot.point("run", Charge::Full), "D") < 26.0 * LEAK);
    near(robot.wire(robot.point("enabled", Charge::Full), 4), 6.0, 1e-5);
}

#[test]
fn two_motors_on_a_channel_add_up_and_a_reversed_one_runs_backwards() {
    let mut sample = driver_robot(&[], SMALL);
    let ratings: Vec<_> = SMALL.iter().map(|(key, value)| (*key, N(*value))).collect();
    sample.thing("motor", "M2", &ratings);
    sample.join("D.m1a", "M2.b");
    sample.join("D.m1b", "M2.a");
    sample.mode("run", Level::Typical, &[("MAIN", State::Closed), ("M2", State::Draws(Level::Typical))]);
    let robot = Solved::new(sample);
    let point = robot.point("run", Charge::Full);
    let total = robot.wire(point, 4) + robot.wire(point, 6);
    near(total, 12.0, 1e-5);
    assert!(robot.drawn(point, "M") > 0.0 && robot.drawn(point, "M2") < 0.0);
}

#[test]
fn a_motor_straight_on_its_supply_draws_either_way_round() {
    let mut sample = Sample::default();
    pack(&mut sample, "PACK");
    sample.thing("motor", "FAN", &[(key::VOLTAGE, N(24.0)), (key::TYPICAL, N(0.5)), (key::STALL, N(4.0))]);
    sample.join("PACK.pos", "FAN.b");
    sample.join("PACK.neg", "FAN.a");
    sample.mode("run", Level::Typical, &[]);
    sample.mode("stall", Level::Stall, &[]);
    let robot = Solved::new(sample);
    near(robot.drawn(robot.point("run", Charge::Nominal), "FAN"), -0.5, 1e-9);
    let winding = 24.0 / 4.0;
    near(robot.given(robot.point("stall", Charge::Nominal), "PACK"), 22.2 / (winding + 0.02 + 0.4e-3), 1e-9);
}

#[test]
fn what_a_motor_does_not_state_is_worked_out() {
    let mut sample = Sample::default();
    sample.thing("motor", "A", &[(key::VOLTAGE, N(24.0)), (key::STALL, N(48.0)), (key::PUSHED, N(15.0))]);
    sample.thing("motor", "B", &[(key::VOLTAGE, N(24.0)), (key::TYPICAL, N(3.0))]);
    sample.thing("motor", "C", &[(key::RESISTANCE, N(2.0))]);
    let of = |name: &str| motor(&sample.design, sample.design.thing(sample.named(name)));
    let all = |volts, winding, stall, pushed| Motor {
        volts: Volts(volts),
        winding: Ohms(winding),
        stall: Amps(stall),
        pushed: Volts(pushed),
    };
    assert_eq!(of("A"), all(24.0, 0.5, 48.0, 15.0));
    assert_eq!(of("B"), all(24.0, 1.0, 24.0, 24.0));
    // No source says what the robot's voltage is: 12 V.
    assert_eq!(of("C"), all(12.0, 2.0, 6.0, 12.0));
}

/// A brushless motor on its driver, the wires of its third lead as given.
fn brushless_robot(third: &[(&str, &str)]) -> Solved {
    let mut sample = Sample::default();
    pack(&mut sample, "PACK");
    sample.thing("driver", "D", &[(key::SUPPLY, R(6.0, 30.0)), (key::BRUSHLESS, Yes)]);
    let ratings = SMALL.iter().map(|(key, value)| (*key, N(*value))).chain([(key::BRUSHLESS, Yes)]);
    sample.thing("motor", "M", &ratings.collect::<Vec<_>>());
    sample.thing("splice", "X", &[]);
    sample.thing("splice", "Y", &[]);
    for (from, to) in [("PACK.pos", "D.pos"), ("D.neg", "PACK.neg")] {
        sample.join(from, to);
    }
    sample.wire("D.m1a", "M.a", 1.0, 1.0);
    sample.wire("M.b", "D.m1b", 1.0, 1.0);
    for (from, to) in third {
        sample.wire(from, to, 1.0, 1.0);
    }
    sample.mode("run", Level::Typical, &[]);
    Solved::new(sample)
}

#[test]
fn a_third_lead_carries_what_the_winding_carries() {
    let robot = brushless_robot(&[("M.c", "X.joint"), ("X.joint", "D.m1c"), ("X.joint", "Y.joint")]);
    let point = robot.point("run", Charge::Full);
    for wire in [3, 4, 5, 6] {
        near(robot.wire(point, wire), 6.0, 1e-5);
    }
    assert!(is_nothing(robot.wire(point, 7)));
    let told =
        "1 brushless motor is computed between two leads: its third is taken to carry the same current (`M`)";
    assert!(robot.figures.assumptions.iter().any(|sentence| sentence == told));
}

#[test]
fn a_third_lead_that_leads_elsewhere_is_left_to_the_network() {
    let nowhere = brushless_robot(&[("M.c", "X.joint")]);
    assert!(is_nothing(nowhere.wire(nowhere.point("run", Charge::Full), 5)));
    let wrong = brushless_robot(&[("M.c", "D.m1a")]);
    near(wrong.wire(wrong.point("run", Charge::Full), 5), 0.0, 1e-9);
}
