//! Hostile ratings in random robots: whatever is written, nothing fails, nothing that is no number is shown, and every
//! working point is solved to the promise or named as unsolved.

use proptest::prelude::*;
use serde_json::Value;
use wattle_linter::{
    analysis::Analysis,
    explained::Amount,
    figures::Point,
    network::Working,
    report::{Report, brief, json, text},
};
use wattle_tests::{memory, random_network::Numbers};

/// Numbers that no builder means, and the ends of what the language takes. Behind each a unit is written.
const HOSTILE: [&str; 18] = [
    "0", "-0", "-1", "1e300", "1e-300", "1e308", "-1e308", "1e400", "5e-324", "1e-12", "1e-9", "1e9", "1e6",
    "100000", "NaN", "inf", "-inf", "1000000",
];

/// A robot's text in the making.
struct Writer {
    numbers: Numbers,
    /// How many of a hundred values are hostile.
    hostile: u32,
    text: String,
    /// Terminals of the plus side, and of the minus side, that may be joined.
    sides: [Vec<String>; 2],
    /// Things that a mode may set a current of.
    loads: Vec<String>,
}

impl Writer {
    /// A number: mostly from `low` to `high`.
    fn value(&mut self, low: f64, high: f64, unit: &str) -> String {
        if self.numbers.below(100) < self.hostile {
            let number = HOSTILE[self.numbers.below(HOSTILE.len() as u32) as usize];
            return format!("{number} {unit}");
        }
        let decades = self.numbers.decade(low.log10(), high.log10());
        format!("{decades:.4} {unit}")
    }

    /// A whole number from `least` to `most`.
    fn whole(&mut self, least: u32, most: u32, unit: &str) -> String {
        if self.numbers.below(100) < self.hostile {
            return self.value(1.0, 2.0, unit);
        }
        format!("{} {unit}", self.count(least, most))
    }

    fn count(&mut self, least: u32, most: u32) -> u32 {
        least + self.numbers.below(most - least + 1)
    }

    fn line(&mut self, line: &str) {
        self.text.push_str(line);
        self.text.push('\n');
    }

    /// A terminal of a side, 0 for plus.
    fn end(&mut self, side: usize) -> String {
        let at = self.numbers.below(self.sides[side].len() as u32) as usize;
        self.sides[side][at].clone()
    }

    fn source(&mut self, number: u32) {
        let (volts, amps) = (self.value(5.0, 48.0, "V"), self.value(1.0, 50.0, "A"));
        let (ohms, cells) = (self.value(1e-3, 0.1, "ohm"), self.whole(3, 6, "S"));
        let line = match self.numbers.below(3) {
            0 => format!("battery P{number} lipo {cells} 5 Ah {{ resistance {ohms}; current {amps} }}"),
            1 => format!("supply P{number} {volts} {amps}"),
            _ => format!("battery P{number} lead-acid {cells} {}", self.value(1.0, 20.0, "Ah")),
        };
        self.line(&line);
        self.sides[0].push(format!("P{number}.pos"));
        self.sides[1].push(format!("P{number}.neg"));
    }

    /// What a motor moves: each of its facts or not.
    fn moved(&mut self) -> String {
        let facts = [
            ("moved-mass", 1.0, 500.0, "kg"),
            ("moved-speed", 0.1, 8.0, "m/s"),
            ("moved-inertia", 1e-3, 50.0, "kgm2"),
            ("moved-turning", 1.0, 3000.0, "rpm"),
            ("braking-time", 0.1, 10.0, "s"),
        ];
        let mut stated = String::new();
        for (key, low, high, unit) in facts {
            if self.numbers.below(4) > 0 {
                stated += &format!("; {key} {}", self.value(low, high, unit));
            }
        }
        stated
    }

