//! Pushed robots and lost power: what motors feed, and whether isolation relays let go.

use wattle_grammar::kind::key;

use super::*;
use crate::{
    design::{MateId, State},
    sample::R,
};

/// A pack with a main switch feeds a driver; its motor hangs on it through an isolation relay whose coil is fed from
/// `coil`: the driver's own supply, or the switched control node in front of a diode.
fn isolated_robot(coil: &str) -> Sample {
    let mut sample = Sample::default();
    pack(&mut sample, "PACK");
    sample.thing("socket", "J", &[(key::WAYS, N(2.0))]);
    sample.thing("plug", "P", &[(key::WAYS, N(2.0))]);
    sample.mate("J", "P");
    sample.thing("switch", "MAIN", &[]);
    sample.thing("diode", "D-OR", &[]);
    sample.thing("driver", "D", &[(key::SUPPLY, R(6.0, 30.0)), (key::QUIESCENT, N(0.05))]);
    sample.thing("relay", "K", &[(key::COIL_VOLTAGE, N(24.0)), (key::COIL, N(0.1))]);
    let ratings =
        [(key::VOLTAGE, N(24.0)), (key::TYPICAL, N(6.0)), (key::STALL, N(60.0)), (key::PUSHED, N(20.0))];
    sample.thing("motor", "M", &ratings);
    sample.thing("motor", "FIXED", &[(key::VOLTAGE, N(24.0)), (key::TYPICAL, N(1.0))]);
    for (from, to) in [
        ("PACK.pos", "J.1"),
        ("PACK.neg", "J.2"),
        ("P.1", "MAIN.1"),
        ("MAIN.2", "D-OR.anode"),
        ("D-OR.cathode", "D.pos"),
        ("D.neg", "P.2"),
        ("D.m1a", "K.11"),
        ("K.14", "M.a"),
        ("M.b", "D.m1b"),
        (coil, "K.A1"),
        ("K.A2", "D.neg"),
    ] {
        sample.join(from, to);
    }
    sample.mode("off", Level::Off, &[]);
    sample.mode("run", Level::Typical, &[("MAIN", State::Closed)]);
    sample.mode("pushed", Level::Off, &[("M", State::Turned)]);
    sample
}

const WRONG: &str = "D.pos";
const RIGHT: &str = "MAIN.2";

/// The coil voltage and the driver's supply in mode pushed.
fn pushed(coil: &str) -> (f64, f64) {
    let robot = Solved::new(isolated_robot(coil));
    assert!(robot.drawn(robot.point("run", Charge::Nominal), "M") > 5.9);
    let point = robot.point("pushed", Charge::Nominal);
    let volts = point.coil_volts(&robot.topology, robot.thing("K")).map_or(0.0, |volts| volts.0);
    (volts, robot.volts(point, "D.pos", "D.neg"))
}

#[test]
fn a_coil_on_the_drivers_supply_is_held_in_by_the_motor() {
    let (coil, bus) = pushed(WRONG);
    // 20 V less two freewheel diodes, and little for what the coil and the driver draw.
    near(bus, 20.0 - 1.4, 0.01);
    assert!(coil > 18.0, "{coil}");
}

#[test]
fn a_coil_in_front_of_the_diode_lets_go() {
    let (coil, bus) = pushed(RIGHT);
    assert!(is_nothing(coil) && is_nothing(bus), "{coil} {bus}");
}

#[test]
fn without_a_run_before_it_the_relay_never_pulls_in() {
    let mut sample = isolated_robot(WRONG);
    sample.design.modes.remove(1);
    let robot = Solved::new(sample);
    assert!(is_nothing(robot.volts(robot.point("pushed", Charge::Nominal), "D.pos", "D.neg")));
}

