//! Every trap of numbers, units, gauges and names: what is said of it, and what the mend makes of it.
//!
//! `tests/fixtures/traps/as-written.txt` holds them. A line that begins with `#` heads a trap; the line below it is what
//! somebody writes, in a robot with two studs; indented lines are what is said. `UPDATE=1` writes the indented lines
//! anew; the difference is then for a person to read.

use std::{fmt::Write as _, path::PathBuf};

use wattle_grammar::span::Span;
use wattle_linter::analysis::Analysis;
use wattle_tests::memory;

/// What stands before the line.
const ROBOT: &str = "wattle 1\nrobot \"Hut\"\nstud A\nstud B\n";

fn file() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("fixtures/traps/as-written.txt")
}

/// A trap: its heading lines, what is written, and what is said.
struct Trap<'t> {
    heading: Vec<&'t str>,
    line: &'t str,
    said: Vec<&'t str>,
}

fn traps(text: &str) -> Vec<Trap<'_>> {
    let mut traps: Vec<Trap<'_>> = Vec::new();
    let mut heading = Vec::new();
    for line in text.lines() {
        match (line.strip_prefix("    "), traps.last_mut()) {
            (Some(said), Some(trap)) => trap.said.push(said),
            _ if line.starts_with('#') || line.is_empty() => heading.push(line),
            _ => traps.push(Trap { heading: std::mem::take(&mut heading), line, said: Vec::new() }),
        }
    }
    traps
}

/// A line as a text: `\n` stands for a line end.
fn robot(line: &str) -> String {
    format!("{ROBOT}{}\n", line.replace("\\n", "\n"))
}

/// An answer: its words, and the text with its mend.
struct Answer {
    words: String,
    mended: Option<String>,
}

fn answers(text: &str) -> Vec<Answer> {
    let Analysis { verdict, .. } = memory::analyse(text);
    let errors = verdict.errors.iter().map(|error| {
        let edit = error.mend.as_ref().map(|(span, new)| mended(text, *span, new));
        let help = error.help.as_deref().unwrap_or("-");
        let words = format!("{} `{}`: {}; {help}", error.name, error.span.slice(text), error.message);
        Answer { words, mended: edit }
    });
    // What else is wrong with a robot of one line is no trap.
    let of_traps = |rule: &str| rule.starts_with("quantity.") || rule.starts_with("name.");
    let findings = verdict.findings.iter().filter(|finding| of_traps(finding.rule)).map(|finding| {
        let first = finding.help.first();
        let edit = first.and_then(|mend| mend.edits.first()).map(|edit| mended(text, edit.span, &edit.text));
        let help = first.map_or("-", |mend| mend.title.as_str());
        let (rule, severity) = (finding.rule, finding.severity.word());
        let words = format!("{severity} {rule} `{}`: {}; {help}", finding.span.slice(text), finding.message);
        Answer { words, mended: edit }
    });
    errors.chain(findings).collect()
}

fn mended(text: &str, span: Span, new: &str) -> String {
    format!("{}{new}{}", &text[..span.start as usize], &text[span.end as usize..])
}

/// The line of a robot's text, as the file has it.
fn line_of(text: &str) -> String {
    text.strip_prefix(ROBOT).unwrap_or(text).trim_end().replace('\n', "\\n")
}

fn said(line: &str) -> Vec<String> {
    let mut said = Vec::new();
    for answer in answers(&robot(line)) {
        said.push(answer.words);
        said.extend(answer.mended.map(|mended| format!("becomes {}", line_of(&mended))));
    }
    if said.is_empty() { vec!["nothing".to_owned()] } else { said }
}

#[test]
fn what_is_said_of_each_trap_is_what_the_file_says() {
    let text = std::fs::read_to_string(file()).unwrap();
    let traps = traps(&text);
    assert!(traps.len() > 80, "only {} traps", traps.len());
    let mut found = String::new();
    for trap in &traps {
        for line in &trap.heading {
            let _ = writeln!(found, "{line}");
        }
        let _ = writeln!(found, "{}", trap.line);
        for line in said(trap.line) {
            let _ = writeln!(found, "    {line}");
        }
    }
    if std::env::var_os("UPDATE").is_some() {
        std::fs::write(file(), &found).unwrap();
    } else {
        let differs = text.lines().zip(found.lines()).find(|(one, other)| one != other);
        assert!(text == found, "the file and what is said differ, first here: {differs:?}");
    }
}

#[test]
fn each_trap_is_one_error_or_finding_and_its_mend_mends_it() {
    let text = std::fs::read_to_string(file()).unwrap();
    for trap in traps(&text) {
        let line = trap.line;
        let found = answers(&robot(line));
        let fine = trap.said.first().is_some_and(|said| *said == "nothing");
        assert_eq!(found.len(), usize::from(!fine), "{line}: {:?}", said(line));
        for mended in found.iter().filter_map(|answer| answer.mended.as_ref()) {
            let left: Vec<String> = answers(mended).into_iter().map(|answer| answer.words).collect();
            assert!(left.is_empty(), "{line} mended to {}: {left:?}", line_of(mended));
        }
    }
}
