//! `wattle figures`: each form of a small robot word for word, what every form promises, and how runs end.

#![allow(clippy::unwrap_used, clippy::expect_used, reason = "a test that cannot go on may say so by a panic")]

use std::{
    fs,
    path::{Path, PathBuf},
};

use proptest::prelude::*;
use serde_json::Value;
use wattle_linter::{
    account::{Account, Explanation, csv, explain, json, text},
    explained::Amount,
};
use wattle_tests::{
    command::{Run, run, run_with},
    fixture::files_below,
    folder::Folder,
    memory, robots,
};

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("fixtures/figures")
}

fn examples() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../examples")
}

fn figures(at: &Path, arguments: &[&str]) -> Run {
    let arguments: Vec<&str> = ["figures"].iter().chain(arguments).copied().collect();
    run(at, &arguments).expect("wattle runs")
}

/// Each form of the small robot, and the file that has it word for word.
const GOLDEN: &[(&str, &[&str])] = &[
    ("lamp.txt", &["lamp.wattle"]),
    ("lamp.md", &["lamp.wattle", "--as", "markdown"]),
    ("lamp-shine.csv", &["lamp.wattle", "--as", "csv", "--mode", "shine"]),
    ("lamp-shine.json", &["lamp.wattle", "--as", "json", "--mode", "shine"]),
    ("lamp-wire.txt", &["lamp.wattle", "--mode", "shine", "--explain", "BOX.plus"]),
    ("lamp-fuse.txt", &["lamp.wattle", "--mode", "shine", "--explain", "F2"]),
    ("lamp-regulator.md", &["lamp.wattle", "--mode", "shine", "--explain", "REG", "--as", "markdown"]),
    ("lamp-terminal.txt", &["lamp.wattle", "--mode", "shine", "--explain", "CTRL.pos"]),
    ("lamp-wire.json", &["lamp.wattle", "--mode", "shine", "--explain", "W4", "--as", "json"]),
    ("float-driver.txt", &["float.wattle", "--mode", "run", "--explain", "D1"]),
    ("float-contactor.json", &["float.wattle", "--mode", "run", "--explain", "K1", "--as", "json"]),
];

#[test]
fn every_form_is_word_for_word_as_it_was_read() {
    let update = std::env::var_os("UPDATE").is_some();
    let mut wrong = Vec::new();
    for (file, arguments) in GOLDEN {
        let run = figures(&folder(), arguments);
        assert_eq!((run.status, run.trouble.as_str()), (Some(0), ""), "{file}");
        let path = folder().join(file);
        if update {
            fs::write(&path, &run.out).unwrap();
        } else if fs::read_to_string(&path).unwrap_or_default() != run.out {
            wrong.push(format!("{file}:\n{}", run.out));
        }
    }
    assert!(wrong.is_empty(), "run with UPDATE=1 and read the difference\n{}", wrong.join("\n"));
}

#[test]
fn no_line_of_any_example_is_wider_than_eighty_columns() {
    for file in files_below(&examples()).unwrap() {
        let file = file.to_string_lossy().into_owned();
        let run = figures(&examples(), &[&file]);
        assert_narrow(&run.out, 80, &file);
        assert!(!run.out.to_lowercase().contains("nan") && !run.out.contains(" inf"), "{file}");
    }
}

#[test]
fn two_runs_give_the_same_bytes() {
    for form in ["text", "json", "csv", "markdown"] {
        let arguments = ["heron", "rover", "--as", form];
        let first = figures(&examples(), &arguments);
        assert!(first.out.len() > 1_000);
        assert_eq!(first, figures(&examples(), &arguments), "{form}");
    }
}

fn assert_narrow(text: &str, width: usize, of: &str) {
    for line in text.lines() {
        assert!(line.chars().count() <= width, "{of}: {} columns: {line}", line.chars().count());
    }
}

