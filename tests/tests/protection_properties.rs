//! Fault currents and verdicts on random trees of wires: against a plain calculation of each loop, and the properties
//! that must hold whatever the robot.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on may say so by a panic")]

use std::fmt::Write as _;

use proptest::prelude::*;
use wattle_grammar::quantity::{Amps, Celsius, Metres, Volts};
use wattle_linter::{
    analysis::Analysis,
    explained::Amount,
    physics::{conductor, fuse},
    protection::{Back, Protection, Reduced, Verdict},
};
use wattle_tests::memory;

/// A pack: its joint, its internal resistance in milliohm, its fuse.
#[derive(Clone, Debug)]
struct Pack {
    at: usize,
    milliohm: u32,
    fuse: u32,
}

/// A tree of joints: each but the first hangs on an earlier one by a wire of a gauge and a length.
#[derive(Clone, Debug)]
struct Tree {
    wires: Vec<(usize, i32, u32)>,
    packs: Vec<Pack>,
}

impl Tree {
    fn text(&self) -> String {
        let mut text = "wattle 1\nrobot \"Tree\" { ambient 30 degC; insulation 105 degC }\n".to_owned();
        for joint in 0..=self.wires.len() {
            let _ = writeln!(text, "splice J{joint}");
        }
        text.push_str("stud NEG\n");
        for (at, pack) in self.packs.iter().enumerate() {
            let _ = write!(
                text,
                "battery P{at} lead-acid 6S 20 Ah {} mohm\nfuse F{at} {} A blade\ntie P{at}.pos to F{at}.line\n\
                 tie F{at}.load to J{}\ntie P{at}.neg to NEG\n",
                pack.milliohm, pack.fuse, pack.at
            );
        }
        for (at, (parent, gauge, length)) in self.wires.iter().enumerate() {
            let _ = writeln!(text, "wire W{at} J{parent} to J{} {gauge} AWG red {length} mm", at + 1);
        }
        text
    }

    fn cold(&self, wire: usize) -> f64 {
        resistance(self.wires[wire], 20.0)
    }
}

/// Copper and two crimps of 0.1 mΩ.
fn resistance((_, gauge, length): (usize, i32, u32), celsius: f64) -> f64 {
    let metres = Metres(f64::from(length) / 1000.0);
    conductor::resistance(conductor::awg_area(gauge), metres, Celsius(celsius)).0 + 0.2e-3
}

/// Full and empty voltage of the packs.
const FULL: f64 = 6.0 * 2.4;
const EMPTY: f64 = 6.0 * 1.75;

/// The fuse's cold resistance as the figures take it: stated nowhere, so 0.1 V over its rating by the table of kinds or the
/// blade fuses' own; what the device itself says is read back from the analysis.
fn fuse_ohms(analysis: &Analysis, at: usize) -> f64 {
    let thing = analysis.design.things.iter().find(|thing| thing.name == format!("F{at}")).unwrap();
    let stated = thing.get::<wattle_grammar::quantity::Ohms>("resistance");
    let rated = thing.get::<Amps>("current").unwrap();
    stated.or_else(|| fuse::cold_resistance(rated)).unwrap().0
}

fn tree(packs: std::ops::RangeInclusive<usize>) -> impl Strategy<Value = Tree> {
    (1usize..9)
        .prop_flat_map(move |count| {
            let wires = (0..count).map(|at| (0..=at, 0..11i32, 50u32..4000)).collect::<Vec<_>>();
            let pack = (0..=count, 5u32..200, prop::sample::select(vec![2u32, 5, 10, 20, 40]));
            (wires, prop::collection::vec(pack, packs.clone()))
        })
        .prop_map(|(wires, packs)| Tree {
            wires: wires.into_iter().map(|(parent, gauge, length)| (parent, gauge * 2, length)).collect(),
            packs: packs.into_iter().map(|(at, milliohm, fuse)| Pack { at, milliohm, fuse }).collect(),
        })
}

