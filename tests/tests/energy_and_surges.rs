//! Energy and surges from text to figure: published cases and laws, and that nothing is ever shown that is no number.

#![allow(clippy::unwrap_used, reason = "a test stops where it fails")]

use std::{fs, path::Path};

use proptest::prelude::*;
use wattle_grammar::quantity::{AmpHours, Amps, Farads, Ohms, Seconds, Share, Volts, Watts};
use wattle_linter::{
    analysis::{self, Analysis},
    design::ThingId,
    energy::{Energy, Lasts, Pack},
    explained::{Amount, Explained},
    files::DiskLoader,
    physics::{battery, capacitor, runtime, unit::Joules},
    project::{self, Loader},
    surge::{Braking, Closing, Contact, Holds, Parted, Surges},
};
use wattle_tests::{fixture::files_below, table::near};

struct Given(String);

impl Loader for Given {
    fn load(&self, _: &Path) -> Result<Vec<u8>, String> {
        Ok(self.0.clone().into_bytes())
    }
}

fn analysed(text: &str) -> Analysis {
    let text = format!("wattle 1\nrobot \"Hut\" {{ ambient 20 degC }}\n{text}");
    analysis::analyse(project::open(Path::new("hut.wattle"), &Given(text)), None)
}

fn energy(robot: &Analysis) -> Energy {
    Energy::new(&robot.design, &robot.topology, &robot.figures)
}

fn surges(robot: &Analysis) -> Surges {
    Surges::new(&robot.design, &robot.topology, &robot.figures)
}

fn named(robot: &Analysis, name: &str) -> ThingId {
    robot.design.things().find(|(_, thing)| thing.name == name).unwrap().0
}

fn pack<'e>(robot: &Analysis, energy: &'e Energy, name: &str) -> &'e Pack {
    energy.pack(named(robot, name)).unwrap()
}

fn hours_in(robot: &Analysis, mode: &str) -> f64 {
    let energy = energy(robot);
    let mode = energy.modes.iter().find(|one| robot.design.modes[one.mode.index()].name == mode).unwrap();
    match mode.lasts.clone().unwrap() {
        Lasts::For(time) => time.0 / 3600.0,
        Lasts::Forever => f64::INFINITY,
    }
}

/// A pack and a lamp of constant current, two wires.
fn lamp(pack: &str, amps: f64) -> String {
    format!(
        "battery PACK {pack}\nfuse F 100 A bolt-down\nlight LAMP 12 V {amps} A {{ supply 5 V .. 20 V }}\n\
         wire W1 PACK.pos to F.line 1 AWG red 100 mm\nwire W2 F.load to LAMP.pos 1 AWG red 100 mm\n\
         wire W3 LAMP.neg to PACK.neg 1 AWG black 100 mm\n"
    )
}

/// Lessons In Electric Circuits ch. 11 (seen): 70 Ah last 20 h at 3.5 A and 1 h at 70 A.
#[test]
fn an_ideal_battery_lasts_as_published() {
    for (amps, hours) in [(3.5, 20.0), (70.0, 1.0)] {
        let robot = analysed(&lamp("li-ion 3S 70 Ah 1 mohm { usable 100 % }", amps));
        assert!(near(hours_in(&robot, "run"), hours, 1e-6), "{amps} A");
    }
}

/// Peukert's law with the exponent of flooded lead, 1.25, and a light load without credit.
#[test]
fn a_lead_battery_lasts_by_peukert_and_no_longer_than_its_capacity() {
    let hours =
        |amps: f64| hours_in(&analysed(&lamp("lead-acid 6S 100 Ah 5 mohm { usable 100 % }", amps)), "run");
    assert!(near(hours(10.0), 20.0 * 0.5_f64.powf(1.25), 1e-6), "{}", hours(10.0));
    assert!(near(hours(5.0), 20.0, 1e-6));
    assert!(near(hours(1.0), 100.0, 1e-6), "{}", hours(1.0));
}

/// 80 % by the table where nothing is written; half of a day at 4 A and half put away at nothing last twice as long.
#[test]
fn a_mix_adds_up_what_its_modes_use() {
    let text = lamp("li-ion 3S 10 Ah 10 mohm", 4.0)
        + "mode run { LAMP typical; share 50 % }\nmode off { LAMP off }\n";
    let robot = analysed(&text);
    assert!(near(hours_in(&robot, "run"), 2.0, 1e-9));
    let mix = energy(&robot).mix.unwrap();
    assert_eq!(mix.shares, Share(0.5));
    assert_eq!(mix.lasts, Ok(Lasts::For(Seconds(4.0 * 3600.0))));
}

