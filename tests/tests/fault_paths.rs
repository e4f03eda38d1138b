//! Fault currents where several sources meet, against what Ohm's law says of each by hand.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on may say so by a panic")]

use wattle_grammar::quantity::{Amps, Celsius, Metres};
use wattle_linter::{
    analysis::Analysis,
    physics::conductor,
    protection::{DeviceProtection, Protection, Verdict, WireProtection},
    trace::Weakest,
};
use wattle_tests::memory;

/// Full voltage of six lead-acid cells (grammar/REFERENCE.md, Chemistries).
const FULL: f64 = 6.0 * 2.4;

fn analysed(robot: &str) -> (Analysis, Protection) {
    let head = "wattle 1\nrobot \"Paths\" { ambient 30 degC; insulation 105 degC; profile boat }\n";
    let analysis = memory::analyse(&format!("{head}{robot}"));
    assert!(analysis.verdict.errors.is_empty(), "{:?}", analysis.verdict.errors);
    let protection = analysis.protection().clone();
    (analysis, protection)
}

fn wire<'a>(found: &'a (Analysis, Protection), name: &str) -> &'a WireProtection {
    let (id, _) = found.0.design.wires().find(|(_, wire)| wire.name == name).unwrap();
    found.1.wire(id).unwrap()
}

fn device<'a>(found: &'a (Analysis, Protection), name: &str) -> &'a DeviceProtection {
    found.1.devices.iter().find(|one| found.0.design.thing(one.device.thing).name == name).unwrap()
}

/// Cold, with a crimp of 0.1 mΩ at either end.
fn ohms(gauge: i32, metres: f64) -> f64 {
    conductor::resistance(conductor::awg_area(gauge), Metres(metres), Celsius(20.0)).0 + 0.2e-3
}

fn near(found: f64, expected: f64) -> bool {
    (found / expected - 1.0).abs() < 1e-9
}

/// What comes home to one pack is not lost because the other pack is what would draw the most.
#[test]
fn every_pack_in_parallel_has_a_way_home() {
    let found = analysed(
        "battery A, B lead-acid 6S 20 Ah 10 mohm\nfuse FA, FB 20 A blade\nstud BUS, NEG\nload L 12 V 1 A\n\
         tie A.pos to FA.line\ntie B.pos to FB.line\nwire W1 FA.load to BUS 10 AWG red 200 mm\n\
         wire W2 FB.load to BUS 10 AWG red 200 mm\nwire W3 A.neg to NEG 10 AWG black 200 mm\n\
         wire W4 B.neg to NEG 10 AWG black 200 mm\nwire W5 BUS to L.pos 14 AWG red 200 mm\n\
         wire W6 L.neg to NEG 14 AWG black 200 mm\n",
    );
    for name in ["W3", "W4"] {
        let home = wire(&found, name);
        assert!(home.highest.amps.0 > 0.0 && home.ways.iter().any(|way| way.homeward), "{name}: {home:?}");
        assert_ne!(home.verdict, Verdict::Unfed, "{name}");
    }
}

/// A spare pack of half the voltage behind a diode: it adds to a short on the bar, where the voltage is gone, and takes
/// nothing from one at the end of a wire, where the bar stays above it.
#[test]
fn a_diode_lets_nothing_back_into_a_weaker_pack() {
    let found = analysed(
        "battery MAIN lead-acid 12S 20 Ah 20 mohm\nbattery SPARE lead-acid 6S 20 Ah 20 mohm\ndiode D 100 A\n\
         stud BUS, NEG\nload L 24 V 1 A\ntie MAIN.pos to BUS\ntie SPARE.pos to D.anode\ntie D.cathode to BUS\n\
         tie MAIN.neg to NEG\ntie SPARE.neg to NEG\nwire W1 BUS to L.pos 16 AWG red 2 m\n\
         wire W2 L.neg to NEG 16 AWG black 2 m\n",
    );
    let branch = wire(&found, "W1");
    // The slope of a diode is 10 mΩ.
    assert!(near(branch.highest.amps.0, 2.0 * FULL / 0.020 + FULL / 0.030), "{branch:?}");
    assert!(near(branch.highest_at_far_end.amps.0, 2.0 * FULL / (0.020 + ohms(16, 2.0))), "{branch:?}");
}