/// The current of a short at a joint, from all packs on the joint's side of a wire that is cut: elimination by hand.
fn short(tree: &Tree, analysis: &Analysis, joint: usize, cut: usize) -> f64 {
    let joints = tree.wires.len() + 1;
    let mut rows = vec![vec![0.0; joints + 1]; joints];
    for (at, pack) in tree.packs.iter().enumerate() {
        let siemens = 1.0 / (f64::from(pack.milliohm) / 1000.0 + fuse_ohms(analysis, at));
        rows[pack.at][pack.at] += siemens;
        rows[pack.at][joints] += siemens * FULL;
    }
    for (at, (parent, ..)) in tree.wires.iter().enumerate().filter(|(at, _)| *at != cut) {
        let siemens = 1.0 / tree.cold(at);
        let (a, b) = (*parent, at + 1);
        rows[a][a] += siemens;
        rows[b][b] += siemens;
        rows[a][b] -= siemens;
        rows[b][a] -= siemens;
    }
    // The joint is held at the negative; what flows into it is the short. A trace of leakage keeps dead parts solvable.
    for (at, row) in rows.iter_mut().enumerate() {
        row[at] += 1e-9;
    }
    let short_row = rows[joint].clone();
    rows[joint] = vec![0.0; joints + 1];
    rows[joint][joint] = 1.0;
    for pivot in 0..joints {
        let whole = rows[pivot][pivot];
        rows[pivot].iter_mut().for_each(|value| *value /= whole);
        let row = rows[pivot].clone();
        for other in (0..joints).filter(|other| *other != pivot) {
            let factor = rows[other][pivot];
            rows[other].iter_mut().zip(&row).for_each(|(value, own)| *value -= factor * own);
        }
    }
    let volts: Vec<f64> = rows.iter().map(|row| row[joints]).collect();
    short_row[joints] - (0..joints).map(|at| short_row[at] * volts[at]).sum::<f64>()
}

/// The joints from one to another.
fn path(tree: &Tree, from: usize, to: usize) -> Vec<usize> {
    let up = |mut joint: usize| {
        let mut wires = Vec::new();
        while joint > 0 {
            wires.push(joint - 1);
            joint = tree.wires[joint - 1].0;
        }
        wires
    };
    let (one, other) = (up(from), up(to));
    let only = |these: &[usize], those: &[usize]| -> Vec<usize> {
        these.iter().copied().filter(|wire| !those.contains(wire)).collect()
    };
    [only(&one, &other), only(&other, &one)].concat()
}

fn is_finite(protection: &Protection, analysis: &Analysis) -> bool {
    let amounts = |figures: Vec<wattle_linter::explained::Explained>| {
        figures.iter().all(|figure| match figure.amount {
            Amount::Value(value, _) => value.is_finite(),
            Amount::Pulse(joules) => joules.0.is_finite(),
            Amount::Words(_) | Amount::NotAssessed(_) => true,
        })
    };
    let of_wire = |wire| protection.explain_wire(analysis, wire);
    let wires = analysis.design.wires().all(|(wire, _)| amounts(of_wire(wire)));
    wires
        && protection.devices.iter().all(|one| amounts(protection.explain_device(analysis, one.device.link)))
}

