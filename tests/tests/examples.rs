//! The robots that people read first: they lint clean, and the draft shows exactly the mistakes that are marked in it.

#![allow(clippy::unwrap_used, clippy::expect_used, reason = "a test that cannot go on may say so by a panic")]

use std::{
    collections::{BTreeMap, BTreeSet},
    path::{Path, PathBuf},
};

use wattle_grammar::syntax::Date;
use wattle_linter::{
    analysis::{self, Analysis},
    files::DiskLoader,
    fragment, project,
};
use wattle_lsp::{
    engine::LINTER,
    library::{Library, OpenTexts},
};
use wattle_tests::{command::run, fixture::files_below};

/// The day on which accepted risks are judged here.
const TODAY: Date = Date { year: 2025, month: 1, day: 1 };

/// What is found in the draft: the number of the mistake, the rule, the thing.
const DRAFT: &[(u32, &str, &str)] = &[
    (1, "protection.unfused-branch", "W0"),
    (2, "protection.unfused-branch", "W2"),
    (3, "protection.unfused-branch", "W17"),
    (4, "wire.undersized", "W21"),
    (5, "wire.undersized", "W22"),
    (6, "driver.unisolated", "D-LEGS"),
    (7, "polarity.reversed-diode", "D-RIGHT"),
    (8, "driver.unisolated", "D-NECK"),
    (9, "wire.undersized", "W54"),
    (10, "join.floating", "TAIL"),
    (11, "wire.undersized", "W63"),
    (11, "protection.opens-at-work", "F-LIGHT"),
    (12, "polarity.reversed-part", "AMP"),
    (13, "polarity.swapped-ways", "P-NECK"),
    (14, "protection.unfused-branch", "BAL-B.5"),
];

fn examples() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../examples")
}

fn draft() -> PathBuf {
    examples().join("heron-draft/heron.wattle")
}

/// The files that are robots, with what is known about each.
fn robots() -> Vec<(PathBuf, Analysis)> {
    let files = files_below(&examples()).unwrap();
    let projects = files.into_iter().map(|path| (path.clone(), open(&path)));
    let robots = projects.filter(|(_, project)| project.files.first().is_some_and(fragment::is_robot));
    robots.map(|(path, project)| (path, analysis::analyse(project, Some(TODAY)))).collect()
}

fn open(path: &Path) -> project::Project {
    project::open(path, &DiskLoader::within(path.parent().unwrap()))
}

#[test]
fn every_example_but_the_draft_lints_clean() {
    let robots = robots();
    assert!(robots.len() >= 4, "{} robots", robots.len());
    for (path, robot) in robots {
        let verdict = &robot.verdict;
        assert_eq!(verdict.errors, [], "{}", path.display());
        assert_eq!(verdict.incomplete, [""; 0], "{}", path.display());
        if !path.ends_with("heron-draft/heron.wattle") {
            let open: Vec<_> = verdict.findings.iter().filter(|found| found.accepted.is_none()).collect();
            assert!(open.is_empty(), "{}: {open:#?}", path.display());
        }
    }
}

#[test]
fn the_draft_gives_what_its_marks_say() {
    let robot = analysis::analyse(open(&draft()), Some(TODAY));
    let found: BTreeSet<(&str, &str)> =
        robot.verdict.findings.iter().map(|found| (found.rule, found.subject.as_str())).collect();
    let expected: BTreeSet<(&str, &str)> = DRAFT.iter().map(|(_, rule, subject)| (*rule, *subject)).collect();
    assert_eq!(found, expected);
    assert_eq!(robot.verdict.findings.len(), DRAFT.len(), "each is found once");
}

#[test]
fn the_marks_of_the_draft_are_numbered_and_each_is_found() {
    let text = std::fs::read_to_string(draft()).unwrap();
    let marks = text.split("MISTAKE ").skip(1).filter_map(|mark| mark.split_once(':')?.0.parse::<u32>().ok());
    let marks: Vec<u32> = marks.collect();
    let last = u32::try_from(marks.len()).unwrap();
    assert_eq!(marks, (1..=last).collect::<Vec<_>>(), "numbered in the order of the text");
    let listed: BTreeSet<u32> = DRAFT.iter().map(|(number, ..)| *number).collect();
    assert_eq!(listed, marks.into_iter().collect());
}

/// A real walking figure with two packs, legs, a neck, wings, lights and sound has about this many wires.
#[test]
fn the_heron_is_of_a_real_size() {
    let (design, _) = wattle_linter::design::lower(&open(&examples().join("heron/heron.wattle")));
    assert!((60..=150).contains(&design.wires.len()), "{} wires", design.wires.len());
}

#[test]
fn two_runs_give_the_same_bytes() {
    for form in ["json", "text"] {
        let arguments = ["lint", "--as", form, "."];
        let (first, second) = (run(&examples(), &arguments).unwrap(), run(&examples(), &arguments).unwrap());
        assert!(first.out.len() > 1_000, "{}", first.out);
        assert_eq!(first, second);
    }
}

#[test]
fn the_editor_finds_what_the_command_finds() {
    for (path, robot) in robots() {
        let texts = OpenTexts::default();
        let project = (LINTER.open)(&path, &Library::new(&texts, &path), None);
        let edited = (LINTER.analyse)(project, Some(TODAY));
        assert_eq!(edited.verdict, robot.verdict, "{}", path.display());
        let paths = |project: &project::Project| -> BTreeMap<u32, PathBuf> {
            project.files.iter().map(|file| (file.id.0, file.path.clone())).collect()
        };
        assert_eq!(paths(&edited.project), paths(&robot.project));
    }
}