    /// A driver with a motor that gives back what it brakes, sometimes with a clamp beside it.
    fn drive(&mut self, number: u32) {
        let (amps, stall) = (self.value(0.1, 30.0, "A"), self.value(1.0, 90.0, "A"));
        let (farads, moved) = (self.value(1e-4, 1e-2, "F"), self.moved());
        self.line(&format!("driver X{number} 6 V .. 60 V {amps} {{ capacitance {farads} }}"));
        self.line(&format!("motor M{number} 12 V {{ typical 2 A; stall {stall}{moved} }}"));
        let (plus, minus) = (self.end(0), self.end(1));
        self.joint(&format!("W{number}a"), &plus, &format!("X{number}.pos"));
        self.joint(&format!("W{number}b"), &format!("X{number}.neg"), &minus);
        self.joint(&format!("W{number}c"), &format!("X{number}.m1a"), &format!("M{number}.a"));
        self.joint(&format!("W{number}d"), &format!("X{number}.m1b"), &format!("M{number}.b"));
        self.loads.push(format!("M{number}"));
        if self.numbers.below(3) == 0 {
            let (volts, ohms) = (self.value(10.0, 61.0, "V"), self.value(0.5, 20.0, "ohm"));
            self.line(&format!("clamp C{number} {volts} {ohms} brake-resistor"));
            self.joint(&format!("W{number}e"), &format!("C{number}.pos"), &format!("X{number}.pos"));
            self.joint(&format!("W{number}f"), &format!("C{number}.neg"), &format!("X{number}.neg"));
        }
    }

    /// A part, and the joints of its terminals: the first on the plus side, the last on the minus side; a contact or fuse
    /// makes a new place on the plus side.
    fn part(&mut self, number: u32) {
        if self.numbers.below(6) == 0 {
            return self.drive(number);
        }
        let (volts, amps) = (self.value(5.0, 48.0, "V"), self.value(0.1, 30.0, "A"));
        let (ohms, watts) = (self.value(0.1, 1e3, "ohm"), self.value(1.0, 500.0, "W"));
        let (stall, drop) = (self.value(1.0, 90.0, "A"), self.value(0.3, 2.0, "V"));
        let name = format!("X{number}");
        let (line, terminals): (String, &[&str]) = match self.numbers.below(9) {
            0 => (format!("light {name} {volts} {{ typical {amps} }}"), &["pos", "neg"]),
            1 => (format!("load {name} {volts} {{ power {watts} }}"), &["pos", "neg"]),
            2 => (format!("load {name} {volts} {{ typical {amps}; draws resistance }}"), &["pos", "neg"]),
            3 => (format!("resistor {name} {ohms}"), &["1", "2"]),
            4 => (format!("fuse {name} {amps} blade"), &["line", "load"]),
            5 => (format!("switch {name} {amps}"), &["1", "2"]),
            6 => (format!("diode {name} {amps} {{ forward {drop} }}"), &["a", "k"]),
            7 => (
                format!("motor {name} {volts} {{ typical {amps}; stall {stall}; resistance {ohms} }}"),
                &["a", "b"],
            ),
            _ => (
                format!("regulator {name} {{ supply 6 V .. 30 V; output {volts}; current {amps} }}"),
                &["in", "gnd", "out"],
            ),
        };
        self.line(&line);
        if ["light", "load", "motor"].iter().any(|kind| line.starts_with(kind)) {
            self.loads.push(name.clone());
        }
        let (plus, minus) = (self.end(0), self.end(1));
        let at = |terminal: &str| format!("{name}.{terminal}");
        self.joint(&format!("W{number}a"), &plus, &at(terminals[0]));
        match terminals {
            [_, through @ ("load" | "2" | "k")] => self.sides[0].push(at(through)),
            [_, back] => self.joint(&format!("W{number}b"), &at(back), &minus),
            [_, back, out] => {
                self.joint(&format!("W{number}b"), &at(back), &minus);
                self.sides[0].push(at(out));
            }
            _ => {}
        }
    }

    fn joint(&mut self, name: &str, from: &str, to: &str) {
        if self.numbers.below(8) == 0 {
            return self.line(&format!("tie {from} to {to}"));
        }
        let length = self.value(0.01, 3.0, "m");
        let size = match self.numbers.below(2) {
            0 => self.value(0.1, 20.0, "mm2"),
            _ => self.whole(8, 22, "AWG"),
        };
        self.line(&format!("wire {name} {from} to {to} {size} {length}"));
    }

