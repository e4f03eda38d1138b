//! Hovers on a small robot, through the linter itself.

use std::{path::PathBuf, sync::Arc};

use crate::{
    abilities::Abilities,
    analyst::{Analyst, Job},
    engine::LINTER,
    library::OpenText,
    snapshot::Snapshot,
};

const ROBOT: &str = r#"wattle 1
robot "Lamp on a pack" { ambient 20 degC }
place body
part pack is battery { chemistry lipo; cells 3S; capacity 5 Ah; discharge 25 C; resistance 20 mohm }
battery PACK : pack at body
fuse F1 "Main" 5 A blade
light LAMP 12 V { typical 2 A }
wire W1 PACK.pos to F1.line 18 AWG red 100 mm
wire W2 F1.load to LAMP.pos 18 AWG red 1 m { insulation 105 degC }
wire W3 LAMP.neg to PACK.neg 18 AWG black 1 m
mode dim "Half light" { everything idle; LAMP 1 A }
accept accept.unused on W2 because "µ😀 for the test"
"#;

/// The robot as the linter reads it.
fn project() -> wattle_linter::project::Project {
    let path = PathBuf::from("/none/lamp.wattle");
    let open = [(path.clone(), OpenText { version: 1, text: ROBOT.into() })].into();
    (LINTER.open)(&path, &crate::library::Library::new(&open, &path), None)
}

/// The hover on the first occurrence of `text`, at its `at`th byte, as plain text.
fn hovered(text: &str, at: usize) -> Option<String> {
    let path = PathBuf::from("/none/lamp.wattle");
    let open = OpenText { version: 1, text: ROBOT.into() };
    let job = Job { open: [(path.clone(), open)].into(), ..Job::default() };
    let outcome = Analyst::new(LINTER).work(&job);
    assert_eq!(outcome.failures, [""; 0]);
    let snapshot = Snapshot::new(path, 1, ROBOT.into(), Arc::new(Abilities::default()));
    let snapshot = snapshot.with(&outcome.analyses, &outcome.findings);
    let at = u32::try_from(ROBOT.find(text).unwrap() + at).unwrap();
    super::hover(&snapshot, at).map(|hover| hover.page.plain())
}

fn assert_holds(text: &str, at: usize, parts: &[&str]) {
    let page = hovered(text, at).unwrap_or_default();
    for part in parts {
        assert!(page.contains(part), "`{part}` is not in:\n{page}");
    }
}

#[test]
fn a_wire_tells_what_it_is_and_what_it_carries() {
    let parts = ["wire `W2` from `F1.load` to `LAMP.pos`", "18 AWG (0.823 mm²)", "length 1 m", "dim", "1 A"];
    assert_holds("W2 F1", 0, &parts);
    assert_holds("W2 because", 2, &parts);
    // 2 A through 1 m of 18 AWG: 0.8231 mm² at 1.7241e-8 Ωm is 20.9 mΩ at 20 °C (IACS, ASTM B258), so 41.9 mV, and
    // 1 % more for a wire that its current warms by not quite 3 K.
    let page = hovered("W2 F1", 0).unwrap();
    let row = |mode: &str| {
        page.lines().find(|line| line.starts_with(mode)).map(|line| line.split_whitespace().collect())
    };
    assert_eq!(row("run"), Some(vec!["run", "(derived)", "2", "A", "42.4", "mV"]));
    assert_eq!(row("off"), Some(vec!["off", "(derived)", "0", "A", "0", "V"]));
}

#[test]
fn a_thing_tells_its_ratings_and_where_they_came_from() {
    let parts = ["battery `PACK`", "at `body`", "capacity", "5 Ah", "its part, line 4"];
    assert_holds("PACK :", 1, &parts);
    assert_holds("PACK.pos", 1, &parts);
    assert_holds("F1 \"", 0, &["fuse `F1` \"Main\"", "5 A", "written on it", "default: "]);
}

#[test]
fn a_terminal_tells_its_voltage_in_each_mode() {
    // Three cells at 4.2 V when full (common practice for lithium polymer).
    assert_holds(
        "pos to F1",
        0,
        &["terminal `PACK.pos`", "positive pole of a source", "run", "12.6 V", "off"],
    );
}

#[test]
fn words_of_the_language_tell_what_they_mean() {
    assert_holds("fuse F1", 0, &["fuse"]);
    assert_holds("wire W1", 0, &["wire NAME"]);
    assert_holds("capacity 5", 0, &["capacity"]);
    assert_holds("insulation 105", 0, &["insulation"]);
    assert_holds("idle;", 0, &["idle"]);
    assert_holds("ambient", 0, &["ambient"]);
    assert_holds("accept.unused", 9, &["rule `accept.unused`"]);
}

#[test]
fn what_names_nothing_has_no_hover() {
    assert_eq!(hovered("red", 1), None);
    assert_eq!(hovered("µ😀", 0), None);
    assert_eq!(hovered("\n", 0), None, "a number");
}

/// The lines of a hover's lists.
fn listed(text: &str, at: usize) -> Vec<String> {
    let page = hovered(text, at).unwrap_or_default();
    page.lines().filter_map(|line| line.strip_prefix("- ")).map(ToOwned::to_owned).collect()
}

#[test]
fn figures_are_told_at_a_glance_with_their_corner() {
    // 12.6 V full over 20 mΩ of the pack, 2.3 mΩ of 100 mm of 18 AWG with its crimps (20.9 mΩ/m, ASTM B258) and 20 mΩ
    // of the cold fuse (0.1 V over its rating): 298 A.
    assert_holds("W2 F1", 0, &["- highest fault current: 298 A (all sources full, 20 °C)"]);
    assert_holds("F1 \"", 0, &["- fault current it has to break: 298 A (all sources full, 20 °C)"]);
    // 2 A of 5 Ah, and four fifths of these for somewhat longer than 2 h: an empty pack feeds the lamp less.
    assert_holds("PACK :", 1, &["- discharge rate: 0.4 C (mode `run`, ", "- runtime in `run`: 2.0"]);
}

#[test]
fn a_glance_is_short_and_in_the_words_of_the_figures() {
    for text in ["W1 PACK", "W2 F1", "PACK :", "F1 \"", "LAMP 12"] {
        let lines = listed(text, 0);
        let told = lines.iter().filter(|line| line.contains(": ")).count();
        assert!((2..=8).contains(&told), "{text}: {lines:?}");
    }
    // What the figures say of the wire is what the hover says of it.
    let analysis = wattle_linter::analysis::analyse(project(), None);
    let report = wattle_linter::report::Report::new("lamp.wattle", &analysis.project, &analysis.verdict);
    let view = wattle_linter::account::View::new(report, &analysis, &[]);
    let (id, _) = analysis.design.wires().find(|(_, wire)| wire.name == "W2").unwrap();
    let figures: Vec<String> = [view.wire(id)]
        .into_iter()
        .chain(view.short_on(id))
        .flat_map(|entry| entry.figures)
        .map(|it| it.what)
        .collect();
    for line in listed("W2 F1", 0).iter().filter(|line| line.contains(": ")) {
        assert!(figures.iter().any(|what| line.starts_with(&format!("{what}: "))), "{line}");
    }
}