/// A small robot whose names are as long as they are given.
fn named(pack: &str, fuse: &str, lamp: &str, wire: &str, mode: &str) -> String {
    format!(
        "wattle 1\nrobot \"X\" {{ ambient 20 degC }}\nbattery P{pack} lipo 3S 5 Ah 20 mohm\nfuse F{fuse} 5 A blade\n\
         light L{lamp} 12 V 2 A\nlight M{lamp} 12 V 1 A\ntie P{pack}.pos to F{fuse}.line\n\
         wire W{wire}a F{fuse}.load to L{lamp}.pos 18 AWG red 1 m\n\
         wire W{wire}b L{lamp}.neg to P{pack}.neg 18 AWG black 1 m\n\
         wire W{wire}c F{fuse}.load to M{lamp}.pos 18 AWG red\n\
         wire W{wire}d M{lamp}.neg to P{pack}.neg black 1 m\n\
         mode m{mode} {{ everything typical }}\n"
    )
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]
    #[test]
    fn no_line_is_too_wide_whatever_the_names_and_the_width(
        pack in "[a-z-]{0,300}[a-z]",
        fuse in "[A-Z]{1,90}",
        lamp in "(left-|knee-){0,40}[0-9]",
        wire in "[a-z]{1,200}",
        mode in "[a-z]{1,120}",
        width in 20_usize..140,
    ) {
        let analysis = memory::analyse(&named(&pack, &fuse, &lamp, &wire, &mode));
        prop_assert!(analysis.verdict.errors.is_empty(), "{:?}", analysis.verdict.errors);
        let root = format!("{wire}/{mode}.wattle");
        let accounts = [Account::new(&root, &analysis, &[])];
        let told = text::render(&accounts, width);
        assert_narrow(&told, width, "the account");
        prop_assert!(told.split_whitespace().collect::<String>().contains(&format!("W{wire}a")), "in full below");
        for name in [format!("W{wire}a"), format!("P{pack}"), format!("L{lamp}.pos")] {
            let explained = Explanation::new(&accounts[0], &name).unwrap();
            assert_narrow(&explain::in_text(&[explained], width), width, "the explanation");
        }
    }
}

#[test]
fn generated_robots_fit_too() {
    let analysis = memory::analyse(&robots::robot(120));
    let accounts = [Account::new("generated.wattle", &analysis, &[])];
    assert_narrow(&text::render(&accounts, 80), 80, "generated");
}

/// The records of a text of comma-separated values, read by the letter of RFC 4180.
fn records(text: &str) -> Vec<Vec<String>> {
    let (mut records, mut record, mut field) = (Vec::new(), Vec::new(), String::new());
    let mut letters = text.chars().peekable();
    let mut quoted = false;
    while let Some(letter) = letters.next() {
        match (quoted, letter) {
            (true, '"') if letters.peek() == Some(&'"') => field.extend(letters.next()),
            (_, '"') => quoted = !quoted,
            (false, ',') => record.push(std::mem::take(&mut field)),
            (false, '\r') => assert_eq!(letters.peek(), Some(&'\n')),
            (false, '\n') => {
                record.push(std::mem::take(&mut field));
                records.push(std::mem::take(&mut record));
            }
            (_, other) => field.push(other),
        }
    }
    assert!(record.is_empty() && field.is_empty() && !quoted, "the last line is ended");
    records
}

/// The same number, but for the last digit, which the reader of JSON used here does not always get.
fn assert_same(one: Option<f64>, other: Option<f64>) {
    let (one, other) = (one.unwrap(), other.unwrap());
    assert!((one - other).abs() <= 1e-15 * one.abs(), "{one} {other}");
}

#[test]
fn comma_separated_values_read_back_and_agree_with_json() {
    let table = records(&figures(&examples(), &["heron", "--as", "csv"]).out);
    assert_eq!(table[0], csv::HEAD);
    assert!(table.iter().all(|record| record.len() == csv::HEAD.len()));
    let mut names: Vec<&[String]> = table.iter().map(|record| record.as_slice()).collect();
    let told = names.len();
    names.sort_unstable_by_key(|record| (&record[1..4], &record[6..8], &record[4]));
    names.dedup_by_key(|record| (record[1..4].to_vec(), record[6..8].to_vec(), record[4].clone()));
    assert_eq!(names.len(), told, "no figure stands there twice");
    let with_unit = table.iter().skip(1).filter(|record| !record[5].is_empty());
    assert!(with_unit.clone().count() > 5_000);
    assert!(with_unit.clone().all(|record| record[4].parse::<f64>().is_ok_and(f64::is_finite)));
    let document: Value =
        serde_json::from_str(&figures(&examples(), &["heron", "--as", "json"]).out).unwrap();
    let points = document["robots"][0]["points"].as_array().unwrap();
    let mut compared = 0;
    for point in points {
        let at = |record: &&Vec<String>| {
            point["mode"] == record[6].as_str() && point["corner"] == record[7].as_str()
        };
        let of_wire = |record: &&Vec<String>| record[1] == "W21" && record[3] == "current";
        let row = table.iter().filter(of_wire).find(at).unwrap();
        assert_same(row[4].parse().ok(), point["wires"]["W21"].as_f64());
        compared += 1;
    }
    assert!(compared >= 12);
    assert!(
        table.iter().any(|record| record[3] == "basis") && table.iter().any(|record| record[3] == "caution")
    );
}

