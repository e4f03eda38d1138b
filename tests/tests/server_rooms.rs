//! What the language server's rooms promise: who may name which library, and how thin the protocol's methods are.
#![allow(clippy::unwrap_used, reason = "a test that cannot go on has failed")]

use std::{
    fs,
    path::{Path, PathBuf},
};

/// The most lines that the body of a protocol method may have.
const MOST_LINES: usize = 5;

fn sources(folder: &Path) -> Vec<PathBuf> {
    let mut found = Vec::new();
    for path in fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()) {
        if path.is_dir() {
            found.extend(sources(&path));
        } else if path.extension().is_some_and(|ending| ending == "rs") {
            found.push(path);
        }
    }
    found.sort();
    found
}

fn lsp() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../lsp/src")
}

/// The files whose code names `library`, relative to the server's sources.
fn naming(library: &str) -> Vec<String> {
    let names = |path: &PathBuf| {
        let text = fs::read_to_string(path).unwrap();
        text.lines().any(|line| !line.trim_start().starts_with("//") && line.contains(library))
    };
    let relative = |path: PathBuf| path.strip_prefix(lsp()).unwrap().to_string_lossy().replace('\\', "/");
    sources(&lsp()).into_iter().filter(names).map(relative).collect()
}

#[test]
fn one_file_names_the_rope() {
    assert_eq!(naming("ropey"), ["document.rs"]);
}

#[test]
fn four_files_name_the_protocols_types() {
    assert_eq!(naming("tower_lsp"), ["capabilities.rs", "convert.rs", "main.rs", "server.rs"]);
}

/// The methods of the protocol: name and body lines.
fn methods() -> Vec<(String, Vec<String>)> {
    let text = fs::read_to_string(lsp().join("server.rs")).unwrap();
    let body = text.split_once("impl LanguageServer for Server {").unwrap().1.split_once("\n}\n").unwrap().0;
    let mut methods: Vec<(String, Vec<String>)> = Vec::new();
    for line in body.lines() {
        if let Some(rest) = line.strip_prefix("    async fn ") {
            methods.push((rest.split('(').next().unwrap().to_owned(), Vec::new()));
        } else if line.starts_with("        ") {
            methods.last_mut().unwrap().1.push(line.to_owned());
        }
    }
    methods
}

#[test]
fn methods_are_thin() {
    for (name, lines) in methods() {
        assert!(lines.len() <= MOST_LINES, "`{name}` has {} lines", lines.len());
        let branches =
            |line: &&String| line.contains("if ") || line.contains("match ") || line.contains("for ");
        assert_eq!(lines.iter().find(branches), None, "`{name}` decides something");
    }
}

#[test]
fn methods_that_change_the_state_wait_for_nothing() {
    let changing: Vec<_> =
        methods().into_iter().filter(|(_, lines)| lines.concat().contains(".tell(")).collect();
    assert!(changing.len() >= 8, "the notifications of the server");
    for (name, lines) in changing {
        assert!(!lines.concat().contains(".await"), "`{name}` could be overtaken");
    }
}