#[test]
fn a_motor_turned_without_isolation_lifts_the_rail_either_way() {
    for reversed in [false, true] {
        let mut sample = Sample::default();
        pack(&mut sample, "PACK");
        sample.thing("switch", "MAIN", &[]);
        sample.thing("driver", "D", &[(key::SUPPLY, R(6.0, 30.0))]);
        sample.thing("motor", "M", &[(key::VOLTAGE, N(24.0)), (key::STALL, N(60.0)), (key::PUSHED, N(20.0))]);
        sample.thing("resistor", "R", &[(key::RESISTANCE, N(1000.0))]);
        let (a, b) = if reversed { ("M.b", "M.a") } else { ("M.a", "M.b") };
        for (from, to) in [
            ("PACK.pos", "MAIN.1"),
            ("MAIN.2", "D.pos"),
            ("D.neg", "PACK.neg"),
            ("D.m1a", a),
            ("D.m1b", b),
            ("D.pos", "R.1"),
            ("D.neg", "R.2"),
        ] {
            sample.join(from, to);
        }
        sample.mode("pushed", Level::Off, &[("M", State::Turned)]);
        let robot = Solved::new(sample);
        let point = robot.point("pushed", Charge::Full);
        // Two diodes of 0.7 V and 10 mΩ, the winding of 0.4 Ω and four wires of two crimps in front of 1 kΩ.
        let path = 0.4 + 0.02 + 4.0 * 0.2e-3;
        near(robot.volts(point, "R.1", "R.2"), (20.0 - 1.4) * 1000.0 / (1000.0 + path), 1e-6);
        assert!(is_nothing(robot.given(point, "PACK")));
    }
}

fn lost(robot: &Solved, lost: &[Lost], turned: &[&str]) -> Point {
    let turned: Vec<_> = turned.iter().map(|name| robot.thing(name)).collect();
    let mut trials = robot.figures.trials(&robot.sample.design, &robot.topology);
    let point = trials.power_lost(lost, &turned, Charge::Nominal).unwrap();
    assert!(point.outcome.is_ok(), "{:?}", point.outcome);
    point
}

#[test]
fn each_way_of_losing_power_begins_with_the_relay_in() {
    let robot = Solved::new(isolated_robot(WRONG));
    for way in [Lost::Thing(robot.thing("MAIN")), Lost::Thing(robot.thing("PACK")), Lost::Mate(MateId(0))] {
        let point = lost(&robot, &[way], &["M"]);
        assert!(robot.volts(&point, "D.pos", "D.neg") > 18.0, "{way:?}");
        assert!(robot.drawn(&point, "M") < 0.0, "the motor gives");
        let still = lost(&robot, &[way], &[]);
        assert!(is_nothing(robot.volts(&still, "D.pos", "D.neg")), "{way:?}");
    }
    let robot = Solved::new(isolated_robot(RIGHT));
    let point = lost(&robot, &[Lost::Thing(robot.thing("MAIN"))], &["M"]);
    assert!(is_nothing(robot.volts(&point, "D.pos", "D.neg")));
}

#[test]
fn with_power_nothing_is_lost_and_no_motor_is_driven() {
    let robot = Solved::new(isolated_robot(RIGHT));
    let point = lost(&robot, &[], &[]);
    assert!(robot.volts(&point, "D.pos", "D.neg") > 20.0);
    assert!(is_nothing(robot.drawn(&point, "M")));
}

#[test]
fn a_changed_mode_begins_with_the_contacts_before_it() {
    // A coil that has 20 % of its voltage left stays in, but does not pull in.
    let mut sample = Sample::default();
    let ratings = [(key::VOLTAGE, N(24.0)), (key::EMPTY, N(5.0)), (key::RESISTANCE, N(0.02))];
    sample.thing("battery", "PACK", &ratings);
    sample.thing("switch", "S", &[]);
    sample.thing("relay", "K", &[(key::COIL_VOLTAGE, N(24.0)), (key::COIL, N(0.1))]);
    for (from, to) in [("PACK.pos", "S.1"), ("S.2", "K.A1"), ("PACK.neg", "K.A2")] {
        sample.join(from, to);
    }
    sample.mode("off", Level::Off, &[]);
    let run = sample.mode("run", Level::Typical, &[("S", State::Closed)]);
    let robot = Solved::new(sample);
    let make = robot.topology.inside(robot.thing("K")).nth(2).unwrap().0;
    let mut trials = robot.figures.trials(&robot.sample.design, &robot.topology);
    let closed = ["off", "run"].map(|mode| {
        let before = robot.point(mode, Charge::Full);
        trials.after(before, run, &robot.sample.design.modes[1], Charge::Empty).is_closed(make)
    });
    assert_eq!(closed, [Some(false), Some(true)]);
}
