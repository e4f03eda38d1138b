//! Working points of robots written as text: the whole way from the language to the figures.

use std::path::Path;

use super::*;
use crate::{
    design::lower,
    project::{self, Loader},
};

struct OneText(String);

impl Loader for OneText {
    fn load(&self, _: &Path) -> Result<Vec<u8>, String> {
        Ok(self.0.clone().into_bytes())
    }
}

/// The solved robot of a text without errors.
fn solved(text: &str) -> Solved {
    let project = project::open(Path::new("robot.wattle"), &OneText(format!("wattle 1\n{text}")));
    assert_eq!(project.files[0].parse.errors, []);
    let (design, errors) = lower(&project);
    assert_eq!(errors, []);
    Solved::new(Sample { design })
}

const ROVER: &str = r#"
robot "Rover"
battery   PACK   lipo 6S 5000 mAh 20 mohm
fuse      F-MAIN 40 A blade { resistance 2 mohm }
contactor K      24 V 100 A { coil 0.4 A; voltage 60 V }
switch    KEY    2 A
driver    D      6 V .. 30 V 25 A { current-limit 25 A }
motor     M      12 V 6 A { stall 48 A }
light     EYES   24 V 0.5 A

wire W1 PACK.pos    to F-MAIN.line 10 AWG red 200 mm
wire W2 F-MAIN.load to K.1         10 AWG red 200 mm
wire W3 K.2         to D.pos       10 AWG red 300 mm
wire W4 D.neg       to PACK.neg    10 AWG black 500 mm
wire W5 F-MAIN.load to KEY.1       22 AWG red 300 mm
wire W6 KEY.2       to K.A1        22 AWG red 300 mm
wire W7 K.A2        to PACK.neg    22 AWG black 300 mm
wire W8 D.m1a       to M.a         14 AWG red 1 m
wire W9 M.b         to D.m1b       14 AWG black 1 m
wire W10 D.pos      to EYES.pos    22 AWG red
wire W11 EYES.neg   to D.neg       22 AWG black
"#;

#[test]
fn derived_modes_are_solved() {
    let robot = solved(ROVER);
    let off = robot.point("off", Charge::Full);
    assert!(is_nothing(robot.given(off, "PACK")));
    let run = robot.point("run", Charge::Empty);
    near(robot.wire(run, 8), 6.0, 1e-5);
    let bus = robot.volts(run, "D.pos", "D.neg");
    // And the leakage of 1 MΩ across the driver.
    near(robot.drawn(run, "D"), 12.0 * 6.0 / 0.95 / bus + bus * 1e-6, 1e-9);
    let total = robot.drawn(run, "D") + robot.drawn(run, "K") + robot.drawn(run, "EYES");
    near(robot.given(run, "PACK"), total, 1e-9);
    // The motor is at its driver's limit of 25 A; its winding is 12 V / 48 A.
    let stall = robot.point("stall", Charge::Nominal);
    near(robot.wire(stall, 9), 25.0, 1e-5);
    near(robot.volts(stall, "M.a", "M.b"), 25.0 * 12.0 / 48.0, 1e-5);
    assert_eq!([run.ordinary, stall.ordinary], [true, false]);
}

#[test]
fn a_pushed_rover_lights_up_and_keeps_its_contactor_out() {
    let robot = solved(ROVER);
    let pushed = robot.point("pushed", Charge::Nominal);
    // A motor pushed as fast as it drives gives its rated 12 V, less two freewheel diodes.
    let bus = robot.volts(pushed, "D.pos", "D.neg");
    assert!(bus > 10.0 && bus <= 10.6, "{bus}");
    let main = robot.topology.inside(robot.thing("K")).nth(1).unwrap().0;
    assert_eq!(pushed.is_closed(main), Some(false));
}

#[test]
fn wires_without_a_length_are_told_and_cost_two_crimps() {
    let robot = solved(ROVER);
    let told = "2 wires had no length: their drop is not in the figures (`W10`, `W11`)";
    assert_eq!(robot.figures.assumptions, [told]);
    let run = robot.point("run", Charge::Nominal);
    let drop = run.wire_drop(&robot.topology, WireId(9)).unwrap();
    near(drop.0, robot.wire(run, 10) * 0.2e-3, 1e-6);
}

#[test]
fn ten_gauge_and_aluminium_have_their_resistance() {
    let text = "
        battery PACK 24 V 20 mohm
        load L 24 V 10 A
        wire W1 PACK.pos to L.pos 10 AWG red 2 m
        wire W2 L.neg to PACK.neg 10 AWG black 2 m aluminium
    ";
    let robot = solved(text);
    let run = robot.point("run", Charge::Nominal);
    let [copper, aluminium] =
        [0, 1].map(|wire| run.wire_drop(&robot.topology, WireId(wire)).unwrap().0 / 10.0);
    // 3.277 mΩ/m for 10 AWG at 20 °C (ASTM B258 diameter, IACS copper), and two crimps of 0.1 mΩ.
    near(copper, 2.0 * 3.277e-3 + 0.2e-3, 3e-4);
    near(aluminium - 0.2e-3, (copper - 0.2e-3) / 0.61, 1e-9);
}

/// What the coil of a relay in air of so many degrees draws from a full pack when it has stayed on.
fn warm_coil_current(air: i32, more: &str) -> f64 {
    let robot = solved(&format!(
        "robot \"Hut\" {{ ambient {air} degC }}\nbattery PACK lipo 6S 5000 mAh 20 mohm\n\
         relay K 24 V 10 A {{ coil 100 mA{more} }}\nwire W1 PACK.pos to K.A1 16 AWG red 100 mm\n\
         wire W2 K.A2 to PACK.neg 16 AWG black 100 mm\n"
    ));
    let run = robot.sample.design.modes.iter().position(|mode| mode.name == "run").unwrap();
    let hot = Corner { conductors: Warmth::Hot, ..Corner::of(Charge::Full) };
    let at = robot.figures.position(ModeId(run as u32), hot).unwrap();
    robot.wire(&robot.figures.points[at], 1)
}

#[test]
fn a_coil_that_stays_on_is_40_k_warmer_than_its_own_air() {
    // 25.2 V over 240 Ω · (234.5 + T) / 254.5 (FAA AC 43.13-1B p. 11-22), leads and pack left out.
    for air in [10, 40, 70] {
        let expected = 25.2 / (240.0 * (274.5 + f64::from(air)) / 254.5);
        let found = warm_coil_current(air, "");
        assert!((found / expected - 1.0).abs() < 1e-3, "{air} {found} {expected}");
    }
    // Electronics that watch the voltage let go close below it: no copper decides.
    let watching = warm_coil_current(40, "; operate 20 V; release 18 V");
    assert!((watching / 0.105 - 1.0).abs() < 1e-3, "{watching}");
}