/// How bad, for comparing.
fn rank(verdict: &Verdict) -> u8 {
    match verdict {
        Verdict::Unfed | Verdict::Bears => 0,
        Verdict::InTime => 1,
        Verdict::TooSlow(_) | Verdict::NoDevice | Verdict::NotAssessed(_) => 2,
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 64, ..ProptestConfig::default() })]

    #[test]
    fn the_highest_current_is_that_of_the_loops(tree in tree(1..=4)) {
        let analysis = memory::analyse(&tree.text());
        prop_assert!(analysis.verdict.errors.is_empty(), "{:?}", analysis.verdict.errors);
        let protection = analysis.protection();
        for (at, (parent, ..)) in tree.wires.iter().enumerate() {
            let (near, far) = (short(&tree, &analysis, *parent, at), short(&tree, &analysis, at + 1, at));
            let expected = near.max(far);
            let found = protection.wires[at].highest.amps.0;
            prop_assert!((found - expected).abs() <= 1e-6 * expected.max(1.0), "W{at}: {found} {expected}\n{}", tree.text());
        }
    }

    #[test]
    fn the_lowest_current_is_that_of_the_weakest_loop(tree in tree(1..=3)) {
        let analysis = memory::analyse(&tree.text());
        let protection = analysis.protection();
        for (at, (parent, ..)) in tree.wires.iter().enumerate() {
            let loops = tree.packs.iter().enumerate().map(|(number, pack)| {
                // Out to the end of the wire that is further from the pack, and as far back.
                let ends = [*parent, at + 1];
                let far = ends.into_iter().max_by_key(|end| path(&tree, pack.at, *end).len()).unwrap();
                let out: f64 = path(&tree, pack.at, far).iter().map(|wire| resistance(tree.wires[*wire], 105.0)).sum();
                let source = f64::from(pack.milliohm) / 1000.0 + fuse_ohms(&analysis, number) * fuse::HOT_OVER_COLD;
                EMPTY / (source + 2.0 * out)
            });
            let expected = loops.fold(f64::INFINITY, f64::min);
            let (found, way) = protection.wires[at].lowest.unwrap();
            prop_assert!((found.0 / expected - 1.0).abs() < 1e-6, "W{at}: {found} {expected}\n{}", tree.text());
            prop_assert!(matches!(protection.wires[at].ways[way].back, Back::AsTheWayOut(_)));
        }
    }

    #[test]
    fn the_highest_is_never_below_the_lowest_and_all_is_finite(tree in tree(1..=4)) {
        let analysis = memory::analyse(&tree.text());
        let protection = analysis.protection();
        prop_assert!(is_finite(protection, &analysis));
        for wire in &protection.wires {
            prop_assert!(wire.highest.amps >= wire.highest_at_far_end.amps);
            prop_assert!(wire.lowest.is_none_or(|(lowest, _)| lowest <= wire.highest.amps), "{wire:?}");
            for way in &wire.ways {
                prop_assert!(way.lowest.is_none_or(|lowest| lowest <= way.highest), "{way:?}");
            }
        }
        for device in &protection.devices {
            prop_assert!(device.to_break.amps <= device.highest.amps * (1.0 + 1e-9));
        }
    }

    /// What a highest current is said to come from comes to it: the voltage over the resistances, less what comes round,
    /// with the limits.
    #[test]
    fn the_reduced_network_gives_the_current(tree in tree(1..=4)) {
        let analysis = memory::analyse(&tree.text());
        let protection = analysis.protection();
        let comes_to = |from: &Reduced| {
            let driven = if from.volts.0 > 0.0 { from.volts / (from.ohms + from.own) } else { Amps(0.0) };
            (driven - from.around + from.limits).0
        };
        for wire in &protection.wires {
            for (amps, from) in [
                (wire.highest.amps.0, &wire.highest.reduced),
                (wire.highest_at_far_end.amps.0, &wire.highest_at_far_end.reduced),
            ] {
                prop_assert!((amps - comes_to(from)).abs() <= 1e-6 * amps, "{amps} {from:?}\n{}", tree.text());
            }
        }
        for device in &protection.devices {
            let (amps, from) = (device.to_break.amps.0, &device.to_break.reduced);
            prop_assert!((amps - comes_to(from)).abs() <= 1e-6 * amps, "{amps} {from:?}\n{}", tree.text());
        }
    }

    /// A source more never makes the highest current smaller, the lowest greater, or the verdict better.
    #[test]
    fn a_source_more_makes_nothing_better(tree in tree(2..=4)) {
        let mut fewer = tree.clone();
        fewer.packs.pop();
        let (with, without) = (memory::analyse(&tree.text()), memory::analyse(&fewer.text()));
        let (more, less) = (with.protection(), without.protection());
        for (more, less) in more.wires.iter().zip(&less.wires) {
            prop_assert!(more.highest.amps.0 >= less.highest.amps.0 * (1.0 - 1e-9));
            let lowest = |found: Option<(Amps, usize)>| found.map_or(f64::INFINITY, |(amps, _)| amps.0);
            prop_assert!(lowest(more.lowest) <= lowest(less.lowest) * (1.0 + 1e-9));
            prop_assert!(rank(&more.verdict) >= rank(&less.verdict), "{more:?} {less:?}\n{}", tree.text());
        }
        for less in &less.devices {
            let name = &without.design.thing(less.device.thing).name;
            let same = |one: &&wattle_linter::protection::DeviceProtection| with.design.thing(one.device.thing).name == *name;
            let more = more.devices.iter().find(same).unwrap();
            prop_assert!(more.highest.amps.0 >= less.highest.amps.0 * (1.0 - 1e-9), "{name}");
            prop_assert!(more.volts >= less.volts);
        }
    }

    /// No style lets more energy pass at a higher current, and none opens sooner at a lower one.
    #[test]
    fn less_current_never_clears_sooner(rated in 0.1..500.0f64, one in 0.5..200.0f64, more in 0.0..100.0f64) {
        for style in fuse::ALL {
            let at = |multiple: f64| style.times(Amps(rated), Amps(rated * multiple)).unwrap();
            let (low, high) = (at(one), at(one + more));
            let latest = |times: fuse::Times| times.latest.map_or(f64::INFINITY, |time| time.0);
            prop_assert!(latest(low) >= latest(high) * (1.0 - 1e-12), "{}", style.name);
            let energy = |multiple: f64| {
                style.most_energy(Amps(rated), Amps(rated * multiple)).map_or(f64::INFINITY, |energy| energy.0)
            };
            prop_assert!(energy(one) >= energy(one + more), "{}", style.name);
        }
    }
}

