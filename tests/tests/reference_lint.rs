//! The examples of the reference, checked for real: what a whole file shows has no error and no finding, and neither has
//! a fragment once it is put into the robot of `fixtures/reference/bench.wattle`. A thing that a fragment shows without a
//! wire floats there, which does not count.
//!
//! A fence may say more behind `wattle`: `finds RULE` means that exactly this rule is found in it.

use std::{
    collections::{BTreeMap, BTreeSet},
    fs,
    path::{Path, PathBuf},
};

use wattle_grammar::{
    parse,
    span::FileId,
    syntax::{Date, Item, Name},
};
use wattle_linter::{
    analysis::{self, Analysis},
    design::{Design, TerminalId},
    finding::Finding,
    project, rules,
};
use wattle_tests::memory::Memory;

const TODAY: Date = Date { year: 2025, month: 1, day: 1 };
const EDITION: &str = "wattle 1\n";

/// An example of the page.
struct Example {
    /// What its fence says behind `wattle`.
    says: String,
    text: String,
}

/// A file by its path from this crate's folder; an empty one when it cannot be read, which the tests notice.
fn read(path: &str) -> String {
    fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join(path)).unwrap_or_default()
}

fn examples() -> Vec<Example> {
    let page = read("../grammar/REFERENCE.md");
    let fences = page.split("\n```wattle").skip(1).filter_map(|rest| rest.split("\n```").next());
    let example = |fence: &str| {
        let (says, text) = fence.split_once('\n').unwrap_or((fence, ""));
        Example { says: says.trim().to_owned(), text: format!("{text}\n") }
    };
    fences.map(example).collect()
}

/// Analyses a robot; what it uses is an empty file.
fn analyse(text: &str) -> Analysis {
    let files = [("robot.wattle", text), ("parts/legs.wattle", EDITION)];
    let files = files.map(|(path, text)| (PathBuf::from(path), text.as_bytes().to_vec()));
    let memory = Memory(BTreeMap::from(files));
    analysis::analyse(project::open(Path::new("robot.wattle"), &memory), Some(TODAY))
}

/// What a statement defines; the robot itself counts as a name.
fn defines(item: &Item) -> Vec<String> {
    let all = |names: &[Name]| names.iter().map(|name| name.text.to_string()).collect();
    match item {
        Item::Robot(_) => vec!["robot".to_owned()],
        Item::Place(it) => all(&it.names),
        Item::Group(it) => all(&it.names),
        Item::Thing(it) => all(&it.names),
        Item::Fit(it) => all(&it.names),
        Item::Part(it) => all(std::slice::from_ref(&it.name)),
        Item::Let(it) => all(std::slice::from_ref(&it.name)),
        Item::Wire(it) => all(std::slice::from_ref(&it.name)),
        Item::Harness(it) => all(std::slice::from_ref(&it.name)),
        Item::Mode(it) => all(std::slice::from_ref(&it.name)),
        Item::Assembly(it) => all(std::slice::from_ref(&it.name)),
        _ => Vec::new(),
    }
}

/// A fragment in the robot of the bench, and where it begins there.
fn with_bench(fragment: &str) -> (String, usize) {
    let bench = read("fixtures/reference/bench.wattle");
    let own = parse(FileId(0), &format!("{EDITION}{fragment}"));
    let own: BTreeSet<String> = own.file.items.iter().flat_map(defines).collect();
    let rest = parse(FileId(0), &bench).file.items;
    let rest = rest.iter().filter(|item| !defines(item).iter().any(|name| own.contains(name)));
    let mut text: String = rest.map(|item| format!("{}\n", item.span().slice(&bench))).collect();
    let start = text.len();
    text.push_str(fragment);
    (text, start)
}

/// Whether a thing stands on the shelf, as those of the table of kinds do: nobody has wired it.
fn is_unwired(design: &Design, name: &str) -> bool {
    let at = |terminal: TerminalId| design.terminals.get(terminal.index()).map(|terminal| terminal.thing);
    let wired =
        |thing| design.wires.iter().any(|wire| [wire.from.0, wire.to.0].map(at).contains(&Some(thing)));
    design.things().any(|(id, thing)| thing.name == name && !wired(id))
}

/// What is wrong with an example; each line tells one thing.
fn complaints(example: &Example) -> Vec<String> {
    let (text, start) = match example.text.strip_prefix(EDITION) {
        // A file that shows one statement of each sort names much that it does not define.
        Some(rest) if !analyse(&example.text).verdict.errors.is_empty() => with_bench(rest),
        Some(_) => (example.text.clone(), 0),
        None => with_bench(&example.text),
    };
    let Analysis { verdict, design, .. } = analyse(&text);
    let errors = verdict.errors.iter().map(|error| format!("{}: {}", error.name, error.message));
    let findings = verdict.findings.iter().filter(|finding| finding.accepted.is_none());
    let findings = findings.filter(|finding| finding.span.start as usize >= start);
    let on_shelf =
        |finding: &Finding| finding.rule == "join.floating" && is_unwired(&design, &finding.subject);
    let findings = findings.filter(|finding| start == 0 || !on_shelf(finding));
    let mut found: Vec<&str> = findings.clone().map(|finding| finding.rule).collect();
    let expected: Vec<&str> = example.says.strip_prefix("finds ").into_iter().collect();
    found.dedup();
    let unexpected = findings.map(|finding| format!("{}: {}", finding.rule, finding.message));
    let mut complaints: Vec<String> = errors.collect();
    if found != expected {
        complaints.extend(unexpected);
        complaints.push(format!("found {found:?}"));
    }
    complaints
}

#[test]
fn every_example_is_sound() {
    let all = examples();
    assert!(all.len() > 40, "only {} examples", all.len());
    let mut wrong = Vec::new();
    for example in &all {
        let complaints = complaints(example);
        if !complaints.is_empty() {
            wrong.push(format!("{}\n{}", example.text, complaints.join("\n")));
        }
    }
    assert!(wrong.is_empty(), "{} of {}:\n{}", wrong.len(), all.len(), wrong.join("\n---\n"));
}

#[test]
fn accepted_rules_exist() {
    for example in examples() {
        let text = format!("{EDITION}{}", example.text.trim_start_matches(EDITION));
        for item in parse(FileId(0), &text).file.all_items() {
            let Item::Accept(accept) = item else { continue };
            let name = accept.rule.span.slice(&text);
            assert!(rules::by_name(name).is_some(), "no rule `{name}`");
        }
    }
}
