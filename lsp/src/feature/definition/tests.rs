//! Marked-up robots: a `^` stands before the name that is asked about, `«` and `»` stand around where it is defined.

use std::{
    path::{Path, PathBuf},
    sync::Arc,
};

use wattle_linter::stock;

use super::{Target, definition, type_definition};
use crate::{
    abilities::Abilities,
    analyst::{Analyst, Job},
    engine::LINTER,
    library::{OpenText, OpenTexts},
    snapshot::Snapshot,
};

/// A text without its marks, and the bytes that they stood at.
struct Marked {
    text: String,
    asked: Option<u32>,
    defined: Option<(u32, u32)>,
}

fn unmarked(marked: &str) -> Marked {
    let mut text = String::new();
    let (mut asked, mut start, mut defined) = (None, 0, None);
    for character in marked.chars() {
        let at = u32::try_from(text.len()).unwrap();
        match character {
            '^' => asked = Some(at),
            '«' => start = at,
            '»' => defined = Some((start, at)),
            other => text.push(other),
        }
    }
    Marked { text, asked, defined }
}

fn path(name: &str) -> PathBuf {
    PathBuf::from(format!("/none/{name}"))
}

/// What is found from the mark in one of some files, and where the marks of definitions stand.
fn ask(
    files: &[(&str, &str)],
    feature: fn(&Snapshot, u32) -> Vec<Target>,
) -> (Vec<Target>, Vec<(PathBuf, u32, u32)>) {
    let marked: Vec<(&str, Marked)> = files.iter().map(|(name, text)| (*name, unmarked(text))).collect();
    let open: OpenTexts = marked
        .iter()
        .map(|(name, marked)| (path(name), OpenText { version: 1, text: marked.text.as_str().into() }))
        .collect();
    let outcome = Analyst::new(LINTER).work(&Job { open, ..Job::default() });
    assert_eq!(outcome.failures, [""; 0]);
    let (name, asked) = marked.iter().find(|(_, marked)| marked.asked.is_some()).unwrap();
    let text: Arc<str> = asked.text.as_str().into();
    let snapshot = Snapshot::new(path(name), 1, text, Arc::new(Abilities::default()));
    let snapshot = snapshot.with(&outcome.analyses, &outcome.findings);
    let defined = marked
        .iter()
        .filter_map(|(name, marked)| marked.defined.map(|(start, end)| (path(name), start, end)));
    (feature(&snapshot, asked.asked.unwrap()), defined.collect())
}

fn check_with(files: &[(&str, &str)], feature: fn(&Snapshot, u32) -> Vec<Target>) {
    let (found, expected) = ask(files, feature);
    let places: Vec<_> = found
        .iter()
        .map(|target| (target.path.clone().unwrap_or_default(), target.start, target.end))
        .collect();
    assert_eq!(places, expected, "{files:#?}");
}

/// The one robot file.
fn check(text: &str) {
    check_with(&[("robot.wattle", &format!("wattle 1\nrobot \"R\"\n{text}"))], definition);
}

fn check_type(text: &str) {
    check_with(&[("robot.wattle", &format!("wattle 1\nrobot \"R\"\n{text}"))], type_definition);
}

/// The text of the stock's line that is found from the mark.
fn stock_line(text: &str, feature: fn(&Snapshot, u32) -> Vec<Target>) -> String {
    let (found, _) = ask(&[("robot.wattle", &format!("wattle 1\nrobot \"R\"\n{text}"))], feature);
    let [target] = found.as_slice() else { panic!("{found:?}") };
    assert!(target.is_stock());
    let start = target.start as usize;
    let line = stock::TEXT.get(..start).unwrap().rfind('\n').map_or(0, |at| at + 1);
    stock::TEXT.get(line..).unwrap().lines().next().unwrap().trim().to_owned()
}

