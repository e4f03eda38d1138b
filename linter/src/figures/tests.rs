//! Working points against hand-worked circuits.

mod drives;
mod losses;
mod supplies;
mod tangles;
mod text;

use wattle_grammar::{
    kind::key,
    quantity::{Amps, Share, Volts},
};

use super::*;
use crate::{
    design::{Level, State, ThingId},
    sample::{N, Sample, W},
    topology::Topology,
};

/// A solved sample.
pub(super) struct Solved {
    sample: Sample,
    topology: Topology,
    figures: Figures,
}

impl Solved {
    pub(super) fn new(sample: Sample) -> Self {
        let topology = Topology::build(&sample.design);
        let figures = Figures::solve(&sample.design, &topology);
        Self { sample, topology, figures }
    }

    pub(super) fn thing(&self, name: &str) -> ThingId {
        self.sample.named(name)
    }

    pub(super) fn point(&self, mode: &str, charge: Charge) -> &Point {
        let at = self.sample.design.modes.iter().position(|one| one.name == mode).unwrap();
        let point = self.figures.point(ModeId(at as u32), charge).unwrap();
        assert!(point.outcome.is_ok(), "{mode} {charge:?}: {:?}", point.outcome);
        point
    }

    /// The voltage between two terminals; 0 when nothing joins them.
    pub(super) fn volts(&self, point: &Point, plus: &str, minus: &str) -> f64 {
        let [plus, minus] = [plus, minus].map(|path| self.sample.at(path));
        point.volts_between(&self.topology, plus, minus).map_or(0.0, |volts| volts.0)
    }

    pub(super) fn drawn(&self, point: &Point, name: &str) -> f64 {
        point.drawn_amps(&self.topology, self.thing(name)).unwrap().0
    }

    pub(super) fn given(&self, point: &Point, name: &str) -> f64 {
        point.source_amps(&self.topology, self.thing(name)).unwrap().0
    }

    pub(super) fn wire(&self, point: &Point, number: u32) -> f64 {
        point.amps(LinkId(number - 1)).unwrap().0
    }
}

/// Asserts that two numbers agree to a share.
#[track_caller]
pub(super) fn near(actual: f64, expected: f64, share: f64) {
    assert!((actual - expected).abs() <= share * expected.abs().max(1e-9), "{actual} is not {expected}");
}

/// Nothing but rounding.
pub(super) fn is_nothing(value: f64) -> bool {
    value.abs() < 1e-12
}

/// Resistance of a copper wire with its crimps, worked by hand: 1.7241e-8 Ω m (IACS) and twice 0.1 mΩ.
pub(super) fn ohms(area: f64, length: f64) -> f64 {
    1.7241e-8 * length / (area * 1e-6) + 0.2e-3
}

/// A 6S pack of 20 mΩ: 25.2 V, 22.2 V, 18 V.
pub(super) fn pack(sample: &mut Sample, name: &str) {
    let ratings = [(key::CHEMISTRY, W("lipo")), (key::CELLS, N(6.0)), (key::RESISTANCE, N(0.02))];
    sample.thing("battery", name, &ratings);
}

fn lamp_robot() -> Sample {
    let mut sample = Sample::default();
    pack(&mut sample, "PACK");
    sample.thing("fuse", "F", &[(key::CURRENT, N(10.0)), (key::RESISTANCE, N(0.0077))]);
    sample.thing("light", "L", &[(key::VOLTAGE, N(24.0)), (key::TYPICAL, N(4.0)), (key::PEAK, N(5.0))]);
    sample.wire("PACK.pos", "F.line", 1.0, 0.5);
    sample.wire("F.load", "L.pos", 0.5, 2.0);
    sample.wire("L.neg", "PACK.neg", 0.5, 2.0);
    sample
}