#[test]
fn what_needs_quotes_in_comma_separated_values_gets_them() {
    let analysis = memory::analyse(&named("", "", "", "", ""));
    let root = "a,\"b\"/c.wattle";
    let table = records(&csv::render(&[Account::new(root, &analysis, &[])]));
    assert!(table[1..table.len() - 1].iter().all(|record| record[0] == root));
}

/// What a value of the JSON form has to be.
enum Shape {
    Text,
    Number,
    Flag,
    /// Null, or that.
    Maybe(&'static Shape),
    List(&'static Shape),
    /// Any names with that.
    Map(&'static Shape),
    /// Exactly these fields, those behind the mark only sometimes.
    Fields(&'static [(&'static str, Shape)], &'static [(&'static str, Shape)]),
}

use Shape::{Fields, Flag, List, Map, Maybe, Number, Text};

const TOOL: Shape = Fields(&[("name", Text), ("version", Text)], &[]);
const READING: Shape = Fields(
    &[("volts", Maybe(&Number)), ("amps", Maybe(&Number))],
    &[("output_volts", Maybe(&Number)), ("output_amps", Maybe(&Number))],
);
const POINT: Shape = Fields(
    &[
        ("mode", Text),
        ("corner", Text),
        ("charge", Text),
        ("regulators", Text),
        ("conductors", Text),
        ("ordinary", Flag),
        ("duty", Number),
        ("solved", Flag),
        ("why", Maybe(&Text)),
        ("wires", Map(&Number)),
        ("things", Map(&READING)),
        ("terminals", Map(&Number)),
    ],
    &[],
);
const FIGURE: Shape = Fields(
    &[
        ("thing", Text),
        ("of", Text),
        ("figure", Text),
        ("value", Maybe(&Number)),
        ("unit", Maybe(&Text)),
        ("words", Maybe(&Text)),
        ("missing", Maybe(&Text)),
        ("mode", Maybe(&Text)),
        ("corner", Maybe(&Text)),
        ("basis", Text),
    ],
    &[],
);
const TREE: Shape = Fields(&[("depth", Number), ("thing", Text), ("part", Text), ("joins", Flag)], &[]);
const ERROR: Shape = Fields(&[("rule", Text), ("place", Text), ("message", Text)], &[]);
const MISSING: Shape = Fields(&[("subject", Text), ("missing", Text), ("blocks", List(&Text))], &[]);
const ROBOT: Shape = Fields(
    &[
        ("path", Text),
        ("name", Text),
        ("profile", Maybe(&Text)),
        ("complete", Flag),
        ("points", List(&POINT)),
        ("figures", List(&FIGURE)),
        ("tree", List(&TREE)),
        ("errors", List(&ERROR)),
        ("incomplete", List(&Text)),
        ("not_assessed", List(&MISSING)),
        ("basis", List(&Text)),
    ],
    &[],
);
const DOCUMENT: Shape = Fields(
    &[("format", Number), ("tool", TOOL), ("complete", Flag), ("robots", List(&ROBOT)), ("caution", Text)],
    &[],
);