/// Two alike packs double the runtime; a quarter of the duty makes four times of it.
#[test]
fn duty_and_a_second_pack_stretch_it() {
    let quarter = lamp("li-ion 3S 10 Ah 10 mohm", 4.0) + "mode run { LAMP typical; duty 25 % }\n";
    assert!(near(hours_in(&analysed(&quarter), "run"), 8.0, 1e-9));
    let second = lamp("li-ion 3S 10 Ah 10 mohm", 4.0)
        + "battery SPARE li-ion 3S 10 Ah 10 mohm\nwire W4 SPARE.pos to F.line 1 AWG red 100 mm\n\
           wire W5 SPARE.neg to PACK.neg 1 AWG black 100 mm\n";
    // One that is taken out gives nothing, though its wires stay.
    let taken_out = format!("{second}mode run {{ LAMP typical; SPARE absent }}\n");
    assert!(near(hours_in(&analysed(&taken_out), "run"), 2.0, 1e-9));
    let bench = format!("{second}mode run {{ LAMP typical; SPARE absent; PACK absent }}\n");
    assert!(hours_in(&analysed(&bench), "run").is_infinite());
    let robot = analysed(&second);
    assert!(near(hours_in(&robot, "run"), 4.0, 1e-9));
    let energy = energy(&robot);
    assert_eq!(energy.modes[0].banks.len(), 1);
    assert_eq!(energy.modes[0].banks[0].packs.len(), 2);
}

/// Two packs with 40 mΩ each way round: 3 V per cell and 4.2 V per cell, three cells, ohm's law.
#[test]
fn an_empty_pack_takes_what_ohm_says_from_a_full_one() {
    let text = "battery A lipo 3S 5 Ah 20 mohm { charge-current 5 A; joining-limit 0.1 V }\n\
                battery B lipo 3S 5 Ah 16 mohm { charge-current 5 A }\n\
                light LAMP 12 V 1 A\nwire W1 A.pos to B.pos { resistance 2 mohm }\nwire W2 A.neg to B.neg { resistance 2 mohm }\n\
                wire W3 B.pos to LAMP.pos { resistance 1 mohm }\nwire W4 LAMP.neg to B.neg { resistance 1 mohm }\n";
    let robot = analysed(text);
    let energy = energy(&robot);
    let joining = pack(&robot, &energy, "A").joining.as_ref().unwrap();
    assert!(near(joining.difference.0, 3.6, 1e-9), "{joining:?}");
    assert!(near(joining.round.0, 0.040, 1e-9), "{joining:?}");
    assert!(near(joining.amps.0, 90.0, 1e-9), "{joining:?}");
    assert!(near(joining.limit.clone().unwrap().0, 0.2, 1e-9));
    assert_eq!(joining.stated, Some(Volts(0.1)));
    let other = pack(&robot, &energy, "B").joining.as_ref().unwrap();
    assert!(near(other.amps.0, joining.amps.0, 1e-9));
}

/// A pack that is charged higher pushes its surplus into the one beside it, and no load sees it: 0.2 V over 50 mΩ.
#[test]
fn unlike_packs_exchange_current() {
    let text = "battery A lipo 3S 5 Ah 20 mohm { full 12.6 V }\nbattery B lipo 3S 5 Ah 20 mohm { full 12.4 V }\n\
                wire W1 A.pos to B.pos { resistance 5 mohm }\nwire W2 A.neg to B.neg { resistance 5 mohm }\n";
    let robot = analysed(text);
    let energy = energy(&robot);
    let at = pack(&robot, &energy, "B").at.iter().find(|at| near(at.emf.0, 12.4, 1e-9)).unwrap();
    assert!(near(at.circulating.0, 0.2 / 0.05, 1e-9), "{at:?}");
    assert!(near(-at.amps.0, 0.2 / 0.05, 1e-9), "{at:?}");
}

/// 24 V on 20 mΩ and 6 mΩ into 4.7 mF with 4 mΩ in series: 800 A, 1.35 J, τ = 141 µs.
#[test]
fn a_switch_closes_onto_an_empty_capacitor() {
    let text = "battery PACK 24 V 10 Ah 20 mohm { full 24 V; empty 24 V }\n\
                switch S 30 A { contact-resistance 2 mohm; makes 100 A }\ncapacitor C 4700 uF 50 V 4 mohm\n\
                wire W1 PACK.pos to S.1 { resistance 1 mohm }\nwire W2 S.2 to C.pos { resistance 1 mohm }\n\
                wire W3 C.neg to PACK.neg { resistance 2 mohm }\nmode run { S closed }\n";
    let robot = analysed(text);
    let surges = surges(&robot);
    let closing: &Closing = surges.closings.first().unwrap();
    assert_eq!(closing.contact, Contact::Thing(named(&robot, "S")));
    assert!(near(closing.peak.0, 800.0, 1e-4), "{closing:?}");
    assert!(near(closing.path.0, 0.030, 1e-4), "{closing:?}");
    assert!(near(closing.energy().0, 0.5 * 4.7e-3 * 576.0, 1e-4), "{closing:?}");
    assert_eq!(closing.makes, Ok(Amps(100.0)));
    assert!(closing.precharge.is_none());
}