#[test]
fn a_lamp_on_a_pack_drops_what_ohm_says() {
    let mut sample = lamp_robot();
    sample.mode("run", Level::Typical, &[]);
    let robot = Solved::new(sample);
    let point = robot.point("run", Charge::Full);
    near(robot.wire(point, 2), 4.0, 1e-9);
    near(point.wire_drop(&robot.topology, WireId(1)).unwrap().0, 4.0 * ohms(0.5, 2.0), 1e-9);
    let path = 0.02 + 0.0077 + ohms(1.0, 0.5) + 2.0 * ohms(0.5, 2.0);
    near(robot.volts(point, "L.pos", "L.neg"), 25.2 - 4.0 * path, 1e-9);
    near(robot.given(point, "PACK"), 4.0, 1e-9);
    let watts = point.source_watts(&robot.topology, robot.thing("PACK")).unwrap();
    near(watts.0, 4.0 * (25.2 - 4.0 * 0.02), 1e-9);
}

#[test]
fn the_state_of_charge_sets_the_emf() {
    let mut sample = lamp_robot();
    sample.mode("off", Level::Off, &[]);
    let robot = Solved::new(sample);
    let volts = Charge::ALL.map(|charge| robot.volts(robot.point("off", charge), "L.pos", "L.neg"));
    volts.iter().zip([25.2, 22.2, 18.0]).for_each(|(actual, expected)| near(*actual, expected, 1e-9));
}

#[test]
fn a_load_below_its_supply_range_draws_less_in_proportion() {
    let mut sample = lamp_robot();
    sample.mode("run", Level::Typical, &[]);
    let robot = Solved::new(sample);
    // 24 V less 10 % is 21.6 V; an empty pack gives 18 V, so the lamp is 21.6 V / 4 A there.
    let path = 0.02 + 0.0077 + ohms(1.0, 0.5) + 2.0 * ohms(0.5, 2.0);
    near(robot.drawn(robot.point("run", Charge::Empty), "L"), 18.0 / (21.6 / 4.0 + path), 1e-9);
}

#[test]
fn duty_counts_as_root_mean_square_and_stall_not_at_all() {
    let mut sample = lamp_robot();
    sample.mode("stall", Level::Stall, &[]);
    sample.mode("run", Level::Typical, &[]);
    sample.design.modes[1].duty = Share(0.25);
    let robot = Solved::new(sample);
    let worst = robot.figures.worst(WireId(1)).unwrap();
    near(worst.amps.0, 2.0, 1e-9);
    assert_eq!(robot.figures.points[worst.point].mode, ModeId(1));
    // At stall a lamp draws its peak.
    let highest = robot.figures.highest(WireId(1)).unwrap();
    near(highest.amps.0, 5.0, 1e-9);
    assert_eq!(robot.figures.points[highest.point].mode, ModeId(0));
    // The drop is worst where the wire is warm: its copper grows, its two crimps of 0.1 mΩ do not.
    let (drop, at) = robot.figures.worst_drop(&robot.topology, WireId(1)).unwrap();
    let warm = robot.figures.wire_temperature(at, WireId(1)).unwrap();
    let growth = 1.0 + 0.00393 * (warm.0 - 20.0);
    assert!(robot.figures.points[at].corner.conductors == Warmth::Hot && warm.0 > 40.0, "{warm:?}");
    near(drop.0, 4.0 * ((ohms(0.5, 2.0) - 0.2e-3) * growth + 0.2e-3), 1e-6);
}

#[test]
fn what_is_not_written_is_told() {
    let mut sample = Sample::default();
    sample.thing("battery", "PACK", &[(key::CHEMISTRY, W("lipo")), (key::CELLS, N(3.0))]);
    sample.thing("light", "L", &[(key::VOLTAGE, N(12.0))]);
    for _ in 0..4 {
        sample.join("PACK.pos", "L.pos");
    }
    sample.wire("L.neg", "PACK.neg", 1.0, 1.0);
    let robot = Solved::new(sample);
    let expected = [
        "4 wires had no length: their drop is not in the figures (`W1`, `W2`, `W3`, …)",
        "4 wires had no size: their drop is not in the figures (`W1`, `W2`, `W3`, …)",
        "1 battery had no internal resistance: the usual one of its cells is taken (`PACK`)",
        "1 load had no current or power: it draws nothing in the figures (`L`)",
    ];
    assert_eq!(robot.figures.assumptions, expected);
}