#[test]
fn things_and_their_terminals() {
    check("fuse «F1» 5 A blade\nwire W1 ^F1.line to F1.load");
    check("fuse «F1», F2 5 A blade\nwire W1 F1.li^ne to F2.load");
    check("fuse F1, «F2» 5 A blade\nwire W1 F1.line to F2^.load");
    check("stud «S»\nstud T\ntie T to S^");
    check("block «BUS» 4 way\nfuse F1 5 A blade on B^US");
    check("plug «P» 2 way\nsocket J 2 way\nmate ^P with J");
    check("switch «S» 5 A\nmode go { ^S closed }");
    check("fuse «F1» 5 A blade\nexpect current F^1.load <= 3 A");
    check("fuse «F1» 5 A blade\nreading 1 V across F1.load, F^1.line");
    check("motor M 24 V\nstop «S»\nexpect dead M when S^ pressed");
}

#[test]
fn wires_harnesses_and_cores() {
    check("stud S\nstud T\nwire «W1» S to T\naccept wire.undersized on ^W1 because \"x\"");
    check(
        "stud S\nstud T\nharness «NECK» {\n  H1 S to T\n}\naccept wire.undersized on N^ECK.H1 because \"x\"",
    );
    check(
        "stud S\nstud T\nharness NECK {\n  «H1» S to T\n}\naccept wire.undersized on NECK.^H1 because \"x\"",
    );
    check("stud S\nstud T\ncable C {\n  «1» S to T\n}\naccept wire.undersized on C.^1 because \"x\"");
    check("stud S\nstud T\nwire «W1» S to T\nreading 1 A through W1^");
}

#[test]
fn places_constants_and_modes() {
    check("place body, «head»\nstud S at he^ad");
    check("let «RUN» = 2 m\nstud S\nstud T\nwire W1 S to T 12 AWG R^UN");
    check("let «RUN» = 2 m\nlet LONG = 2 * ^RUN");
    check("let «AMPS» = 2 A\nfuse F1 { current AM^PS }");
    check("mode «parade» { everything typical }\nexpect runtime >= 2 h in par^ade");
    check("expect runtime >= 2 h in st^all");
    check("driver «D» 24 V 5 A\nstud S\nstud T\nwire W S to T { limited-by ^D }");
}

#[test]
fn groups_and_spare_cores() {
    check("group «EARS» { simultaneity 1 }\nlight L 5 V { group E^ARS }");
    check("group «EARS»\nlight L 5 V { group EARS }\nmode go { ^EARS typical }");
    check("group EARS\nassembly HEAD {\ngroup «EARS»\nlight L 5 V { group E^ARS }\n}");
    check("cable C {\n  «5» spare grey\n}\naccept wire.undersized on C.^5 because \"x\"");
}

#[test]
fn parts_and_assemblies() {
    check("part «tray» is fuse 5 A\nfuse F1 : tr^ay");
    check("part «tray» is fuse 5 A\npart big is t^ray");
    check("assembly «LEG» {\n  motor M 24 V\n}\nfit L^EG as left");
    check("assembly LEG {\n  motor M 24 V\n}\nfit LEG as «left», right\nstud S\nwire W1 l^eft.M.a to S");
    check("assembly LEG {\n  motor «M» 24 V\n}\nfit LEG as left, right\nstud S\nwire W1 right.M^.a to S");
    check("assembly LEG {\n  motor «M» 24 V\n}\nfit LEG as left, right\nstud S\nwire W1 right.M.^a to S");
    check(
        "assembly LEG {\n  terminal «plus» M.a\n  motor M 24 V\n}\nfit LEG as l\nstud S\nwire W1 l.p^lus to S",
    );
    check("assembly LEG {\n  terminal plus ^M.a\n  motor «M» 24 V\n}");
    check("assembly LEG {\n  parameter «reach» 1 m\n  stud S\n}\nfit LEG as l { ^reach 2 m }");
    check("assembly LEG {\n  parameter «reach» 1 m\n  stud S, T\n  wire W S to T re^ach\n}");
    check("let «reach» = 3 m\nassembly LEG {\n  stud S, T\n  wire W S to T re^ach\n}");
}

#[test]
fn names_in_an_assembly_are_its_own() {
    check("stud S\nassembly LEG {\n  stud «S», T\n  wire W ^S to T\n}");
    check("stud «S»\nassembly LEG {\n  stud S, T\n}\nstud T\nwire W ^S to T");
    check("stud S\nassembly LEG {\n  stud T\n  wire W ^S to T\n}");
}