/// A fuse with a second way round it that ends in a diode: the diode lets nothing back, so the fuse carries all.
#[test]
fn a_diode_in_a_ring_takes_nothing_from_the_branch_beside_it() {
    let found = analysed(
        "battery A lead-acid 6S 20 Ah 20 mohm\nfuse F 5 A blade\ndiode D 30 A\nstud BUS, Y, NEG\nload L 12 V 1 A\n\
         tie A.pos to BUS\ntie A.neg to NEG\ntie F.line to BUS\nwire W1 F.load to D.anode 10 AWG red 200 mm\n\
         tie D.cathode to Y\nwire W2 BUS to Y 10 AWG red 200 mm\nwire W3 Y to L.pos 14 AWG red 300 mm\n\
         wire W4 L.neg to NEG 14 AWG black 300 mm\n",
    );
    // A fuse without a stated resistance drops 0.1 V at its rating: 20 mΩ.
    let branch = wire(&found, "W1");
    assert!(near(branch.highest.amps.0, FULL / 0.040), "{branch:?}");
    assert!(near(branch.highest_at_far_end.amps.0, FULL / (0.040 + ohms(10, 0.2))), "{branch:?}");
}

/// Of two packs in series the one is named that says nothing of its resistance.
#[test]
fn the_pack_of_a_string_that_lacks_its_resistance_is_named() {
    let found = analysed(
        "battery LOW lead-acid 6S 20 Ah { series-string }\nbattery HIGH lead-acid 6S 20 Ah 10 mohm { series-string }\n\
         fuse F 10 A blade\nload L 24 V 1 A\nwire W1 LOW.pos to HIGH.neg 8 AWG red 100 mm\ntie HIGH.pos to F.line\n\
         wire W2 F.load to L.pos 14 AWG red 300 mm\nwire W3 L.neg to LOW.neg 14 AWG black 300 mm\n",
    );
    let (low, _) = found.0.design.things().find(|(_, thing)| thing.name == "LOW").unwrap();
    assert_eq!(device(&found, "F").highest.usual, Some(low));
}

/// From the side of the pack whose resistance is written 14.4 V / 25 mΩ come for sure, more than the fuse breaks: that
/// more may come from the other side leaves nothing open.
#[test]
fn a_breaking_capacity_that_one_side_surely_exceeds_is_reported() {
    let found = analysed(
        "battery KNOWN lead-acid 6S 20 Ah 20 mohm\nbattery OTHER lead-acid 6S 20 Ah\n\
         fuse F 20 A bolt-down { breaking-capacity 300 A }\nstud BUS, NEG\nload L 12 V 1 A\ntie KNOWN.pos to F.line\n\
         tie F.load to BUS\ntie OTHER.pos to BUS\ntie KNOWN.neg to NEG\ntie OTHER.neg to NEG\n\
         wire W1 BUS to L.pos 14 AWG red 300 mm\nwire W2 L.neg to NEG 14 AWG black 300 mm\n",
    );
    let rule = "protection.breaking-capacity-exceeded";
    let told = found.0.verdict.findings.iter().find(|one| one.rule == rule).unwrap();
    assert_eq!(told.subject, "F");
    assert!(near(told.figures[0].value, FULL / 0.025), "{:?}", told.figures);
}

/// Between what a bimetal surely does not open at and where its limits end it is slowest for the wire at their end.
#[test]
fn a_breaker_is_judged_up_to_where_its_limits_end() {
    let found = analysed(
        "battery A lead-acid 6S 20 Ah 80 mohm\nbreaker CB 30 A thermal\nload L 12 V 1 A\ntie A.pos to CB.line\n\
         wire W1 CB.load to L.pos 10 AWG red 6 m\nwire W2 L.neg to A.neg 10 AWG black 6 m\n",
    );
    // 120 s at 2.55 times its rating, carried to twice that: 30 s. The wire lasts some 11 s.
    let Verdict::TooSlow(slow) = wire(&found, "W1").verdict else {
        unreachable!("{:?}", wire(&found, "W1").verdict)
    };
    assert!(near(slow.amps.0, 2.0 * 2.55 * 30.0) && near(slow.latest.unwrap().0, 30.0), "{slow:?}");
}

