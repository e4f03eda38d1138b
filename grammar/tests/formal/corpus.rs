//! Texts that people wrote: the examples of the reference, of the tables, of the folders, and the fixtures.

use std::{
    fs,
    path::{Path, PathBuf},
};

use wattle_grammar::{
    kind::{self, statement},
    parse,
    span::FileId,
    syntax::Item,
};

const EDITION: &str = "wattle 1\n";

/// A text and where it is from.
pub(crate) struct Sample {
    pub from: String,
    pub text: String,
}

pub(crate) fn home() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

/// Every file of the language below a folder, in order, wrong ones aside.
fn files(folder: &Path, found: &mut Vec<PathBuf>) {
    if folder.ends_with("fixtures/errors") {
        return;
    }
    let mut entries: Vec<PathBuf> =
        fs::read_dir(folder).into_iter().flatten().flatten().map(|entry| entry.path()).collect();
    entries.sort();
    for path in entries {
        if path.is_dir() {
            files(&path, found);
        } else if path.extension().is_some_and(|ending| ending == "wattle") {
            found.push(path);
        }
    }
}

/// All of them, as whole files.
pub(crate) fn samples() -> Vec<Sample> {
    let mut all = Vec::new();
    let reference = fs::read_to_string(home().join("REFERENCE.md")).expect("the reference can be read");
    for fence in reference.split("\n```wattle").skip(1).filter_map(|rest| rest.split("\n```").next()) {
        let (_, example) = fence.split_once('\n').expect("a fence has lines");
        all.push(Sample { from: format!("REFERENCE.md: {example}"), text: whole(example) });
    }
    let kinds = kind::ALL.iter().map(|kind| kind.example.to_owned());
    let statements = statement::ALL.iter().map(|statement| statement.example.to_owned());
    let modes = statement::MODE_WORDS.iter().map(|word| format!("mode trial {{ {} }}", word.example));
    for example in kinds.chain(statements).chain(modes) {
        all.push(Sample { from: format!("the tables: {example}"), text: whole(&example) });
    }
    let mut found = Vec::new();
    for folder in ["../examples", "../tests", "../linter", "src"] {
        files(&home().join(folder), &mut found);
    }
    all.extend(found.into_iter().map(|path| Sample {
        from: path.display().to_string(),
        text: fs::read_to_string(&path).expect("a file of the language can be read"),
    }));
    all
}

/// An example as a file.
fn whole(example: &str) -> String {
    if example.starts_with("wattle 1") { example.to_owned() } else { format!("{EDITION}{example}\n") }
}

/// Each statement of the samples once, the shortest first, as a file.
pub(crate) fn statements() -> Vec<String> {
    let mut all = Vec::new();
    for sample in samples() {
        let parsed = parse(FileId(0), &sample.text);
        let items = parsed.file.items.iter().filter(|item| !matches!(item, Item::Edition(_)));
        all.extend(items.map(|item| format!("{EDITION}{}\n", item.span().slice(&sample.text))));
    }
    all.sort_by(|one, other| (one.len(), one).cmp(&(other.len(), other)));
    all.dedup();
    all
}