const INPUT: Shape = Fields(
    &[
        ("symbol", Text),
        ("what", Text),
        ("value", Maybe(&Number)),
        ("unit", Maybe(&Text)),
        ("words", Maybe(&Text)),
        ("missing", Maybe(&Text)),
    ],
    &[],
);
const DERIVED: Shape = Fields(
    &[
        ("figure", Text),
        ("value", Maybe(&Number)),
        ("unit", Maybe(&Text)),
        ("words", Maybe(&Text)),
        ("missing", Maybe(&Text)),
        ("mode", Maybe(&Text)),
        ("corner", Maybe(&Text)),
        ("formula", Text),
        ("inputs", List(&INPUT)),
        ("source", Text),
        ("evidence", Text),
        ("notes", List(&Text)),
    ],
    &[],
);
const ENTRY: Shape = Fields(&[("of", Text), ("is", Text), ("place", Text), ("figures", List(&DERIVED))], &[]);
const RATING: Shape = Fields(&[("key", Text), ("value", Text), ("origin", Text)], &[]);
const ROW: Shape = Fields(
    &[
        ("mode", Text),
        ("corner", Text),
        ("solved", Flag),
        ("volts", Maybe(&Number)),
        ("amps", Maybe(&Number)),
    ],
    &[],
);
const SUBJECT: Shape = Fields(
    &[
        ("path", Text),
        ("name", Text),
        ("complete", Flag),
        ("entries", List(&ENTRY)),
        ("ratings", List(&RATING)),
        ("points", List(&ROW)),
        ("errors", List(&ERROR)),
        ("incomplete", List(&Text)),
        ("not_assessed", List(&MISSING)),
        ("basis", List(&Text)),
    ],
    &[],
);
const EXPLANATION: Shape = Fields(
    &[
        ("format", Number),
        ("tool", TOOL),
        ("complete", Flag),
        ("subjects", List(&SUBJECT)),
        ("caution", Text),
    ],
    &[],
);

/// Why a value has not the shape it has to have.
fn misfit(value: &Value, shape: &Shape, at: &str) -> Option<String> {
    let wrong = |what: &str| Some(format!("{at} is no {what}: {value}"));
    match shape {
        Text => {
            if value.is_string() {
                None
            } else {
                wrong("text")
            }
        }
        Number => {
            if value.is_number() {
                None
            } else {
                wrong("number")
            }
        }
        Flag => {
            if value.is_boolean() {
                None
            } else {
                wrong("flag")
            }
        }
        Maybe(_) if value.is_null() => None,
        Maybe(shape) => misfit(value, shape, at),
        List(shape) => match value.as_array() {
            Some(list) => list.iter().find_map(|one| misfit(one, shape, &format!("{at}[]"))),
            None => wrong("list"),
        },
        Map(shape) => match value.as_object() {
            Some(map) => map.iter().find_map(|(key, one)| misfit(one, shape, &format!("{at}.{key}"))),
            None => wrong("map"),
        },
        Fields(always, sometimes) => {
            let Some(map) = value.as_object() else { return wrong("object") };
            let lacking = always.iter().find(|(name, _)| !map.contains_key(*name));
            if let Some((name, _)) = lacking {
                return Some(format!("{at} lacks {name}"));
            }
            map.iter().find_map(|(key, one)| {
                let known = always.iter().chain(*sometimes).find(|(name, _)| name == key);
                match known {
                    Some((_, shape)) => misfit(one, shape, &format!("{at}.{key}")),
                    None => Some(format!("{at} has {key}")),
                }
            })
        }
    }
}

#[test]
fn json_has_the_documented_fields_and_nothing_else() {
    let run = figures(&examples(), &["heron-draft", "rover", "stage-cart", "--as", "json"]);
    let document: Value = serde_json::from_str(&run.out).unwrap();
    assert_eq!(misfit(&document, &DOCUMENT, "document"), None);
    assert_eq!(document["format"], json::FORMAT);
    assert!(document["robots"].as_array().unwrap().len() >= 3);
    let run = figures(&examples(), &["heron", "--as", "json", "--explain", "REG-5"]);
    let document: Value = serde_json::from_str(&run.out).unwrap();
    assert_eq!(misfit(&document, &EXPLANATION, "document"), None);
    assert!(document["subjects"][0]["entries"].as_array().unwrap().len() >= 2, "a source and a load");
}