    fn mode(&mut self, name: &str) {
        let level = ["idle", "typical", "peak", "stall"][self.numbers.below(4) as usize];
        let (duty, lasts) = (self.value(1.0, 100.0, "%"), self.value(0.1, 100.0, "s"));
        let amps = self.value(0.1, 50.0, "A");
        let load = self.loads.first().map_or_else(String::new, |load| format!("{load} {amps}; "));
        self.line(&format!("mode {name} {{ everything {level}; {load}duty {duty}; lasts {lasts} }}"));
    }
}

/// A robot of a seed, in which so many of a hundred values are hostile.
fn robot(seed: u64, hostile: u32) -> String {
    let numbers = Numbers(seed);
    let mut writer =
        Writer { numbers, hostile, text: String::new(), sides: [Vec::new(), Vec::new()], loads: Vec::new() };
    let ambient = writer.value(1.0, 45.0, "degC");
    writer.line("wattle 1");
    writer.line(&format!("robot \"R\" {{ ambient {ambient} }}"));
    let (sources, parts) = (writer.count(1, 2), writer.count(2, 10));
    (0..sources).for_each(|number| writer.source(number));
    (0..parts).for_each(|number| writer.part(number));
    if sources > 1 {
        writer.line("wire V1 P0.neg to P1.neg 10 AWG 0.2 m");
    }
    for number in 0..writer.count(0, 2) {
        // Any two places: rings, parallel sources, now and then a short.
        let side = usize::from(writer.numbers.below(8) == 0);
        let (from, to) = (writer.end(side), writer.end(0));
        writer.joint(&format!("Z{number}"), &from, &to);
    }
    writer.mode("run");
    writer.mode("climb");
    writer.text
}

/// Kirchhoff's current law at every node, to 1e-9 of the largest current, and every number a number.
fn assert_balanced(point: &Point, working: &Working, text: &str) {
    let numbers = working.volts.iter().chain(&working.amps);
    assert!(numbers.clone().all(|number| number.is_finite()), "a figure is no number in\n{text}");
    let largest = working.amps.iter().fold(0.0f64, |most, amps| most.max(amps.abs()));
    let mut left = vec![0.0f64; point.network.nodes as usize];
    for (element, amps) in point.network.elements.iter().zip(&working.amps) {
        left[element.a.0 as usize] += amps;
        left[element.b.0 as usize] -= amps;
    }
    let worst = left.iter().fold(0.0f64, |worst, left| worst.max(left.abs()));
    assert!(worst <= 1e-9 * largest + 1e-18, "{worst} A left over of {largest} A in\n{text}");
}

/// No word of a sentence is one for what is no number. What stands between back quotes is the author's.
fn assert_words(sentence: &str, whose: &str) {
    let ours: String = sentence.split('`').step_by(2).collect();
    let bad = ours
        .split(|c: char| !c.is_alphanumeric())
        .find(|word| matches!(*word, "NaN" | "nan" | "inf" | "infinity"));
    assert!(bad.is_none(), "{bad:?} in `{sentence}` of\n{whose}");
}

/// Every figure of the JSON report is a number.
fn assert_figures(found: &Value, text: &str) {
    match found {
        Value::Object(object) => {
            if object.contains_key("basis") && object.contains_key("unit") {
                assert!(object["value"].is_number(), "{found} of\n{text}");
            }
            object.values().for_each(|value| assert_figures(value, text));
        }
        Value::Array(list) => list.iter().for_each(|value| assert_figures(value, text)),
        Value::String(sentence) => assert_words(sentence, text),
        _ => {}
    }
}

/// Every figure of what lasts and what surges, with all that goes into it, is a number or says in words what it is.
fn assert_told(analysis: &Analysis, text: &str) {
    let Analysis { design, figures, .. } = analysis;
    let mut told = analysis.energy().explain_robot(design, figures);
    for (thing, _) in design.things() {
        told.extend(analysis.energy().explain(design, figures, thing));
        told.extend(analysis.surges().explain(design, figures, thing));
    }
    for figure in &told {
        for amount in std::iter::once(&figure.amount).chain(figure.inputs.iter().map(|input| &input.amount)) {
            assert!(amount.number().is_none_or(f64::is_finite), "{figure:?} of\n{text}");
            if let Amount::Words(words) | Amount::NotAssessed(words) = amount {
                assert_words(words, text);
            }
        }
        figure.notes.iter().for_each(|note| assert_words(note, text));
    }
}

