//! The page itself: nothing undefined, nothing unused, its lists those of the tables.
//!
//! `UPDATE=1 cargo test -p wattle-grammar --test formal` rewrites the lists.

use std::{collections::BTreeSet, fs};

use wattle_grammar::{
    kind::{self, statement},
    unit,
};

use super::{
    agreement::{Published, published},
    constraint,
    corpus::home,
    notation::{Expression, Production, is_token, productions},
    shape::is,
};

/// Productions that texts, not other productions, begin with.
const ROOTS: [&str; 4] = ["file", "BLANK", "COMMENT", "NEWLINE"];

fn names(expression: &Expression, found: &mut BTreeSet<String>) {
    match expression {
        Expression::Name(name) => _ = found.insert(name.clone()),
        Expression::Sequence(parts) | Expression::Choice(parts) => {
            parts.iter().for_each(|part| names(part, found));
        }
        Expression::Repeat { inner, .. } => names(inner, found),
        Expression::Except(one, other) => [one, other].into_iter().for_each(|part| names(part, found)),
        Expression::Literal(_) | Expression::Class { .. } => {}
    }
}

#[test]
fn every_name_is_defined_once_and_used() {
    let all = productions(&published().page);
    let defined: BTreeSet<String> = all.iter().map(|production| production.name.clone()).collect();
    assert_eq!(defined.len(), all.len(), "a production stands twice");
    let mut used = BTreeSet::new();
    all.iter().for_each(|production| names(&production.stands_for, &mut used));
    let undefined: Vec<_> = used.difference(&defined).collect();
    assert!(undefined.is_empty(), "undefined: {undefined:?}");
    used.extend(ROOTS.map(str::to_owned));
    let unused: Vec<_> = defined.difference(&used).collect();
    assert!(unused.is_empty(), "unused: {unused:?}");
}

#[test]
fn tokens_are_made_of_tokens_only() {
    for Production { name, stands_for, .. } in productions(&published().page) {
        let mut used = BTreeSet::new();
        names(&stands_for, &mut used);
        assert!(!is_token(&name) || used.iter().all(|inner| is_token(inner)), "{name}: {used:?}");
    }
}

#[test]
fn every_constraint_is_explained_and_checked() {
    let page = &published().page;
    let all = productions(page).into_iter().flat_map(|production| production.constraints);
    let used: BTreeSet<String> = all.collect();
    assert_eq!(used.iter().map(String::as_str).collect::<Vec<_>>(), constraint::NAMES);
    for name in used {
        assert!(page.contains(&format!("- **{name}**: ")), "{name} is not explained");
    }
}

#[test]
fn every_statement_of_the_table_has_its_production() {
    let Published { all, .. } = published();
    for word in statement::ALL.iter().map(|statement| statement.word).filter(|word| *word != "wattle") {
        let begins = |production: &Production| first_words(&production.stands_for).contains(&word);
        let Expression::Choice(choices) = &all["statement"].stands_for else {
            panic!("statements are a choice")
        };
        let found =
            choices.iter().any(|choice| matches!(choice, Expression::Name(name) if begins(&all[name])));
        assert!(found, "no statement begins with {word}");
    }
    assert!(is(all, &all["edition"].stands_for, "wattle1"), "the edition is `wattle` and `1`");
}

fn first_words(expression: &Expression) -> Vec<&str> {
    match expression {
        Expression::Literal(word) => vec![word],
        Expression::Sequence(parts) => parts.first().map(first_words).unwrap_or_default(),
        Expression::Choice(choices) => choices.iter().flat_map(first_words).collect(),
        _ => Vec::new(),
    }
}

/// A production that is a list of words, in lines of moderate length.
fn list(name: &str, words: impl Iterator<Item = String>) -> String {
    let mut text = format!("```ebnf\n{name:<12}::=");
    let mut column = text.len() - 8;
    for (at, word) in words.enumerate() {
        let piece = if at == 0 { format!(" {word}") } else { format!(" | {word}") };
        column += piece.chars().count();
        if column > 110 {
            text.push_str("\n             ");
            column = 13 + piece.chars().count();
        }
        text.push_str(&piece);
    }
    text + "\n```"
}

/// A spelling as the notation has it: letters that look like others are written by number.
fn spelt(spelling: &str) -> String {
    let mut pieces: Vec<String> = Vec::new();
    let mut literal = String::new();
    for letter in spelling.chars() {
        if matches!(letter, '\u{2126}' | '\u{3bc}') {
            pieces.extend((!literal.is_empty()).then(|| format!("'{}'", std::mem::take(&mut literal))));
            pieces.push(format!("#x{:X}", u32::from(letter)));
        } else {
            literal.push(letter);
        }
    }
    pieces.extend((!literal.is_empty()).then(|| format!("'{literal}'")));
    pieces.join(" ")
}

/// The page with its lists as the tables have them.
pub(crate) fn refreshed(page: &str) -> String {
    let units = unit::ALL.iter().flat_map(|unit| unit.spellings).filter(|spelling| **spelling != "%");
    let units = list("UNIT", units.map(|spelling| spelt(spelling)));
    let kinds = list("kind", kind::ALL.iter().map(|kind| format!("'{}'", kind.word)));
    [("units", units), ("kinds", kinds)].into_iter().fold(page.to_owned(), |page, (name, list)| {
        let (begin, end) = (format!("<!-- begin grammar-{name} -->"), format!("<!-- end grammar-{name} -->"));
        let (before, rest) = page.split_once(&begin).expect("the page has the mark");
        let (_, after) = rest.split_once(&end).expect("the page has the mark");
        format!("{before}{begin}\n\n{list}\n\n{end}{after}")
    })
}

#[test]
fn lists_are_those_of_the_tables() {
    let path = home().join("GRAMMAR.md");
    let page = fs::read_to_string(&path).expect("the page can be read");
    let fresh = refreshed(&page);
    if std::env::var_os("UPDATE").is_some() {
        fs::write(path, fresh).expect("the page can be written");
    } else {
        assert!(page == fresh, "GRAMMAR.md is out of date: run with UPDATE=1");
    }
}