#[test]
fn every_figure_in_json_is_one_of_value_words_and_missing() {
    let run = figures(&examples(), &["heron", "--as", "json"]);
    let document: Value = serde_json::from_str(&run.out).unwrap();
    let figures = document["robots"][0]["figures"].as_array().unwrap();
    assert!(figures.len() > 1_000);
    for figure in figures {
        let kinds = ["value", "words", "missing"].iter().filter(|kind| !figure[**kind].is_null()).count();
        assert_eq!(kinds, 1, "{figure}");
        assert_eq!(figure["value"].is_null(), figure["unit"].is_null(), "{figure}");
        assert_eq!(figure["mode"].is_null(), figure["corner"].is_null(), "{figure}");
    }
}

/// No figure stands for itself: each says where it is from, each current of a short also its formula and what goes in.
#[test]
fn every_figure_of_the_examples_says_what_it_comes_from() {
    let mut bare = Vec::new();
    let read = |name: &str| fs::read_to_string(examples().join(name)).unwrap();
    let parts = read("heron/parts.wattle");
    for robot in ["heron/heron.wattle", "rover/rover.wattle"] {
        let analysis = memory::analyse_files(&[("robot.wattle", &read(robot)), ("parts.wattle", &parts)]);
        let account = Account::new(robot, &analysis, &[]);
        let view = account.view.as_ref().unwrap();
        for entry in view.each_entry() {
            for figure in
                entry.figures.iter().filter(|figure| !matches!(figure.amount, Amount::NotAssessed(_)))
            {
                let of_short =
                    figure.what.contains("fault current") && matches!(figure.amount, Amount::Value(..));
                let fed = !figure.notes.iter().any(|note| note == "no source reaches it");
                let unexplained = of_short && fed && (figure.formula.is_empty() || figure.inputs.is_empty());
                if figure.source.is_empty() || unexplained {
                    bare.push(format!("{robot} {}: {}", entry.name, figure.what));
                }
            }
        }
    }
    assert!(bare.is_empty(), "{}", bare.join("\n"));
}

#[test]
fn what_json_shows_is_what_the_solver_found() {
    let text = fs::read_to_string(folder().join("lamp.wattle")).unwrap();
    let analysis = memory::analyse(&text);
    let out = json::render(&[Account::new("lamp.wattle", &analysis, &[])]).unwrap();
    let document: Value = serde_json::from_str(&out).unwrap();
    let points = document["robots"][0]["points"].as_array().unwrap();
    assert_eq!(points.len(), analysis.figures.points.len());
    for (shown, point) in points.iter().zip(&analysis.figures.points) {
        for (id, wire) in analysis.design.wires() {
            let amps = point.amps(wattle_linter::topology::LinkId(id.0)).map(|amps| amps.0 + 0.0);
            assert_same(shown["wires"][&wire.name].as_f64(), amps);
        }
        let out = &shown["things"]["PACK"]["amps"];
        let pack = analysis.design.things().find(|(_, thing)| thing.name == "PACK").unwrap().0;
        assert_same(out.as_f64(), point.source_amps(&analysis.topology, pack).map(|amps| amps.0));
        assert_eq!(shown["terminals"]["PACK.neg"].as_f64(), Some(0.0));
    }
}

#[test]
fn a_slip_in_a_name_is_wrong_use_and_the_nearest_is_proposed() {
    let near = figures(&examples(), &["heron", "--explain", "D-LEG"]);
    assert_eq!((near.status, near.out.as_str()), (Some(2), ""));
    assert_eq!(near.trouble, "wattle: there is no wire, thing or terminal `D-LEG`; did you mean `D-LEGS`?\n");
    let near = figures(&examples(), &["heron", "--explain", "skull.s14"]);
    assert!(near.trouble.ends_with("did you mean `SKULL.S14`?\n"), "{}", near.trouble);
    let near = figures(&examples(), &["heron", "--mode", "parad"]);
    assert_eq!(near.trouble, "wattle: there is no mode `parad`; did you mean `parade`?\n");
    let far = figures(&examples(), &["heron", "--explain", "zeppelin"]);
    assert_eq!(far.trouble, "wattle: there is no wire, thing or terminal `zeppelin`\n");
    for wrong in [&["-", "-"][..], &["--under", "x"], &["--as", "prose"], &["--width", "3"]] {
        let run = figures(&examples(), wrong);
        assert_eq!((run.status, run.out.as_str()), (Some(2), ""), "{wrong:?}");
    }
}