/// Through 10 Ω first, with 90 Ω on the bus: nine tenths of 20 V, in 3 RC of 95 %, and only the rest is left to close onto.
#[test]
fn a_load_on_the_bus_keeps_a_precharge_down() {
    let text = "battery PACK 20 V 10 Ah 10 mohm { full 20 V; empty 20 V }\nswitch MAIN 30 A\nswitch PRE 5 A\n\
                resistor R 10 ohm 50 W\nresistor LOAD 90 ohm 50 W\ncapacitor C 4700 uF 50 V 10 mohm\n\
                wire W1 PACK.pos to MAIN.1 10 AWG red 100 mm\nwire W2 MAIN.2 to C.pos 10 AWG red 100 mm\n\
                wire W3 C.neg to PACK.neg 10 AWG black 100 mm\nwire W4 PACK.pos to PRE.1 10 AWG red 100 mm\n\
                wire W5 PRE.2 to R.1 10 AWG red 100 mm\nwire W6 R.2 to C.pos 10 AWG red 100 mm\n\
                wire W7 C.pos to LOAD.1 10 AWG red 100 mm\nwire W8 LOAD.2 to C.neg 10 AWG black 100 mm\n\
                mode fill { PRE closed }\nmode run { MAIN closed }\n";
    let robot = analysed(text);
    let surges = surges(&robot);
    let main = Contact::Thing(named(&robot, "MAIN"));
    let closing = surges.closings.iter().find(|closing| closing.contact == main).unwrap();
    let before = closing.precharge.unwrap();
    assert!(near(before.reaches.0, 18.0, 2e-3), "{before:?}");
    assert!(
        (before.to_95.0 - 3.0 * before.resistance.0 * 4.7e-3).abs() < 0.005 * before.to_95.0,
        "{before:?}"
    );
    assert!(closing.peak_after_precharge() < closing.peak * 0.12, "{closing:?}");
}

/// 1 mF beside a coil of 120 Ω: from 12 V down to 1.2 V in RC ln 10 = 276 ms after the switch opens.
#[test]
fn a_capacitor_holds_a_coil_in() {
    let text = "battery PACK 12 V 7 Ah 1 mohm { full 12 V; empty 12 V }\nswitch S 5 A\ncapacitor C 1000 uF 25 V\n\
                relay K 12 V 10 A { coil 100 mA; release 1.2 V }\n\
                wire W1 PACK.pos to S.1 { resistance 1 mohm }\nwire W2 S.2 to K.A1 { resistance 1 mohm }\n\
                wire W3 K.A2 to PACK.neg { resistance 1 mohm }\nwire W4 K.A1 to C.pos { resistance 1 mohm }\n\
                wire W5 C.neg to K.A2 { resistance 1 mohm }\nmode run { S closed }\n";
    let robot = analysed(text);
    let surges = surges(&robot);
    let hold = surges.holds.iter().find(|hold| hold.holds == Holds::Coil).unwrap();
    assert!(near(hold.time.unwrap().0, 120.0 * 1e-3 * 10.0_f64.ln(), 1e-3), "{hold:?}");
}

fn is_shown(told: &Explained) -> bool {
    let amounts = std::iter::once(&told.amount).chain(told.inputs.iter().map(|input| &input.amount));
    let finite = amounts.clone().all(|amount| amount.number().is_none_or(f64::is_finite));
    let words = amounts.filter_map(|amount| match amount {
        Amount::Words(words) | Amount::NotAssessed(words) => Some(words),
        Amount::Value(..) | Amount::Pulse(_) => None,
    });
    let texts = words.chain(&told.notes).chain([&told.what, &told.formula, &told.source]);
    finite
        && texts
            .into_iter()
            .all(|text| !text.contains("NaN") && !text.contains("inf ") && !text.contains("inf J"))
}

