//! Errors of the language: every mistake in the folder of wrong inputs with its exact words, and what holds for all.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on may say so by a panic")]

use std::{
    fs,
    path::{Path, PathBuf},
};

use wattle_tests::told::Told;

/// Tests run in the folder of their package: no message may hold the path of a machine.
const FOLDER: &str = "fixtures/errors";

/// The wrong inputs, in the order of their names. What they use stands in the folder below.
fn inputs() -> Vec<PathBuf> {
    with_ending("wattle")
}

fn with_ending(ending: &str) -> Vec<PathBuf> {
    let entries = fs::read_dir(FOLDER).unwrap().map(|entry| entry.unwrap().path());
    let mut files: Vec<PathBuf> =
        entries.filter(|path| path.extension().is_some_and(|found| found == ending)).collect();
    files.sort();
    files
}

fn name(path: &Path) -> String {
    path.file_stem().unwrap_or_default().to_string_lossy().into_owned()
}

#[test]
fn every_input_is_told_in_these_words() {
    let update = std::env::var_os("UPDATE").is_some();
    let mut wrong = Vec::new();
    for input in inputs() {
        let (expected, told) = (input.with_extension("expected"), Told::of(&input).render());
        if update {
            fs::write(&expected, &told).unwrap();
        } else if fs::read_to_string(&expected).unwrap_or_default() != told {
            wrong.push(format!("{}:\n{told}", input.display()));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    let without_input: Vec<PathBuf> =
        with_ending("expected").into_iter().filter(|path| !path.with_extension("wattle").exists()).collect();
    assert!(without_input.is_empty(), "{without_input:?}");
}