#[test]
fn modes_may_be_chosen() {
    let run = figures(&examples(), &["heron", "--mode", "parade", "--mode", "charge", "--as", "json"]);
    let document: Value = serde_json::from_str(&run.out).unwrap();
    let points = document["robots"][0]["points"].as_array().unwrap();
    let modes: Vec<&str> = points.iter().filter_map(|point| point["mode"].as_str()).collect();
    assert!(modes.contains(&"parade") && modes.contains(&"charge"));
    assert!(modes.iter().all(|mode| ["parade", "charge"].contains(mode)));
}

#[test]
fn findings_do_not_count_and_what_is_not_analysed_does() {
    assert_eq!(figures(&examples(), &["heron-draft"]).status, Some(0), "the draft has findings");
    let robot = "wattle 1\nrobot \"X\" { ambient 20 degC }\nbattery P lipo 3S 5 Ah 20 mohm\n";
    let broken = format!("{robot}wire W1 P.pos too P.neg\n");
    let shorted = format!("{robot}wire W1 P.pos to P.neg 18 AWG red 1 m\n");
    let overdrawn = "wattle 1\nrobot \"X\" { ambient 20 degC }\nbattery P lipo 3S 5 Ah 900 mohm\nregulator R 5 V 20 A buck\n\
                     load L 5 V { typical 12 A }\nwire W1 P.pos to R.in 10 AWG red 1 m\nwire W2 R.in-neg to P.neg 10 AWG black 1 m\n\
                     wire W3 R.out to L.pos 10 AWG red 1 m\nwire W4 L.neg to R.out-neg 10 AWG black 1 m\n";
    for text in [broken.as_str(), shorted.as_str(), overdrawn] {
        let folder = Folder::with(&[("x.wattle", text.as_bytes())]).unwrap();
        for form in ["text", "json", "csv", "markdown"] {
            let run = figures(folder.path(), &["--as", form]);
            assert_eq!((run.status, run.trouble.as_str()), (Some(3), ""), "{form}: {}", run.out);
        }
    }
    let folder = Folder::with(&[("x.wattle", overdrawn.as_bytes())]).unwrap();
    let run = figures(folder.path(), &["--as", "json", "--mode", "run"]);
    let document: Value = serde_json::from_str(&run.out).unwrap();
    let point = &document["robots"][0]["points"][0];
    assert_eq!(point["solved"], false);
    assert!(point["why"].as_str().is_some_and(|why| why.len() > 10), "{point}");
    assert_eq!(point["wires"], serde_json::json!({}));
    let missing = figures(folder.path(), &["none.wattle"]);
    assert_eq!(missing.status, Some(3));
    assert!(missing.out.contains("cannot read `none.wattle`"), "{}", missing.out);
}

#[test]
fn standard_input_and_files_that_are_no_robots() {
    let text = fs::read(folder().join("lamp.wattle")).unwrap();
    let arguments = ["figures", "-", "--under", "robots/x.wattle"];
    let run = run_with(&folder(), &arguments, &text, &[]).unwrap();
    assert_eq!((run.status, run.trouble.as_str()), (Some(0), ""));
    assert!(run.out.starts_with("robots/x.wattle\n  \"Lamp and brain\": "), "{}", run.out);
    let parts = Folder::with(&[("parts.wattle", b"wattle 1\n")]).unwrap();
    let run = figures(parts.path(), &["parts.wattle"]);
    assert_eq!(run.status, Some(0));
    assert!(run.out.contains("only its text was checked"), "{}", run.out);
}

#[test]
fn every_form_ends_with_what_it_stands_on() {
    for form in ["text", "json", "csv", "markdown"] {
        let out = figures(&folder(), &["lamp.wattle", "--as", form]).out;
        let at = |words: &str| out.rfind(words).unwrap_or_else(|| panic!("{form}: {words}"));
        assert!(at("profile `boat`") < at("caution"), "{form}");
        assert!(at("`stall` and") < at("caution"), "{form}: what was derived");
        assert!(
            !out.to_lowercase().split(|letter: char| !letter.is_alphabetic()).any(|word| word == "safe"),
            "{form}"
        );
    }
}
