//! Robots told by an electrician in words and written in the language: both say the same, sentence by sentence.

#![allow(clippy::unwrap_used, clippy::expect_used, reason = "a test that cannot go on may say so by a panic")]

use std::{
    collections::BTreeSet,
    fs,
    path::{Path, PathBuf},
};

use wattle_grammar::{lexer::lex, parse, span::FileId, syntax::Date, tidy::tidy, token::TokenKind};
use wattle_linter::{analysis, files::DiskLoader, project};
use wattle_tests::fixture::files_below;

/// There are at least so many.
const LEAST: usize = 12;

/// A telling has at least and at most so many words.
const WORDS: std::ops::RangeInclusive<usize> = 600..=1000;

/// The day on which accepted risks are judged here: after every reading and before every last day.
const TODAY: Date = Date { year: 2026, month: 12, day: 1 };

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../examples/in-words")
}

/// The names of the files that end so.
fn names(ending: &str) -> BTreeSet<String> {
    let entries = fs::read_dir(folder()).unwrap();
    let paths = entries.map(|entry| entry.unwrap().path());
    let ended = paths.filter(|path| path.extension().is_some_and(|extension| extension == ending));
    ended.map(|path| path.file_stem().unwrap().to_str().unwrap().to_owned()).collect()
}

fn read(name: &str, ending: &str) -> String {
    fs::read_to_string(folder().join(format!("{name}.{ending}"))).unwrap()
}

/// The numbers in brackets, in the order in which they stand.
fn numbers(text: &str) -> Vec<u32> {
    let opened = text.split('[').skip(1);
    opened.filter_map(|rest| rest.split_once(']')?.0.parse().ok()).collect()
}

/// The numbers in the comments of a robot, in the order in which they stand.
fn numbers_in_comments(text: &str) -> Vec<u32> {
    let tokens = lex(text);
    let comments = tokens.iter().filter(|token| token.kind == TokenKind::Comment);
    comments.flat_map(|token| numbers(&text[token.start as usize..token.end as usize])).collect()
}

#[test]
fn every_robot_is_told_and_written() {
    assert_eq!(names("md"), names("wattle"));
    assert!(names("md").len() >= LEAST, "{} robots", names("md").len());
}

#[test]
fn a_telling_is_neither_short_nor_long() {
    for name in names("md") {
        let text = read(&name, "md");
        let words = text.split(|letter: char| !letter.is_alphabetic()).filter(|word| word.len() > 1).count();
        assert!(WORDS.contains(&words), "{name} has {words} words");
    }
}

#[test]
fn sentences_are_numbered_in_order() {
    for name in names("md") {
        let found = numbers(&read(&name, "md"));
        let last = u32::try_from(found.len()).unwrap();
        assert_eq!(found, (1..=last).collect::<Vec<_>>(), "{name}");
        assert!(last >= 30, "{name} says only {last} things");
    }
}

/// No sentence is left out, and no line claims a sentence that is not there.
#[test]
fn every_numbered_sentence_is_written_and_no_other() {
    for name in names("md") {
        let told: BTreeSet<u32> = numbers(&read(&name, "md")).into_iter().collect();
        let written: BTreeSet<u32> = numbers_in_comments(&read(&name, "wattle")).into_iter().collect();
        let unwritten: Vec<_> = told.difference(&written).collect();
        let untold: Vec<_> = written.difference(&told).collect();
        assert!(
            unwritten.is_empty() && untold.is_empty(),
            "{name}: not written {unwritten:?}, not told {untold:?}"
        );
    }
}

#[test]
fn every_text_is_laid_out() {
    for name in names("wattle") {
        let text = read(&name, "wattle");
        assert_eq!(tidy(&parse(FileId(0), &text), &text), text, "{name}");
    }
}

/// Nothing is wrong with them, nothing is found that is not accepted with its reason, and all of it was analysed.
#[test]
fn every_robot_is_clean() {
    for path in files_below(&folder()).unwrap() {
        let project = project::open(&path, &DiskLoader::within(path.parent().unwrap()));
        let verdict = analysis::analyse(project, Some(TODAY)).verdict;
        assert_eq!(verdict.errors, [], "{}", path.display());
        assert_eq!(verdict.incomplete, [""; 0], "{}", path.display());
        let open: Vec<_> = verdict.findings.iter().filter(|found| found.accepted.is_none()).collect();
        assert!(open.is_empty(), "{}: {open:#?}", path.display());
    }
}

#[test]
fn numbers_are_found_in_comments_only() {
    let text = "wattle 1\nlight L 12 V { note \"[7] # [8]\" }  # [1] [2]\n# above [3]\n";
    assert_eq!(numbers_in_comments(text), [1, 2, 3]);
    assert_eq!(numbers("One. [1] Two [aside] and [2]."), [1, 2]);
}
