//! The language reference: its generated parts are those of the table, and each of its examples is sound and laid out.
//!
//! `UPDATE=1 cargo test -p wattle-grammar --test reference` rewrites the generated parts and lays out the examples.

// A test may read and write the page; the ban is for the library.
#![allow(clippy::disallowed_methods)]

use wattle_grammar::{
    kind::{self, page, statement},
    parse,
    span::FileId,
    tidy::tidy,
};

const PATH: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/REFERENCE.md");
const FENCE: &str = "```wattle\n";
const EDITION: &str = "wattle 1\n";

fn reference() -> String {
    std::fs::read_to_string(PATH).unwrap_or_default()
}

/// The text of every fence.
fn examples(page: &str) -> Vec<&str> {
    let fences = page.split(FENCE).skip(1);
    fences.filter_map(|rest| rest.split_once("```")).map(|(example, _)| example).collect()
}

/// An example as a file: many leave the edition out.
fn whole(example: &str) -> String {
    if example.starts_with(EDITION) { example.to_owned() } else { format!("{EDITION}{example}") }
}

fn laid_out(example: &str) -> String {
    let text = whole(example);
    let after = tidy(&parse(FileId(0), &text), &text);
    if example.starts_with(EDITION) { after } else { after.replacen(EDITION, "", 1) }
}

/// The page with its examples laid out.
fn with_layout(page: &str) -> String {
    let mut parts = page.split(FENCE);
    let first = parts.next().unwrap_or_default().to_owned();
    parts.fold(first, |page, part| {
        let (example, rest) = part.split_once("```").unwrap_or((part, ""));
        format!("{page}{FENCE}{}```{rest}", laid_out(example))
    })
}

/// What is wrong with an example, as the reader would see it.
fn complaints(example: &str) -> Vec<String> {
    let parsed = parse(FileId(0), &whole(example));
    let empty = parsed.file.items.len() < 2;
    let nothing = empty.then(|| format!("nothing was read from: {example}"));
    parsed.errors.into_iter().map(|error| format!("{}: {}", error.message, example)).chain(nothing).collect()
}

#[test]
fn generated_parts_are_those_of_the_table_and_examples_are_laid_out() {
    let page = reference();
    for page::Part { name, .. } in page::PARTS {
        assert!(page.contains(&format!("<!-- begin {name} -->")), "the reference has no part {name}");
    }
    let fresh = with_layout(&page::refresh(&page));
    if std::env::var_os("UPDATE").is_some() {
        std::fs::write(PATH, &fresh).expect("the reference can be written");
    } else {
        assert!(page == fresh, "REFERENCE.md is out of date: run with UPDATE=1");
    }
}

#[test]
fn examples_of_the_reference_parse() {
    let page = reference();
    let wrong: Vec<_> = examples(&page).into_iter().flat_map(complaints).collect();
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn examples_of_the_table_parse() {
    let kinds = kind::ALL.iter().map(|kind| kind.example);
    let statements =
        statement::ALL.iter().map(|entry| entry.example).filter(|example| *example != "wattle 1");
    let wrong: Vec<_> = kinds.chain(statements).flat_map(complaints).collect();
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn examples_of_mode_words_parse() {
    let lines = statement::MODE_WORDS.iter().map(|entry| format!("mode trial {{ {} }}", entry.example));
    let wrong: Vec<_> = lines.flat_map(|line| complaints(&line)).collect();
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}