fn all_told(robot: &Analysis) -> Vec<Explained> {
    let (energy, surges) = (energy(robot), surges(robot));
    let (design, figures) = (&robot.design, &robot.figures);
    let mut told = energy.explain_robot(design, figures);
    for (thing, _) in design.things() {
        told.extend(energy.explain(design, figures, thing));
        told.extend(surges.explain(design, figures, thing));
    }
    told
}

/// Every robot of the fixtures and examples, the damaged ones among them.
#[test]
fn nothing_is_told_that_is_no_number() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("..");
    let mut count = 0;
    for folder in ["tests/fixtures", "examples"] {
        let files = files_below(&root.join(folder)).unwrap();
        for path in files.iter().filter(|path| path.extension().is_some_and(|ending| ending == "wattle")) {
            if !fs::read_to_string(path).is_ok_and(|text| text.contains("battery")) {
                continue;
            }
            let robot =
                analysis::analyse(project::open(path, &DiskLoader::within(path.parent().unwrap())), None);
            for told in all_told(&robot) {
                assert!(is_shown(&told), "{} {told:?}", path.display());
                count += 1;
            }
        }
    }
    assert!(count > 1000, "{count}");
}

/// Ratings of nothing and ratings that lack: named, not guessed.
#[test]
fn what_lacks_is_named() {
    let missing = |pack: &str, what: &str| {
        let robot = analysed(&lamp(pack, 2.0));
        let told = all_told(&robot);
        assert!(told.iter().all(is_shown), "{told:?}");
        let runtime = told.iter().find(|told| told.what == "runtime in `run`").unwrap();
        let Amount::NotAssessed(words) = &runtime.amount else { panic!("{runtime:?}") };
        assert!(words.contains(what), "{words}");
    };
    missing("li-ion 3S", "capacity of `PACK`");
    missing("12 V 7 Ah", "chemistry of `PACK`");
    missing("alkaline 8S 2 Ah", "at the current that they give of `PACK`");
    let robot = analysed(&lamp("li-ion 3S 0 Ah { usable 0 % }", 2.0));
    assert!(all_told(&robot).iter().all(is_shown));
    assert!(all_told(&analysed("light LAMP 12 V 1 A\n")).iter().all(is_shown));
    assert!(energy(&analysed("light LAMP 12 V 1 A\n")).packs.is_empty());
}

proptest! {
    #[test]
    fn runtime_falls_as_the_current_rises(capacity in 0.1..200.0, usable in 0.1..1.0, amps in 0.01..100.0, more in 1.001..10.0, exponent in 1.0..1.5) {
        let (capacity, usable) = (AmpHours(capacity), Share(usable));
        let (less, greater) = (Amps(amps), Amps(amps * more));
        prop_assert!(runtime::ideal(capacity, usable, less) > runtime::ideal(capacity, usable, greater));
        prop_assert!(runtime::lead(capacity, usable, exponent, less) > runtime::lead(capacity, usable, exponent, greater));
        prop_assert!(runtime::lead(capacity, usable, exponent, less) <= runtime::ideal(capacity, usable, less));
    }

    #[test]
    fn equalising_is_the_same_both_ways(one in 1.0..60.0, other in 1.0..60.0, first in 1e-4..1.0, second in 1e-4..1.0) {
        let (a, b) = ((Volts(one), Ohms(first)), (Volts(other), Ohms(second)));
        prop_assert_eq!(battery::equalising_current(a, b), -battery::equalising_current(b, a));
    }

    #[test]
    fn a_bus_keeps_the_energy_it_is_given(farads in 1e-6..1.0, volts in 0.0..100.0, joules in 0.0..1e4) {
        let (bus, from) = (Farads(farads), Volts(volts));
        let to = capacitor::lifted(bus, from, Joules(joules));
        let given = capacitor::energy(bus, to).0 - capacitor::energy(bus, from).0;
        prop_assert!((given - joules).abs() <= 1e-9 * capacitor::energy(bus, to).0.max(1e-12));
        prop_assert!(to >= from);
    }

    #[test]
    fn what_holds_gives_its_energy(farads in 1e-6..1.0, volts in 1.0..100.0, share in 0.01..0.99, watts in 0.01..1e3) {
        let (bus, from, to) = (Farads(farads), Volts(volts), Volts(volts * share));
        let time = capacitor::holds_power(bus, Watts(watts), from, to);
        let given = capacitor::room(bus, to, from).0;
        prop_assert!((time.0 * watts - given).abs() <= 1e-9 * given);
    }

    #[test]
    fn the_let_through_of_an_inrush_is_the_mean_of_its_square(farads in 1e-6..1.0, volts in 1.0..100.0, ohms in 1e-3..10.0) {
        // ∫ I² e^(−2t/RC) dt = I² RC / 2.
        let (bus, step, path) = (Farads(farads), Volts(volts), Ohms(ohms));
        let peak = capacitor::inrush(step, path).0;
        let by_peak = peak * peak * capacitor::time_constant(path, bus).0 / 2.0;
        prop_assert!((capacitor::let_through(step, path, bus).0 / by_peak - 1.0).abs() < 1e-9);
    }
}

