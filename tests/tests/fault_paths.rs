//! Fault currents where several sources meet, against what Ohm's law says of each by hand.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on may say so by a panic")]

use std::fmt::Write as _;

use wattle_grammar::quantity::{Amps, Celsius, Metres};
use wattle_linter::{
    analysis::Analysis,
    explained::Amount,
    physics::conductor,
    protection::{Bound, Corner, DeviceProtection, Gap, Protection, Verdict, WireProtection},
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
    assert!(is_told_of(&found, "W1", "upper bound: a diode leads back to where it is fed from"));
    assert_eq!(branch.highest.bound, Some(Bound::Ring));
}

/// The same with four diodes side by side: not every choice of them is looked at, and that is told.
#[test]
fn many_diodes_within_a_ring_give_no_bound() {
    let diodes: String = (1..=4)
        .map(|number| format!("diode D{number} 30 A\ntie D{number}.anode to X\ntie D{number}.cathode to Y\n"))
        .collect();
    let found = analysed(&format!(
        "battery A lead-acid 6S 20 Ah 20 mohm\nfuse F 5 A blade\nstud BUS, X, Y, NEG\nload L 12 V 1 A\n{diodes}\
         tie A.pos to BUS\ntie A.neg to NEG\ntie F.line to BUS\nwire W1 F.load to X 10 AWG red 200 mm\n\
         wire W2 BUS to Y 10 AWG red 200 mm\nwire W3 Y to L.pos 14 AWG red 300 mm\n\
         wire W4 L.neg to NEG 14 AWG black 300 mm\n",
    ));
    assert_eq!(wire(&found, "W1").highest.bound, Some(Bound::Rings));
    assert!(is_told_of(&found, "W1", "not surely the highest"));
}

/// Whether a note on the highest current of a wire begins with some words.
fn is_told_of(found: &(Analysis, Protection), name: &str, words: &str) -> bool {
    let told = found.1.explain_wire(&found.0, wire(found, name).wire);
    told[0].notes.iter().any(|note| note.starts_with(words))
}