#[test]
fn a_definition_is_its_own() {
    check("stud «^S»");
    check("place «^body»");
    check("part «^tray» is fuse 5 A");
}

#[test]
fn what_names_nothing_is_defined_nowhere() {
    check("fuse F1 5 A bl^ade");
    check("fu^se F1 5 A");
    check("stud S\nwire W1 S to U^NKNOWN");
    check("stud S\naccept wire.under^sized on S because \"x\"");
    check("# a comm^ent");
}

#[test]
fn a_statement_that_cannot_be_read_is_guessed_at() {
    check("part «tray» is fuse 5 A\nfuse F1 : tr^ay on = =");
    check("fuse «F1» 5 A blade\nwire W1 ^F1.load to");
    check("assembly LEG {\n  stud «S»\n  wire W1 S^ to\n}");
}

#[test]
fn other_files_and_use() {
    let legs = "wattle 1\npart «tray» is fuse 5 A\n";
    let robot = "wattle 1\nuse \"parts/legs.wattle\"\nrobot \"R\"\nfuse F1 : t^ray\n";
    check_with(&[("robot.wattle", robot), ("parts/legs.wattle", legs)], definition);
    let legs = "«»wattle 1\n";
    let robot = "wattle 1\nuse \"parts/le^gs.wattle\"\nrobot \"R\"\n";
    check_with(&[("robot.wattle", robot), ("parts/legs.wattle", legs)], definition);
    let robot = "wattle 1\nuse \"parts.wattle\"\nrobot \"R\"\nplace «body»\n";
    check_with(&[("robot.wattle", robot), ("parts.wattle", "wattle 1\nstud S at bo^dy\n")], definition);
}

#[test]
fn several_robots_with_one_file_give_each_of_theirs_once() {
    let robot = |fuse: &str| format!("wattle 1\nuse \"s.wattle\"\nrobot \"R\"\npart «tray» is fuse {fuse}\n");
    let (one, other) = (robot("5 A"), robot("3 A"));
    let files =
        [("a.wattle", one.as_str()), ("b.wattle", &other), ("s.wattle", "wattle 1\nfuse F : ^tray\n")];
    check_with(&files, definition);
}

#[test]
fn the_stock() {
    assert_eq!(stock_line("fuse F1 : blade-30^", definition), "part blade-30  is blade 30 A");
    let inside = "fit servo-extension as NECK\nsocket J 3 way\nmate J with NECK.PL^UG";
    assert!(stock_line(inside, definition).starts_with("plug   PLUG   : servo-plug"));
    assert!(stock_line(inside, type_definition).starts_with("part servo-plug is header-plug"));
    let parameter = "fit servo-extension as NECK { re^ach 2 m }";
    assert!(stock_line(parameter, definition).starts_with("parameter reach 600 mm"));
    check("part «blade-30» is fuse 5 A\nfuse F1 : blade-^30");
}

#[test]
fn a_copy_of_the_stock_leads_to_itself() {
    let path = Path::new("/none/stock-0-0.wattle");
    let snapshot = Snapshot::new(path.to_path_buf(), 1, stock::TEXT.into(), Arc::default());
    let at = u32::try_from(stock::TEXT.find("is blade 30 A").unwrap() + 3).unwrap();
    let found = definition(&snapshot, at);
    let [target] = found.as_slice() else { panic!("{found:?}") };
    assert_eq!(target.path.as_deref(), Some(path));
    assert_eq!(stock::TEXT.get(target.start as usize..target.end as usize), Some("blade"));
}

#[test]
fn the_sort_of_a_thing_is_its_part_and_of_a_fit_its_assembly() {
    check_type("part «tray» is fuse 5 A\nfuse F1 : tray\nwire W1 ^F1.line to F1.load");
    check_type("part «tray» is fuse 5 A\nfuse F1 : tray\nwire W1 F1.li^ne to F1.load");
    check_type("part «tray» is fuse 5 A\nfuse F^1 : tray");
    check_type("part «tray» is fuse 5 A\nfuse F1 : ^tray");
    check_type("assembly «LEG» {\n  motor M 24 V\n}\nfit LEG as left\nstud S\nwire W1 l^eft.M.a to S");
    check_type("fuse F^1 5 A");
    check_type("place bo^dy");
}
