//! The names that texts may rely on: `edition-1.txt` lists them, and none may go.
//!
//! `UPDATE=1 cargo test -p wattle-grammar --test formal` adds new names. A name that goes is taken off by hand, and only
//! while it has not been released.

use std::{collections::BTreeSet, fs};

use wattle_grammar::{
    kind::{self, Rating, setting, statement},
    unit,
};

use super::corpus::home;

/// The lines for the keys of a list of ratings, and for the words behind them.
fn keys(of: &str, ratings: impl Iterator<Item = &'static Rating>) -> Vec<String> {
    let lines = ratings.flat_map(|rating| {
        let words = rating.words().iter().map(move |(word, _)| format!("word {of} {} {word}", rating.key));
        std::iter::once(format!("key {of} {}", rating.key)).chain(words)
    });
    lines.collect()
}

fn names() -> BTreeSet<String> {
    let mut all = BTreeSet::new();
    all.extend(statement::ALL.iter().map(|statement| format!("statement {}", statement.word)));
    all.extend(statement::MODE_WORDS.iter().map(|word| format!("mode-word {}", word.word)));
    all.extend(unit::ALL.iter().flat_map(|unit| unit.spellings).map(|spelling| format!("unit {spelling}")));
    for kind in kind::ALL {
        all.insert(format!("kind {}", kind.word));
        let terminals =
            kind.terminals.iter().flat_map(|terminal| terminal.aliases.iter().chain([&terminal.name]));
        all.extend(terminals.map(|name| format!("terminal {} {name}", kind.word)));
        all.extend(keys(kind.word, kind.all_ratings()));
    }
    for (of, ratings) in [
        ("robot", setting::ROBOT),
        ("place", setting::PLACE),
        ("group", setting::GROUP),
        ("wire", setting::WIRE),
        ("harness", setting::HARNESS),
        ("mate", setting::MATE),
        ("mode", setting::MODE),
        ("port", setting::PORT),
    ] {
        all.extend(keys(of, ratings.iter()));
    }
    all
}

#[test]
fn no_name_goes() {
    let path = home().join("edition-1.txt");
    let list = fs::read_to_string(&path).unwrap_or_default();
    let promised: BTreeSet<String> = list.lines().map(str::to_owned).collect();
    let present = names();
    let gone: Vec<_> = promised.difference(&present).collect();
    assert!(gone.is_empty(), "names of the edition are gone: {gone:?}");
    if std::env::var_os("UPDATE").is_some() {
        let lines: String = present.iter().map(|name| format!("{name}\n")).collect();
        fs::write(path, lines).expect("the list can be written");
    } else {
        let new: Vec<_> = present.difference(&promised).collect();
        assert!(new.is_empty(), "edition-1.txt lacks {new:?}: run with UPDATE=1");
    }
}