/// Two diodes side by side from one pack: each is counted with the whole pack behind it, which is told as a bound; one alone is
/// exact, and so are two that come from two packs.
#[test]
fn diodes_that_are_fed_from_one_place_give_a_bound() {
    let robot = |second: &str| {
        analysed(&format!(
            "battery A lead-acid 6S 20 Ah 20 mohm\nbattery B lead-acid 6S 20 Ah 20 mohm\nstud BUS, OUT, NEG\n\
             diode D1 30 A\ndiode D2 30 A\nload L 12 V 1 A\ntie A.pos to BUS\ntie A.neg to NEG\ntie B.neg to NEG\n\
             tie BUS to D1.anode\ntie D1.cathode to OUT\ntie D2.cathode to OUT\ntie {second} to D2.anode\n\
             wire W1 OUT to L.pos 14 AWG red 300 mm\nwire W2 L.neg to NEG 14 AWG black 300 mm\n"
        ))
    };
    let one_pack = robot("BUS");
    // 14.4 V / 20 mΩ behind two diodes of 10 mΩ side by side would be 576 A; each with the pack to itself is 480 A.
    let lead = wire(&one_pack, "W1");
    assert_eq!(lead.highest.bound, Some(Bound::Diodes));
    assert!(near(lead.highest.amps.0, 2.0 * FULL / 0.030), "{lead:?}");
    assert!(is_told_of(&one_pack, "W1", "upper bound: several diodes"));
    let two_packs = robot("B.pos");
    assert_eq!(wire(&two_packs, "W1").highest.bound, None);
    assert!(near(wire(&two_packs, "W1").highest.amps.0, 2.0 * FULL / 0.030));
    assert!(!is_told_of(&two_packs, "W1", "upper bound"));
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

/// A regulator may give more than it is set to: a fuse behind it has to break that, and the corner is named. What it gives
/// at least is at the other end.
#[test]
fn the_tolerance_of_a_regulator_is_in_the_voltage_across_a_fuse() {
    let robot = |tolerance: &str| {
        analysed(&format!(
            "battery A lead-acid 6S 20 Ah 20 mohm\nfuse F1 10 A blade\nregulator R buck 6 V 50 A {{ supply 8 V .. 30 V{tolerance} }}\n\
             fuse F2 5 A blade\nload V 6 V 0.5 A\ntie A.pos to F1.line\nwire W1 F1.load to R.in 14 AWG red 200 mm\n\
             wire W2 R.in-neg to A.neg 14 AWG black 200 mm\ntie R.out to F2.line\n\
             wire W3 F2.load to V.pos 24 AWG red 2 m\nwire W4 V.neg to R.out-neg 24 AWG black 2 m\n"
        ))
    };
    for (tolerance, off, words) in [
        ("", 0.05, "at the high end of its tolerance of 5 %, common practice"),
        ("; tolerance 2 %", 0.02, "at the high end of its tolerance of 2 %, as stated"),
    ] {
        let found = robot(tolerance);
        let fuse = device(&found, "F2");
        assert!(near(fuse.volts.0, 6.0 * (1.0 + off)) && fuse.raised.is_none(), "{fuse:?}");
        assert!(near(device(&found, "F1").volts.0, FULL));
        let told = found.1.explain_device(&found.0, fuse.device.link);
        let across = told.iter().find(|one| one.what == "voltage across it when it opens").unwrap();
        assert_eq!(across.inputs[0].what, format!("voltage of `R`, {words}, without load"));
        assert!(across.notes.iter().any(|note| note.starts_with("corner: ")), "{across:?}");
        // At least: 1 µΩ of the regulator's own, and out and home what the way says.
        let way = &wire(&found, "W3").ways[0];
        let expected = 6.0 * (1.0 - off) / (1e-6 + way.out.0 + way.back.ohms().0);
        assert!(near(way.lowest.unwrap().0, expected) && expected < 50.0, "{way:?}");
    }
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

/// Two packs on one bar, a balance lead on the second tap of the first.
const TAPPED: &str = "battery A lead-acid 6S 20 Ah 18 mohm { taps }\nbattery B lead-acid 6S 20 Ah 30 mohm\nstud POS\nstud NEG\n\
     load X 4 V 0.1 A\nwire W1 A.pos to POS 6 AWG red 500 mm\nwire W2 B.pos to POS 6 AWG red 400 mm\n\
     wire T A.t2 to X.pos 18 AWG red 300 mm\nwire R X.neg to NEG 18 AWG black 300 mm\ntie A.neg to NEG\ntie B.neg to NEG\n";

/// A short on a tap is fed by the cells below it, and by the pack beside it through the cells above it.
#[test]
fn a_pack_beside_pushes_through_the_cells_above_a_tap() {
    let found = analysed(TAPPED);
    // Two of six cells below: 14.4 V / 3 = 4.8 V behind 18 mΩ / 3 = 6 mΩ, which is 800 A.
    let below = 800.0;
    // Four cells above: 9.6 V against the other pack's 14.4 V. The 4.8 V between drive through its 30 mΩ, both leads
    // (1.04 mΩ of 6 AWG copper and four crimps of 0.1 mΩ) and the 12 mΩ of the four cells: some 111 A.
    let above_ohms = 0.030 + ohms(6, 0.5) + ohms(6, 0.4) + 0.012;
    let above = 4.8 / above_ohms;
    assert!((100.0..120.0).contains(&above), "{above}");
    let tap = wire(&found, "T");
    assert!(near(tap.highest.amps.0, below + above), "{tap:?}");
    // At the far end: both are 4.8 V without load, 6 mΩ and the other side by side, the wire behind them.
    let behind = 0.006 * above_ohms / (0.006 + above_ohms);
    assert!(near(tap.highest_at_far_end.amps.0, 4.8 / (behind + ohms(18, 0.3))), "{tap:?}");
    // A short at the positive pole of the first: its own 14.4 V / 18 mΩ = 800 A through nothing, the other's through both leads.
    let lead = wire(&found, "W1");
    assert!(near(lead.highest.amps.0, FULL / 0.018), "{lead:?}");
    // The least is that of the two cells alone.
    let (lowest, _) = tap.lowest.unwrap();
    assert!(lowest.0 < 10.5 / 3.0 / (0.006 + ohms(18, 0.3)), "{lowest:?}");
    let told = found.1.explain_wire(&found.0, tap.wire);
    let sources: Vec<&str> = told[0]
        .inputs
        .iter()
        .filter(|input| input.symbol.starts_with("U_s"))
        .map(|input| input.what.as_str())
        .collect();
    assert_eq!(sources, ["voltage of `A`, full, without load", "voltage of `B`, full, without load"]);
}

/// Without a pack beside it the cells above a tap give nothing to a short on it.
#[test]
fn a_tap_of_a_pack_alone_is_fed_by_the_cells_below_it() {
    let found = analysed(
        &TAPPED.replace("B.pos to POS", "POS to M.pos").replace("tie B.neg", "motor M 12 V 2 A\ntie M.neg"),
    );
    let tap = wire(&found, "T");
    assert!(near(tap.highest.amps.0, 800.0), "{tap:?}");
    let told = found.1.explain_wire(&found.0, tap.wire);
    assert!(
        told[0].inputs.iter().any(|input| input.what == "voltage of `A.t2`, full, without load"),
        "{told:?}"
    );
}

/// What limits itself beside a pack adds its limit to a short on a tap: an upper bound.
#[test]
fn a_charger_beside_a_pack_adds_its_limit_to_a_short_on_a_tap() {
    let alone = wire(&analysed(TAPPED), "T").highest.amps;
    let found = analysed(&format!("{TAPPED}charger C 14 V 9 A\ntie C.pos to POS\ntie C.neg to NEG\n"));
    let tap = wire(&found, "T");
    assert!(tap.highest.reduced.limits.0 > 0.0 && near(tap.highest.amps.0, alone.0 + 9.0), "{tap:?}");
}

/// Packs in series stand on each other with the wire between them, and what hangs in the middle of one string is fed through
/// the upper pack of it as well.
#[test]
fn a_short_between_two_packs_in_series_is_fed_from_above() {
    let string = |lower: &str, upper: &str| {
        format!(
            "battery {lower} lead-acid 6S 20 Ah 20 mohm\nbattery {upper} lead-acid 6S 20 Ah 40 mohm\n\
             wire W{lower} {lower}.pos to {upper}.neg 6 AWG red 300 mm\ntie {lower}.neg to NEG\n\
             wire W{upper} {upper}.pos to POS 6 AWG red 500 mm\n"
        )
    };
    let load =
        "load X 12 V 1 A\nwire M A.pos to X.pos 18 AWG red 300 mm\nwire R X.neg to NEG 18 AWG black 300 mm\n";
    let one = format!("stud POS\nstud NEG\n{load}{}", string("A", "B"));
    let found = analysed(&one);
    // At the upper positive pole: twice 14.4 V over 20 mΩ, 40 mΩ and the wire between.
    let whole = 0.060 + ohms(6, 0.3);
    assert!(near(wire(&found, "WB").highest.amps.0, 2.0 * FULL / whole), "{:?}", wire(&found, "WB"));
    let sources = |name: &str| -> Vec<String> {
        let told = found.1.explain_wire(&found.0, wire(&found, name).wire);
        let symbols = told[0].inputs.iter().filter(|input| input.symbol.starts_with('U'));
        symbols.map(|input| input.what.clone()).collect()
    };
    assert_eq!(sources("WB"), ["voltage of `B` with what it stands on, full, without load"]);
    assert_eq!(sources("M"), ["voltage of `A`, full, without load"]);
    // In the middle the upper pack gives nothing, for nothing leads back to its positive pole: 14.4 V / 20 mΩ = 720 A.
    assert!(near(wire(&found, "M").highest.amps.0, 720.0), "{:?}", wire(&found, "M"));
    // Against its own negative the upper pack alone gives more where its resistance is small: then it alone is told.
    let strong = analysed(&one.replace("40 mohm", "5 mohm"));
    assert!(near(wire(&strong, "WB").highest.amps.0, FULL / 0.005));
    let told = strong.1.explain_wire(&strong.0, wire(&strong, "WB").wire);
    assert_eq!(told[0].inputs[0].what, "voltage of `B`, full, without load");
    let found = analysed(&format!("{one}{}", string("C", "D")));
    // From above comes what the 28.8 V of the other string drive against the 14.4 V of B: over that string, both leads, B
    // and the wire between B and A.
    let above = FULL / (whole + 2.0 * ohms(6, 0.5) + 0.040 + ohms(6, 0.3));
    assert!((130.0..144.0).contains(&above), "{above}");
    assert!(near(wire(&found, "M").highest.amps.0, 720.0 + above), "{:?}", wire(&found, "M"));
}

/// A contact between two packs in series counts as closed for the worst, both for the current and for the voltage that a fuse
/// has to break; the least that a short draws is told without it.
#[test]
fn packs_in_series_past_a_contact_count_for_the_worst() {
    let found = analysed(
        "battery A lead-acid 6S 20 Ah 20 mohm\nbattery B lead-acid 6S 20 Ah 40 mohm\nswitch S 24 V 50 A\nfuse F 20 A blade\n\
         stud NEG\nload L 24 V 5 A\nwire W1 A.pos to S.1 6 AWG red 300 mm\nwire W2 S.2 to B.neg 6 AWG red 300 mm\n\
         tie B.pos to F.line\nwire W3 F.load to L.pos 14 AWG red 300 mm\nwire W4 L.neg to NEG 14 AWG black 300 mm\n\
         tie NEG to A.neg\n",
    );
    let fuse = device(&found, "F");
    assert!(near(fuse.volts.0, 2.0 * FULL), "{fuse:?}");
    // 28.8 V over 20 mΩ, 40 mΩ, both wires and 1 mΩ of the contact.
    let whole = 0.060 + 2.0 * ohms(6, 0.3) + 0.001;
    assert!(near(fuse.highest.amps.0, 2.0 * FULL / whole), "{fuse:?}");
    // The upper pack alone, empty: 10.5 V.
    let way = &wire(&found, "W3").ways[0];
    assert!(near(way.lowest.unwrap().0, 10.5 / (0.040 + way.out.0 + way.back.ohms().0)), "{way:?}");
}

/// A fuse in a pack with taps stands between the highest tap and the pole: the cells are counted once.
#[test]
fn a_fuse_inside_a_pack_with_taps_stands_in_the_way() {
    let found = analysed(
        "battery A lead-acid 6S 20 Ah 18 mohm { taps; built-in-fuse 30 A }\nstud NEG\nload L 12 V 1 A\n\
         wire W1 A.pos to L.pos 18 AWG red 300 mm\nwire W2 L.neg to NEG 18 AWG black 300 mm\ntie A.neg to NEG\n",
    );
    let fuse = wattle_linter::physics::fuse::cold_resistance(Amps(30.0)).unwrap().0;
    let lead = wire(&found, "W1");
    assert!(near(lead.highest.amps.0, FULL / (0.018 + fuse)), "{lead:?}");
    // Inside: from the cells all that they give, from outside nothing.
    let [side] = device(&found, "A").sides.as_slice() else {
        unreachable!("{:?}", device(&found, "A").sides)
    };
    assert!(near(side.near.amps.0, FULL / 0.018) && near(side.far.amps.0, FULL / (0.018 + fuse)), "{side:?}");
    // The lowest: empty, the fuse as at its rating.
    let (lowest, _) = lead.lowest.unwrap();
    assert!(lowest.0 < 10.5 / (0.018 + fuse + 2.0 * ohms(18, 0.3)), "{lowest:?}");
}

/// A coil at a driver's output and loads behind fuses with and without a rating.
const DRIVEN: &str = "battery P lead-acid 6S 20 Ah 20 mohm\nfuse F 10 A blade\nfuse U blade\nfuse G 2 A blade\nstud NEG\n\
     driver D 12 V 5 A { channels 2 }\nrelay K 12 V 10 A { coil 100 mA }\nmotor M 12 V 2 A\nload L 12 V 1 A\nload N 12 V 1 A\n\
     tie P.pos to F.line\nwire W1 F.load to D.pos 16 AWG red 300 mm\nwire W2 D.neg to NEG 16 AWG black 300 mm\n\
     wire W3 D.m1a to K.A1 22 AWG red 300 mm\nwire W4 K.A2 to NEG 22 AWG black 300 mm\n\
     wire M1 D.m2a to M.a 18 AWG red 300 mm\nwire M2 D.m2b to M.b 18 AWG red 300 mm\n\
     tie P.pos to U.line\nwire W5 U.load to L.pos 18 AWG red 300 mm\nwire W6 L.neg to NEG 18 AWG black 300 mm\n\
     tie P.pos to G.line\nwire W7 G.load to N.pos 18 AWG red 300 mm\nwire W8 N.neg to NEG 18 AWG black 300 mm\n\
     wire W9 NEG to P.neg 12 AWG black 300 mm\n";

/// What hangs on a driver's output comes home to what stands before the driver; a motor between two outputs does not come
/// home past the driver at all.
#[test]
fn a_coil_at_the_output_of_a_driver_has_a_way_home() {
    let found = analysed(DRIVEN);
    let fuse = Weakest::Device(device(&found, "F").device.link, Amps(10.0));
    let home = wire(&found, "W4");
    let [way] = home.ways.as_slice() else { unreachable!("{home:?}") };
    assert!(way.homeward && way.guard == fuse, "{way:?}");
    // The same current as into the coil's own lead, at its far end.
    assert!(near(home.highest.amps.0, wire(&found, "W3").highest_at_far_end.amps.0), "{home:?}");
    assert!(near(way.lowest.unwrap().0, wire(&found, "W3").lowest.unwrap().0.0), "{home:?}");
    assert_ne!(home.verdict, Verdict::Unfed);
    for lead in ["M1", "M2"] {
        assert!(wire(&found, lead).ways.iter().all(|way| !way.homeward), "{lead}");
    }
    // No fuse is chosen for the coil's pulses: they are the driver's matter.
    assert!(device(&found, "F").upstream.is_empty());
}

/// A return of a load behind a fuse without a rating is not assessed, and the fuse is named; nor is one that others share.
#[test]
fn a_return_behind_a_fuse_without_a_rating_is_not_assessed() {
    let found = analysed(DRIVEN);
    let unrated = device(&found, "U").device.link;
    let home = wire(&found, "W6");
    let [way] = home.ways.as_slice() else { unreachable!("{home:?}") };
    assert!(way.homeward && way.guard == Weakest::Unrated(unrated) && way.lowest.is_some(), "{way:?}");
    assert_eq!(home.verdict, Verdict::NotAssessed(Gap::Device(unrated)));
    let shared = wire(&found, "W9");
    assert_eq!(shared.ways[0].guard, Weakest::Device(device(&found, "F").device.link, Amps(10.0)));
    assert_eq!(shared.verdict, Verdict::NotAssessed(Gap::Device(unrated)));
    let told = found.1.explain_wire(&found.0, shared.wire);
    assert!(
        matches!(&told.last().unwrap().amount, Amount::NotAssessed(what) if what == "current of `U`"),
        "{told:?}"
    );
    let note = |name: &str, words: &str| {
        let told = found.1.explain_wire(&found.0, wire(&found, name).wire);
        told[0].notes.iter().any(|note| note.contains(words))
    };
    assert!(note("W6", "the short is at `L`, which comes home through it behind a device without a rating"));
    assert!(note("W9", "how heavy one behind `U` is cannot be told"));
    assert!(!note("W8", "a rating") && !note("W8", "cannot be told"));
    // The return of the load behind the rated fuse is assessed.
    assert_eq!(wire(&found, "W8").verdict, Verdict::InTime);
    let rated = analysed(&DRIVEN.replace("fuse U blade", "fuse U 2 A blade"));
    assert_eq!(wire(&rated, "W9").verdict, Verdict::InTime);
}

/// The way back is told piece by piece like the way out: of a load with a contact in its return, over the ground inside a
/// regulator, and of a wire that brings a load home itself. Where no load hangs there is none.
#[test]
fn the_way_back_is_told_piece_by_piece() {
    let found = analysed(
        "battery A lead-acid 6S 20 Ah 20 mohm\nfuse F 10 A blade\nregulator R buck 6 V 5 A { supply 8 V .. 30 V }\n\
         switch S 12 V 10 A\nstud NEG\nsplice J\nload L 12 V 1 A\nload N 12 V 1 A\ntie A.pos to F.line\n\
         wire W1 F.load to L.pos 18 AWG red 300 mm\nwire W2 L.neg to S.1 18 AWG black 200 mm\n\
         wire W3 S.2 to NEG 18 AWG black 100 mm\nwire W4 NEG to A.neg 14 AWG black 200 mm\n\
         wire W5 F.load to R.in 18 AWG red 300 mm\nwire W6 R.in-neg to NEG 18 AWG black 300 mm\n\
         wire W7 F.load to J 18 AWG red 300 mm\nwire W8 J to N.pos 18 AWG red 300 mm\n\
         wire W9 N.neg to R.out-neg 18 AWG black 300 mm\n",
    );
    let back = |name: &str| {
        let told = found.1.explain_wire(&found.0, wire(&found, name).wire);
        let lowest = told.iter().find(|one| one.what.starts_with("lowest fault current")).unwrap();
        let input = lowest.inputs.iter().find(|input| input.symbol == "R_back").unwrap();
        let words = input.what.strip_prefix("way back to the source, hot").unwrap().to_owned();
        let parts = words.trim_start_matches(": ").split(", ");
        parts
            .map(|part| {
                part.split(' ').take_while(|word| word.parse::<f64>().is_err()).collect::<Vec<_>>().join(" ")
            })
            .collect::<Vec<_>>()
    };
    assert_eq!(back("W1"), ["`W2`", "contact of `S`", "`W3`", "`W4`"]);
    assert_eq!(back("W3"), ["`W2`", "contact of `S`", "`W3`", "`W4`"]);
    assert_eq!(back("W5"), ["`W6`", "`W4`"]);
    assert_eq!(back("W8"), ["`W9`", "ground inside `R`", "`W6`", "`W4`"]);
    assert_eq!(back("W7"), ["", "taken as that of the wires on the way out"]);
}

/// A fuse of a style without published limits has its opening times not assessed for want of them, not of its style.
#[test]
fn a_style_without_limits_lacks_a_band() {
    let found = analysed(
        "battery A lead-acid 6S 20 Ah 20 mohm\nfuse F 60 A class-t\nfuse G 60 A\nload L 12 V 3 A\nload M 12 V 3 A\n\
         tie A.pos to F.line\ntie A.pos to G.line\nwire W1 F.load to L.pos 10 AWG red 300 mm\n\
         wire W2 L.neg to A.neg 10 AWG black 300 mm\nwire W3 G.load to M.pos 10 AWG red 300 mm\n\
         wire W4 M.neg to A.neg 10 AWG black 300 mm\n",
    );
    for (name, lacks) in [("F", "a time–current band for the style `class-t`"), ("G", "style")] {
        let told = found.1.explain_device(&found.0, device(&found, name).device.link);
        let opened =
            told.iter().find(|one| one.what == "opened at the highest fault current within").unwrap();
        assert_eq!(opened.amount, Amount::NotAssessed(lacks.to_owned()));
        assert!(opened.notes.iter().all(|note| !note.contains("do not reach")), "{opened:?}");
    }
}

/// Three packs at once, each behind a fuse of its own: with the whole short the 40 A fuse carries 88 A and opens within 5 s, but
/// a little further away, or once the small fuse has opened, just below 80 A, twice its rating, and may take half a minute.
#[test]
fn packs_at_once_are_held_against_smaller_shorts_too() {
    let mut text = String::from("splice J0, J2\nstud NEG\n");
    for (number, ohms, fuse) in [(0, 180, 40), (1, 131, 10), (2, 30, 2)] {
        let _ = write!(
            text,
            "battery P{number} lead-acid 6S 20 Ah {ohms} mohm\nfuse F{number} {fuse} A blade\ntie P{number}.pos to F{number}.line\n\
             tie F{number}.load to J0\ntie P{number}.neg to NEG\n"
        );
    }
    let found = analysed(&(text + "wire W1 J0 to J2 8 AWG red 50 mm\n"));
    let wire = wire(&found, "W1");
    let Verdict::TooSlow(slow) = wire.verdict else { panic!("{:?}", wire.verdict) };
    let way = &wire.ways[wire.worst.unwrap()];
    let sum: f64 = wire.ways.iter().map(|way| way.lowest.unwrap().0).sum();
    let share = way.lowest.unwrap().0 / sum;
    assert_eq!(slow.corner, Corner::Together);
    assert!(
        wire.highest.amps.0 * share > 80.0 && (slow.amps.0 * share / 80.0 - 1.0).abs() < 1e-6,
        "{slow:?}"
    );
}