#[test]
fn nothing_at_all_has_no_working_points() {
    let robot = Solved::new(Sample::default());
    assert!(robot.figures.points.is_empty() && robot.figures.assumptions.is_empty());
    let mut sample = Sample::default();
    sample.mode("run", Level::Typical, &[]);
    let robot = Solved::new(sample);
    assert_eq!(robot.figures.points.len(), Corner::COUNT);
    assert!(robot.figures.points.iter().all(|point| point.outcome.is_ok()));
}

#[test]
fn a_parted_pair_leaves_its_load_without_a_voltage() {
    let mut sample = Sample::default();
    pack(&mut sample, "PACK");
    sample.thing("socket", "J", &[(key::WAYS, N(2.0))]);
    sample.thing("plug", "P", &[(key::WAYS, N(2.0)), (key::CONTACT_RESISTANCE, N(0.004))]);
    sample.thing("light", "L", &[(key::VOLTAGE, N(24.0)), (key::TYPICAL, N(1.0))]);
    sample.mate("J", "P");
    for (from, to) in [("PACK.pos", "J.1"), ("PACK.neg", "J.2"), ("P.1", "L.pos"), ("P.2", "L.neg")] {
        sample.join(from, to);
    }
    sample.mode("run", Level::Typical, &[]);
    sample.mode("apart", Level::Typical, &[("P", State::Open)]);
    let robot = Solved::new(sample);
    let joined = robot.point("run", Charge::Full);
    // Of 1 mΩ and 4 mΩ the worse half counts, in both ways; four wires of two crimps.
    near(robot.volts(joined, "L.pos", "L.neg"), 25.2 - (0.02 + 2.0 * 0.004 + 4.0 * 0.2e-3), 1e-9);
    let apart = robot.point("apart", Charge::Full);
    let [plus, minus] = ["L.pos", "PACK.neg"].map(|path| robot.sample.at(path));
    assert_eq!(apart.volts_between(&robot.topology, plus, minus), None);
    assert!(is_nothing(robot.drawn(apart, "L")));
}

#[test]
fn a_load_heavier_than_the_source_is_named() {
    let mut sample = Sample::default();
    sample.thing("battery", "PACK", &[(key::VOLTAGE, N(12.0)), (key::RESISTANCE, N(1.0))]);
    // P > E² / 4R = 36 W has no working point.
    let ratings = [(key::VOLTAGE, N(8.0)), (key::POWER, N(40.0)), (key::DRAWS, W("power"))];
    sample.thing("load", "L", &ratings);
    sample.join("PACK.pos", "L.pos");
    sample.join("L.neg", "PACK.neg");
    sample.mode("run", Level::Typical, &[]);
    let robot = Solved::new(sample);
    let point = &robot.figures.points[1];
    let Err(Unsolved::Overdrawn(loads)) = &point.outcome else { panic!("{:?}", point.outcome) };
    let link = point.link_of(loads[0]).unwrap();
    assert_eq!(robot.topology.inside(robot.thing("L")).next().unwrap().0, link);
    assert_eq!(point.amps(link), None);
}

#[test]
fn explicit_amps_win_and_amounts_are_typed() {
    let mut sample = lamp_robot();
    sample.mode("dim", Level::Typical, &[("L", State::Draws(Level::Amps(Amps(0.5))))]);
    let robot = Solved::new(sample);
    let point = robot.point("dim", Charge::Nominal);
    near(robot.drawn(point, "L"), 0.5, 1e-9);
    let pole = point.volts(&robot.topology, robot.sample.at("PACK.pos")).unwrap();
    near(pole.0, 22.2 - 0.5 * 0.02, 1e-9);
    let supply = point.supply_volts(&robot.sample.design, &robot.topology, robot.thing("PACK"));
    assert_eq!(supply, Some(Volts(pole.0)));
}