fn assert_sound(text: &str) -> Analysis {
    let analysis = memory::analyse(text);
    assert_told(&analysis, text);
    let verdict = &analysis.verdict;
    for point in &analysis.figures.points {
        match &point.outcome {
            // Where a statement was not understood the network is not the author's, and none of it is judged.
            Ok(_) if !verdict.errors.is_empty() => {}
            Ok(working) => assert_balanced(point, working, text),
            Err(_) => assert!(
                !verdict.errors.is_empty() || !verdict.incomplete.is_empty(),
                "unsolved and not named:\n{text}"
            ),
        }
    }
    let report = || Report::new("robot.wattle", &analysis.project, verdict);
    let json = json::render(&[report()]);
    assert!(json.is_ok(), "{text}");
    let document: Result<Value, _> = serde_json::from_str(&json.unwrap_or_default());
    assert!(document.is_ok(), "{text}");
    assert_figures(&document.unwrap_or_default(), text);
    assert!(
        !text::render(&report(), text::Style { colour: false, width: 80 }).is_empty()
            || verdict.findings.is_empty()
    );
    brief::render(&report()).lines().for_each(|line| assert_words(line, text));
    analysis
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 300, ..ProptestConfig::default() })]

    #[test]
    fn hostile_ratings_are_refused_or_computed_with(seed: u64, hostile in prop::sample::select(vec![3u32, 10, 40, 100])) {
        assert_sound(&robot(seed, hostile));
    }

    #[test]
    fn ordinary_ratings_in_random_robots_are_computed_with(seed: u64) {
        let text = robot(seed, 0);
        let analysis = assert_sound(&text);
        let of_values = analysis.verdict.errors.iter().filter(|error| error.name.ends_with("range"));
        prop_assert_eq!(of_values.count(), 0, "{}", text);
    }
}

/// Values at the very ends of what the language takes, each alone in a sound robot: they pass the language, so the solver
/// gets them.
#[test]
fn the_ends_of_what_the_language_takes_are_computed_with() {
    let lines = [
        "battery PACK lead-acid 6S 7 Ah { resistance 1e-12 ohm }",
        "battery PACK lead-acid 6S 7 Ah { resistance 1e9 ohm }",
        "battery PACK lead-acid 64S 100P 1e5 Ah { resistance 1e-12 ohm }",
        "resistor R 1e-12 ohm",
        "resistor R 1e9 ohm",
        "light LAMP 12 V { typical 1e-12 A }",
        "light LAMP 12 V { typical 1e5 A }",
        "light LAMP 12 V { power 1e6 W }",
        "light LAMP { voltage 1e-12 V; power 10 W; draws resistance }",
        "light LAMP { voltage 1e-12 V; typical 1e5 A; draws power }",
        "fuse F 1e-12 A blade",
        "fuse F 1e5 A blade",
        "wire W PACK.pos to F.line 1e-12 mm2 1e4 m",
        "wire W PACK.pos to F.line 1000 mm2 1e-12 m",
    ];
    let sound = [
        "battery PACK lead-acid 6S 7 Ah 20 mohm",
        "fuse F 5 A blade",
        "light LAMP 12 V { typical 1 A }",
        "resistor R 100 ohm",
        "wire W PACK.pos to F.line 18 AWG 100 mm",
        "wire W2 F.load to LAMP.pos 18 AWG 100 mm",
        "wire W3 LAMP.neg to PACK.neg 18 AWG 100 mm",
        "wire W4 F.load to R.1 18 AWG 100 mm",
        "wire W5 R.2 to PACK.neg 18 AWG 100 mm",
    ];
    let head = |line: &str| line.split_whitespace().take(2).collect::<Vec<_>>().join(" ");
    for hostile in lines {
        let kept = sound.iter().filter(|line| head(line) != head(hostile)).copied();
        let text: Vec<&str> = ["wattle 1", "robot \"R\" { ambient 30 degC }"]
            .into_iter()
            .chain(kept)
            .chain([hostile])
            .collect();
        let text = text.join("\n") + "\n";
        let analysis = assert_sound(&text);
        assert!(analysis.verdict.errors.is_empty(), "{hostile}: {:?}", analysis.verdict.errors);
        let said = !analysis.verdict.findings.is_empty() || !analysis.verdict.incomplete.is_empty();
        assert!(said, "{hostile}: nothing is said of it");
    }
}