/// A regulator that is set high lifts its rail; motors that are not there do not.
#[test]
fn only_turned_motors_lift_a_voltage() {
    let found = analysed(
        "battery A lead-acid 6S 20 Ah 20 mohm\nfuse F1 10 A blade\nregulator R buck 6 V 5 A { supply 8 V .. 30 V }\n\
         fuse F2 5 A blade\nservo V 6 V 0.5 A { stall 2 A }\ntie A.pos to F1.line\n\
         wire W1 F1.load to R.in 14 AWG red 200 mm\nwire W2 R.in-neg to A.neg 14 AWG black 200 mm\n\
         tie R.out to F2.line\nwire W3 F2.load to V.pos 18 AWG red 200 mm\nwire W4 V.neg to R.out-neg 18 AWG black 200 mm\n",
    );
    assert_eq!(device(&found, "F2").raised, None);
}

/// A lamp behind 5 A and one more part behind 20 A, each with a return of its own into a return of both.
fn lamp_and(part: &str) -> (Analysis, Protection) {
    analysed(&format!(
        "battery A lead-acid 6S 20 Ah 20 mohm\nfuse FL 5 A blade\nfuse FX 20 A blade\nstud BUS, NEG\nload L 12 V 1 A\n{part}\n\
         tie A.pos to BUS\ntie BUS to FL.line\ntie BUS to FX.line\nwire W1 FL.load to L.pos 18 AWG red 300 mm\n\
         wire W2 L.neg to NEG 18 AWG black 300 mm\nwire W3 FX.load to X.pos 14 AWG red 300 mm\n\
         wire W4 X.neg to NEG 14 AWG black 300 mm\nwire W5 NEG to A.neg 14 AWG black 200 mm\n"
    ))
}

/// What draws nothing at rest, or sound only, passes a fault current as any load does: its return carries what its own
/// fuse lets pass, and so does the return of both, for which it is the heavier one.
#[test]
fn clamps_capacitors_and_speakers_have_a_way_home() {
    for part in
        ["clamp X 30 V 100 W 11 ohm brake-resistor", "capacitor X 2200 uF 25 V", "speaker X 8 ohm 20 W"]
    {
        let found = lamp_and(part);
        // A fuse without a stated resistance drops 0.1 V at its rating: 5 mΩ.
        let highest = FULL / (0.020 + 0.005 + ohms(14, 0.3));
        let fuse = device(&found, "FX").device.link;
        for name in ["W4", "W5"] {
            let home = wire(&found, name);
            assert_ne!(home.verdict, Verdict::Unfed, "{part}, {name}");
            let [way] = home.ways.as_slice() else { unreachable!("{part}, {name}: {home:?}") };
            assert!(
                way.homeward && way.guard == Weakest::Device(fuse, Amps(20.0)),
                "{part}, {name}: {way:?}"
            );
            assert!(near(home.highest.amps.0, highest), "{part}, {name}: {home:?}");
        }
        let own = &wire(&found, "W2").ways[0];
        assert_eq!(own.guard, Weakest::Device(device(&found, "FL").device.link, Amps(5.0)), "{part}");
    }
}

/// Without any device before it a fault in a part draws all the more: nothing opens for the return either.
#[test]
fn what_hangs_bare_on_a_tap_has_a_way_home() {
    let found = analysed(
        "battery A lead-acid 6S 20 Ah 20 mohm { taps }\nfuse F 5 A blade\nstud NEG\nload L 12 V 1 A\nload X 6 V 0.1 A\n\
         tie A.pos to F.line\nwire W1 F.load to L.pos 18 AWG red 300 mm\nwire W2 L.neg to NEG 18 AWG black 300 mm\n\
         wire W3 A.t3 to X.pos 18 AWG red 300 mm\nwire W4 X.neg to NEG 18 AWG black 300 mm\n\
         wire W5 NEG to A.neg 14 AWG black 200 mm\n",
    );
    let home = wire(&found, "W4");
    assert_eq!(home.verdict, Verdict::NoDevice, "{home:?}");
    let [way] = home.ways.as_slice() else { unreachable!("{home:?}") };
    assert!(way.homeward && way.guard == Weakest::Nothing && way.devices.is_empty(), "{way:?}");
    // Three of six cells, with half the resistance.
    assert!(near(home.highest.amps.0, FULL / 2.0 / (0.010 + ohms(18, 0.3))), "{home:?}");
    // The return of both is told of the one that a device stands before.
    assert_eq!(wire(&found, "W5").ways[0].guard, Weakest::Device(device(&found, "F").device.link, Amps(5.0)));
}