/// A cart that a driver brakes, with what else is joined to the driver's supply.
fn braked(motor: &str, beside: &str) -> Analysis {
    analysed(&format!(
        "battery PACK lead-acid 6S 7 Ah 20 mohm {{ full 14 V; charge-current 2 A }}\nswitch S1 20 A\nfuse F1 15 A blade\n\
         driver D1 6 V .. 18 V 10 A {{ capacitance 2000 uF; takes-back-feed }}\n\
         motor M1 12 V {{ typical 2 A; stall 12 A; {motor} }}\nwire W1 PACK.pos to F1.line 10 AWG red 100 mm\n\
         wire W2 F1.load to S1.1 14 AWG red 200 mm\nwire W3 S1.2 to D1.pos 14 AWG red 200 mm\n\
         wire W4 D1.neg to PACK.neg 14 AWG black 300 mm\nwire W5 D1.m1a to M1.a 14 AWG yellow 300 mm\n\
         wire W6 D1.m1b to M1.b 14 AWG blue 300 mm\n{beside}\n"
    ))
}

fn braking(robot: &Analysis) -> Braking {
    robot.surges().buses[0].braking.clone().unwrap().unwrap()
}

#[test]
fn braking_lifts_a_supply_by_the_energy_of_what_moves() {
    // ½ · 40 kg · (1.5 m/s)² = 45 J (OpenStax University Physics vol. 1, section 7.2) and, of something that turns,
    // ½ · 0.2 kg·m² · (2 π · 30 / 60 s)² = 0.987 J (section 10.4), into 2 mF (vol. 2, section 8.3).
    let robot =
        braked("moved-mass 40 kg; moved-speed 1.5 m/s; moved-inertia 0.2 kgm2; moved-turning 30 rpm", "");
    let found = braking(&robot);
    assert!(near(found.energy.0, 45.0 + 0.1 * std::f64::consts::PI.powi(2), 1e-9));
    let from = found.from.0;
    assert!((13.9..=14.0).contains(&from), "full, less what the load drops: {from}");
    assert!(near(found.free.0, (from * from + found.energy.0 / 1e-3).sqrt(), 1e-9));
    assert_eq!(found.reaches, found.free);
    assert_eq!(found.parted, Parted::By(named(&robot, "S1")));
    assert!(found.charge.is_err(), "nothing says how soon it stands");
}

#[test]
fn a_clamp_takes_what_the_capacitors_do_not() {
    let moves = "moved-mass 40 kg; moved-speed 1.5 m/s; braking-time 1.5 s";
    let clamp = |ohms: f64| {
        format!(
            "clamp BR 16 V {ohms} ohm 50 W brake-resistor\nwire W7 BR.pos to D1.pos 14 AWG red 100 mm\n\
             wire W8 BR.neg to D1.neg 14 AWG black 100 mm"
        )
    };
    let found = braking(&braked(moves, &clamp(2.0)));
    assert_eq!(found.reaches, Volts(16.0));
    let (taken, from) = (found.clamp.unwrap().takes.0, found.from.0);
    assert!(near(taken, 45.0 - 0.5 * 2e-3 * (16.0 * 16.0 - from * from), 1e-9));
    // The speed falls in a straight line, so 2 · 45 J / 1.5 s = 60 W at the beginning; over 10 Ω these stand at 24.5 V.
    assert!(near(braking(&braked(moves, &clamp(10.0))).reaches.0, 600.0_f64.sqrt(), 1e-9));
    let charge = found.charge.unwrap();
    assert!(near(charge.amps.0, 60.0 / from, 1e-9));
    assert_eq!(charge.most, Some(Amps(2.0)));
}

#[test]
fn what_does_not_come_back_lifts_nothing() {
    let moves = "moved-mass 40 kg; moved-speed 1.5 m/s";
    let locked = braked(&format!("{moves}; not back-drivable"), "");
    assert!(locked.surges().buses[0].braking.is_none());
    let lacking = braked("moved-mass 40 kg", "").surges().buses[0].braking.clone().unwrap();
    assert_eq!(lacking.unwrap_err().what, "moved-speed");
}