/// What a motor moves cannot be nothing or less: each such number is refused at its place, with what is usual.
#[test]
fn what_a_motor_moves_is_above_zero() {
    let facts = [
        ("moved-mass", "kg", "1 g to 5000 kg"),
        ("moved-speed", "m/s", "0.001 m/s to 60 m/s"),
        ("moved-inertia", "kgm2", "0.00000001 kg·m² to 1000 kg·m²"),
        ("moved-turning", "rpm", "0.1 rpm to 100000 rpm"),
        ("braking-time", "s", "10 ms to 2 min"),
    ];
    for (key, unit, usual) in facts {
        for number in ["0", "-0", "-3", "-1e-9"] {
            let head = "wattle 1\nrobot \"R\" { ambient 30 degC }\nbattery PACK lead-acid 6S 7 Ah 20 mohm\n";
            let line = format!("motor M 12 V {{ typical 2 A; {key} {number} {unit} }}\n");
            let analysis = assert_sound(&format!("{head}{line}"));
            let errors = &analysis.verdict.errors;
            assert_eq!(errors.len(), 1, "{line}: {errors:?}");
            let error = &errors[0];
            assert_eq!(error.name, "language.out-of-range", "{line}");
            assert_eq!(error.message, format!("`{key}` must be above zero, found `{number} {unit}`"));
            let place = line.find(&format!("{number} {unit}")).map(|at| head.len() + at);
            assert_eq!(Some(error.span.start as usize), place, "{line}");
            assert_eq!(error.help, Some(format!("{usual} is usual")));
        }
    }
}

/// Rings of joints without resistance are harmless: they are solved, and no one is told of a fault in them.
#[test]
fn rings_of_ties_and_blocks_are_solved_and_silent() {
    let text = "wattle 1\nrobot \"R\" { ambient 30 degC }\nbattery PACK lead-acid 6S 7 Ah 20 mohm\nfuse F 5 A blade\n\
        light LAMP 12 V { typical 1 A }\nblock A, B, C 6 way\ntie A to B\ntie B to C\ntie C to A\ntie A to C\n\
        tie F.load to A\ntie C to LAMP.pos\ntie B to LAMP.pos\ntie LAMP.pos to LAMP.pos\nwire W1 PACK.pos to F.line 18 AWG 100 mm\nwire W2 LAMP.neg to PACK.neg 18 AWG 100 mm\n";
    let verdict = assert_sound(text).verdict;
    assert_eq!(
        (verdict.errors.len(), verdict.findings.len(), verdict.incomplete.len()),
        (0, 0, 0),
        "{verdict:?}"
    );
}

/// The random robots are worth the trouble: many are solved, some have points without a solution, some are refused.
#[test]
fn the_random_robots_reach_the_solver() {
    let (mut solved, mut unsolved, mut refused, mut braked) = (0, 0, 0, 0);
    for seed in 0..200 {
        let analysis = assert_sound(&robot(seed, 1));
        let points = &analysis.figures.points;
        solved += points.iter().filter(|point| point.outcome.is_ok()).count();
        unsolved += points.iter().filter(|point| point.outcome.is_err()).count();
        refused += usize::from(!analysis.verdict.errors.is_empty());
        braked += analysis.surges().buses.iter().filter(|bus| matches!(bus.braking, Some(Ok(_)))).count();
    }
    let enough = solved > 1000 && unsolved > 20 && refused > 10 && braked > 20;
    assert!(enough, "{solved} {unsolved} {refused} {braked}");
}
