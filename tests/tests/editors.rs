//! The words that editors colour are those of the language's table. `UPDATE=1` writes the lists anew.
#![allow(clippy::unwrap_used, reason = "a test that cannot go on has failed")]

use std::{collections::BTreeSet, fs, path::PathBuf};

use wattle_grammar::kind::{self, key, statement};

/// A list of words: its name in the editors' files, and the words in order, each once.
struct List {
    name: &'static str,
    words: Vec<&'static str>,
}

/// A word in two lists is coloured as in the first.
fn lists() -> Vec<List> {
    let mut met = BTreeSet::new();
    let mut list = |name, words: Vec<&'static str>| List {
        name,
        words: words.into_iter().filter(|word| met.insert(*word)).collect(),
    };
    vec![
        list("statements", statement::ALL.iter().map(|statement| statement.word).collect()),
        list("kinds", kind::ALL.iter().map(|kind| kind.word).collect()),
        list("modes", statement::MODE_WORDS.iter().map(|word| word.word).collect()),
        list("keys", key::ALL.to_vec()),
    ]
}

fn group(list: &str) -> &'static str {
    match list {
        "statements" => "wattleStatement",
        "kinds" => "wattleKind",
        "modes" => "wattleMode",
        _ => "wattleKey",
    }
}

/// Words in lines of a width that people read.
fn wrapped(words: &[String], head: &str) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for word in words {
        match lines.last_mut().filter(|line| line.len() + word.len() < 100) {
            Some(line) => *line += &format!(" {word}"),
            None => lines.push(format!("{head}{word}")),
        }
    }
    lines
}

/// Writes the lists between `words: NAME` and `words: end`.
fn between_marks(text: &str, sign: &str, lines: impl Fn(&List) -> Vec<String>) -> String {
    let mut result = Vec::new();
    let mut inside = false;
    for line in text.lines() {
        let mark = line.split_once(&format!("{sign} words: ")).map(|(_, name)| name);
        inside &= mark != Some("end");
        if !inside {
            result.push(line.to_owned());
        }
        if let Some(list) = lists().iter().find(|list| Some(list.name) == mark) {
            result.extend(lines(list));
            inside = true;
        }
    }
    result.join("\n") + "\n"
}

fn vim(text: &str) -> String {
    between_marks(text, "\"", |list| {
        let words: Vec<String> = list.words.iter().map(|word| (*word).to_owned()).collect();
        wrapped(&words, &format!("syntax keyword {} ", group(list.name)))
    })
}

fn emacs(text: &str) -> String {
    between_marks(text, ";;", |list| {
        let words: Vec<String> = list.words.iter().map(|word| format!("\"{word}\"")).collect();
        wrapped(&words, "    ")
    })
}

/// Writes the lists into the lines of a grammar of regular expressions, the longer of two words first.
fn text_mate(text: &str) -> String {
    let scope = |list: &List| match list.name {
        "statements" => "keyword.control.wattle",
        "kinds" => "entity.name.type.wattle",
        "modes" => "constant.language.wattle",
        _ => "variable.parameter.wattle",
    };
    let line = |line: &str| {
        let found = lists().into_iter().find(|list| line.contains(&format!("\"name\": \"{}\"", scope(list))));
        found.map_or_else(
            || line.to_owned(),
            |mut list| {
                list.words.sort_by_key(|word| std::cmp::Reverse(word.len()));
                let words = list.words.join("|");
                format!(
                    r#"    {{ "name": "{}", "match": "(?<![\\w.-])(?:{words})(?![\\w-])" }},"#,
                    scope(&list)
                )
            },
        )
    };
    text.lines().map(line).collect::<Vec<_>>().join("\n") + "\n"
}

fn check(path: &str, made: fn(&str) -> String) {
    let path = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../editors").join(path);
    let text = fs::read_to_string(&path).unwrap();
    let made = made(&text);
    if std::env::var_os("UPDATE").is_some() {
        fs::write(&path, made).unwrap();
    } else {
        assert_eq!(text, made, "{} is out of date: run this test with UPDATE=1", path.display());
    }
}

#[test]
fn neovim_colours_the_words_of_the_table() {
    check("neovim/syntax/wattle.vim", vim);
}

#[test]
fn emacs_colours_the_words_of_the_table() {
    check("emacs/wattle-mode.el", emacs);
}

#[test]
fn vs_code_colours_the_words_of_the_table() {
    check("vscode/syntaxes/wattle.tmLanguage.json", text_mate);
    let path =
        PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../editors/vscode/syntaxes/wattle.tmLanguage.json");
    let grammar: serde_json::Value = serde_json::from_str(&fs::read_to_string(path).unwrap()).unwrap();
    assert_eq!(grammar["patterns"].as_array().map(Vec::len), Some(7));
}