/// Whatever is missing, joined in rings, shorted or without resistance: figures come, and they are finite.
#[test]
fn bad_robots_give_finite_figures() {
    let robots = [
        "battery A lipo 6S 5 Ah\nbattery B lipo 3S 5 Ah\nwire W1 A.pos to B.pos\nwire W2 A.neg to B.neg\n",
        "battery A lipo 6S 5 Ah 18 mohm\nwire W1 A.pos to A.neg 10 AWG 100 mm\n",
        "battery A\nfuse F\nload L\nwire W1 A.pos to F.line\nwire W2 F.load to L.pos\nwire W3 L.neg to A.neg\n",
        "battery A lipo 6S 5 Ah 18 mohm\nfuse F 0.001 A cartridge\nsplice X, Y, Z\ntie A.pos to F.line\ntie F.load to X\n\
         wire W1 X to Y { resistance 0.000001 ohm }\nwire W2 Y to Z { resistance 0.000001 ohm }\n\
         wire W3 Z to X { resistance 0.000001 ohm }\n",
        "supply S 24 V\nregulator R buck 5 V\nload L 5 V 1 A\nwire W1 S.pos to R.in\nwire W2 R.in-neg to S.neg\n\
         wire W3 R.out to L.pos\nwire W4 L.neg to R.out-neg\n",
        "battery A lipo 3S 5 Ah 9 mohm\nbattery B lipo 3S 5 Ah 9 mohm\nwire W1 A.pos to B.neg 10 AWG 100 mm\n\
         wire W2 B.pos to A.neg 10 AWG 100 mm\n",
        "battery A lipo 3S 5 Ah 9 mohm\nbattery B lipo 3S 5 Ah 9 mohm\ndiode D, E 30 A\nfuse F 10 A blade\n\
         wire W1 A.pos to D.anode 10 AWG 100 mm\nwire W2 D.cathode to B.pos 10 AWG 100 mm\n\
         wire W3 B.pos to E.anode 10 AWG 100 mm\nwire W4 E.cathode to A.pos 10 AWG 100 mm\n\
         wire W5 A.neg to B.neg 10 AWG 100 mm\nwire W6 A.pos to F.line 10 AWG 100 mm\n",
        "charger C lipo 6S\nfuse F 5 A blade\nwire W1 C.pos to F.line 20 AWG 5 m\nwire W2 F.load to C.neg 20 AWG 5 m\n",
    ];
    for robot in robots {
        let analysis = memory::analyse(&format!("wattle 1\nrobot \"Bad\"\n{robot}"));
        let protection = analysis.protection();
        assert!(is_finite(protection, &analysis), "{robot}");
        assert_eq!(protection.wires.len(), analysis.design.wires.len());
    }
}

/// Two packs in series: a device on the upper one stands the voltage of both, and a short behind it may be fed by both.
#[test]
fn packs_in_series_add_their_voltages() {
    let analysis = memory::analyse(
        "wattle 1\nrobot \"Two\"\nbattery LOW, HIGH lead-acid 6S 20 Ah 10 mohm { series-string }\nfuse F 10 A blade\n\
         load L 24 V 1 A\nwire W1 LOW.pos to HIGH.neg 8 AWG 100 mm\ntie HIGH.pos to F.line\n\
         wire W2 F.load to L.pos 14 AWG 300 mm\nwire W3 L.neg to LOW.neg 14 AWG 300 mm\n",
    );
    assert!(analysis.verdict.errors.is_empty(), "{:?}", analysis.verdict.errors);
    let protection = analysis.protection();
    let device = &protection.devices[0];
    assert!((device.volts / Volts(2.0 * FULL) - 1.0).abs() < 1e-12, "{:?}", device.volts);
    // Against the common negative (2 E) / (2 R), against its own negative E / R: the same.
    assert!((device.highest.amps / Amps(FULL / 0.010) - 1.0).abs() < 1e-6, "{:?}", device.highest);
}
