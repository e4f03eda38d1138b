//! Errors of the language: every mistake in the folder of wrong inputs with its exact words, and what holds for all.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on may say so by a panic")]

use std::{
    collections::{BTreeMap, BTreeSet},
    fmt::Write as _,
    fs,
    path::{Path, PathBuf},
};

use wattle_grammar::{error::TextError, kind::statement, span::Span};
use wattle_linter::{
    project::{self, MAX_FILE_BYTES, MAX_FILES},
    report::{Report, brief},
};
use wattle_tests::{command, memory::Memory, told::Told};

/// Tests run in the folder of their package, so no message holds the path of a machine.
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

/// A robot's text as a project of one file.
fn told(text: &str) -> Told {
    told_of(&[("robot.wattle", text.as_bytes())])
}

fn told_of(files: &[(&str, &[u8])]) -> Told {
    let files = files.iter().map(|(name, bytes)| (PathBuf::from(name), bytes.to_vec()));
    Told::of_project(project::open(Path::new("robot.wattle"), &Memory(files.collect())))
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

#[test]
fn one_mistake_is_one_error() {
    let inputs = inputs();
    assert!(inputs.len() >= 120, "{} inputs", inputs.len());
    for input in inputs {
        let errors = Told::of(&input).errors;
        match name(&input).starts_with("several-") {
            true => assert!(errors.len() > 1, "{}", input.display()),
            false => assert_eq!(errors.len(), 1, "{}: {errors:?}", input.display()),
        }
    }
}

/// What a person reads first must stand in an editor's one line; a few messages name a whole circle or path.
const LONG: [&str; 4] =
    ["language.file-cycle", "language.assembly-cycle", "language.part-cycle", "language.missing-file"];

#[test]
fn messages_keep_the_house_rules() {
    for input in inputs() {
        let told = Told::of(&input);
        for error in &told.errors {
            check(&told, error, &input.display().to_string());
        }
    }
}

fn check(told: &Told, error: &TextError, whose: &str) {
    let whose = format!("{whose}: {error:?}");
    for words in [&error.message, &error.label].into_iter().chain(&error.help) {
        let first = words.trim_start_matches(['`', '“']).chars().next();
        let quoted = words.starts_with('`');
        assert!(first.is_some_and(|first| quoted || !first.is_uppercase()), "lower case: {whose}");
        assert!(!words.ends_with('.') && !words.ends_with('!'), "no full stop: {whose}");
        // What stands between back quotes is the author's.
        let prose: String = words.split('`').step_by(2).collect();
        assert!(!prose.contains("illegal") && !prose.contains("please"), "house words: {whose}");
        assert!(!words.contains(['\n', '\r', '\t']), "one line: {whose}");
    }
    assert!(error.message.chars().count() <= 100 || LONG.contains(&error.name), "too long: {whose}");
    let others = error.related.iter().map(|(span, _)| *span).chain(error.mend.iter().map(|(span, _)| *span));
    for span in std::iter::once(error.span).chain(others) {
        assert!(lies_in_text(told, span), "outside the text: {whose}");
    }
    assert!(error.related.iter().all(|(_, words)| !words.is_empty()), "{whose}");
}

fn lies_in_text(told: &Told, span: Span) -> bool {
    let file = told.project.file(span.file);
    file.is_some_and(|file| file.text.get(span.start as usize..span.end as usize).is_some())
}

/// A mend takes its error away. Behind it may lie another mistake, but not on what was mended.
#[test]
fn mends_mend() {
    let mut count = 0;
    for input in inputs() {
        let Ok(text) = fs::read_to_string(&input) else { continue };
        for error in Told::of(&input).errors {
            let Some((span, new)) = error.mend.clone().filter(|(span, _)| span.file.0 == 0) else { continue };
            count += 1;
            let (start, end) = (span.start as usize, span.end as usize);
            let mended = format!("{}{new}{}", &text[..start], &text[end..]);
            let left = told(&mended).errors;
            let again = left.iter().any(|left| left.name == error.name && left.message == error.message);
            assert!(!again, "{}: {error:?} stays in\n{mended}", input.display());
            let on_it = left.iter().find(|left| {
                let from = left.span.start as usize;
                (start..start + new.len().max(1)).contains(&from) && !is_about_names(left)
            });
            assert!(on_it.is_none(), "{}: {on_it:?} in\n{mended}", input.display());
        }
    }
    assert!(count > 120, "{count} mends");
}

/// Files and things that the mended text names need not be there.
fn is_about_names(error: &TextError) -> bool {
    matches!(error.name, "language.missing-file" | "language.unknown-name")
}

/// The names of errors in the sources of the grammar and the linter, tests aside.
fn names_in_sources() -> BTreeSet<String> {
    let mut names = BTreeSet::new();
    let mut folders = vec![PathBuf::from("../grammar/src"), PathBuf::from("../linter/src")];
    while let Some(folder) = folders.pop() {
        for entry in fs::read_dir(folder).unwrap() {
            let path = entry.unwrap().path();
            if path.is_dir() {
                folders.push(path);
            } else if path.extension().is_some_and(|ending| ending == "rs") && name(&path) != "tests" {
                let text = fs::read_to_string(&path).unwrap();
                let own = text.split("#[cfg(test)]\nmod tests {").next().unwrap_or_default();
                let quoted = own.split('"').filter(|piece| piece.starts_with("language."));
                names.extend(quoted.filter(|name| name.len() > "language.".len()).map(str::to_owned));
            }
        }
    }
    names
}

#[test]
fn every_error_there_is_has_an_input() {
    let mut shown: BTreeSet<String> = BTreeSet::new();
    for input in inputs() {
        shown.extend(Told::of(&input).errors.iter().map(|error| error.name.to_owned()));
    }
    for (words, told) in beyond_all_use() {
        assert_eq!(told.errors.len(), 1, "{words}: {:?}", told.errors);
        for error in &told.errors {
            check(&told, error, words);
        }
        shown.extend(told.errors.iter().map(|error| error.name.to_owned()));
    }
    let there = names_in_sources();
    let without: Vec<&String> = there.difference(&shown).collect();
    assert!(without.is_empty(), "errors that no input shows: {without:?}");
    let unknown: Vec<&String> = shown.difference(&there).collect();
    assert!(unknown.is_empty(), "errors that no source has: {unknown:?}");
}

const HEAD: &str = "wattle 1\nrobot \"Heron\"\n";

/// Inputs that are too large to be kept: each is one mistake.
fn beyond_all_use() -> Vec<(&'static str, Told)> {
    let nested = |open: &str, inner: &str, close: &str| {
        format!("{HEAD}{}{inner}{}\n", open.repeat(10_000), close.repeat(10_000))
    };
    let ladder: String = (1..40).fold("assembly A0 {\n  stud S\n}\n".to_owned(), |text, level| {
        format!("{text}assembly A{level} {{\n  fit A{} as a\n}}\n", level - 1)
    });
    let doubling: String = (1..12).fold("assembly A0 {\n  stud S\n}\n".to_owned(), |text, level| {
        format!("{text}assembly A{level} {{\n  fit A{} as a, b, c, d, e, f, g, h\n}}\n", level - 1)
    });
    let modes = (0..201).fold(HEAD.to_owned(), |mut text, number| {
        let _ = writeln!(text, "mode m{number} {{ duty 50 % }}");
        text
    });
    let plugs: Vec<String> = (0..6_000).map(|number| format!("P{number}")).collect();
    vec![
        ("ten thousand blocks", told(&nested("assembly A { ", "stud S", " }"))),
        (
            "ten thousand parentheses",
            told(&nested("let A = (", "1 V", ")").replace("let A = (let A = (", "((")),
        ),
        ("ten thousand operations", told(&format!("{HEAD}let A = 1 V{}\n", " + 1 V".repeat(10_000)))),
        ("a very long number", told(&format!("{HEAD}light L {} V\n", "9".repeat(200_000)))),
        ("a very long open text", told(&format!("{HEAD}light L \"{}\n", "a".repeat(200_000)))),
        ("a very long word", told(&format!("{HEAD}{} L 12 V\n", "q".repeat(200_000)))),
        ("a very long name", told(&format!("{HEAD}stud S\ntie S to {}\n", "Q".repeat(200_000)))),
        ("assemblies too deep in each other", told(&format!("{HEAD}{ladder}fit A39 as x\n"))),
        ("assemblies that unfold to too much", told(&format!("{HEAD}{doubling}fit A11 as x\n"))),
        ("too many modes", told(&modes)),
        ("too many terminals", told(&format!("{HEAD}plug {} 200 way\n", plugs.join(", ")))),
        ("too large a file", told_of(&[("robot.wattle", &vec![b' '; MAX_FILE_BYTES + 1])])),
        ("too many files", too_many_files()),
    ]
}

fn too_many_files() -> Told {
    let mut files: BTreeMap<PathBuf, Vec<u8>> = BTreeMap::new();
    let mut root = HEAD.to_owned();
    for number in 0..=MAX_FILES {
        let _ = writeln!(root, "use \"f{number}.wattle\"");
        files.insert(PathBuf::from(format!("f{number}.wattle")), b"wattle 1\n".to_vec());
    }
    files.insert(PathBuf::from("robot.wattle"), root.into_bytes());
    Told::of_project(project::open(Path::new("robot.wattle"), &Memory(files)))
}

/// Every statement, broken off behind each of its words, costs one error at most and no line but its own.
#[test]
fn half_typed_statements_cost_their_line_alone() {
    for statement in statement::ALL {
        let words: Vec<&str> = statement.example.split(' ').collect();
        for count in 1..words.len() {
            let typed = words[..count].join(" ");
            let text = format!("{HEAD}{typed}\nlight EYES 12 V\nwire W-EYES EYES.pos to NOWHERE 18 AWG\n");
            let told = told(&text);
            let errors: Vec<&TextError> = told
                .errors
                .iter()
                .filter(|error| (error.span.start as usize) < HEAD.len() + typed.len())
                .collect();
            let of_text = &told.project.files[0].parse.errors;
            assert!(of_text.len() <= 1, "{typed}: {of_text:?}");
            assert!(errors.len() <= 1, "{typed}: {errors:?}");
            let lost = told.errors.iter().any(|error| error.message.contains("EYES"));
            assert!(!lost, "{typed}: {:?}", told.errors);
            for error in &errors {
                check(&told, error, &typed);
            }
        }
    }
}

/// The command prints these errors and no others.
#[test]
fn the_command_tells_the_same() {
    let run = command::run(Path::new("."), &["lint", "--as", "brief", FOLDER]).unwrap();
    let printed: BTreeSet<&str> = run.out.lines().filter(|line| line.contains(": error[language.")).collect();
    let mut expected = BTreeSet::new();
    for input in inputs() {
        let told = Told::of(&input);
        let verdict = wattle_linter::finding::Verdict { errors: told.errors, ..Default::default() };
        let root = input.display().to_string();
        let lines = brief::lines(&Report::new(&root, &told.project, &verdict));
        expected.extend(lines.lines().map(str::to_owned));
    }
    let expected: BTreeSet<&str> = expected.iter().map(String::as_str).collect();
    let (missing, unexpected) = (&expected - &printed, &printed - &expected);
    assert!(missing.is_empty() && unexpected.is_empty(), "missing {missing:#?}, unexpected {unexpected:#?}");
}
