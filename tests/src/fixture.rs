//! Fixtures: texts of the language in which every finding is marked where it must be, and none may be elsewhere.
//!
//! A mark is a comment line under the line it speaks of:
//!
//! ```text
//! wire W2 F1.load to LAMP.pos 18 AWG red 300 mm
//! #                           ^^^^^^ danger[wire.undersized]: `W2` is protected by …
//! ```
//!
//! The carets stand under the marked characters (counted as the eye sees them, so a mark behind `µ` proves the column
//! arithmetic). Lines that begin with `#=` at the end list what could not be assessed. Marks are taken out before the
//! text is analysed. `UPDATE=1` writes the marks anew; the difference is then for a person to read.

use std::{
    collections::BTreeMap,
    fmt::Write as _,
    path::{Path, PathBuf},
};

use wattle_grammar::{line_index::Encoding, span::Span};
use wattle_linter::analysis::Analysis;

use crate::memory;

/// A mark: where, and what is said there.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Mark {
    /// Line of the text without marks, from 0.
    pub line: usize,
    /// First marked character of the line, from 0.
    pub column: usize,
    /// Number of marked characters, at least 1.
    pub width: usize,
    /// `severity[rule]: message`.
    pub words: String,
}

/// A fixture taken apart.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fixture {
    /// The text without marks.
    pub text: String,
    /// The marks, in order.
    pub marks: Vec<Mark>,
    /// The lines on what could not be assessed.
    pub notes: Vec<String>,
}

impl Fixture {
    /// Takes a marked text apart.
    #[must_use]
    pub fn read(marked: &str) -> Self {
        let (mut text, mut marks, mut notes) = (String::new(), Vec::new(), Vec::new());
        let mut lines = 0;
        for line in marked.split_inclusive('\n') {
            if let Some(mark) = mark(line, lines) {
                marks.push(mark);
            } else if let Some(note) = line.strip_prefix("#=") {
                notes.push(note.trim().to_owned());
            } else {
                text.push_str(line);
                lines += 1;
            }
        }
        marks.sort();
        Self { text, marks, notes }
    }

    /// What the analysis of its text finds, as marks.
    #[must_use]
    pub fn found(&self) -> Self {
        let analysis = memory::analyse(&self.text);
        let mut marks: Vec<Mark> =
            said(&analysis).into_iter().map(|(span, words)| place(&self.text, span, words)).collect();
        marks.sort();
        let notes = analysis
            .verdict
            .not_assessed
            .iter()
            .map(|entry| {
                format!("not assessed: {}: {} ({})", entry.subject, entry.missing, entry.blocks.join(", "))
            })
            .chain(analysis.verdict.incomplete.iter().map(|why| format!("incomplete: {why}")))
            .collect();
        Self { text: self.text.clone(), marks, notes }
    }

    /// The text with its marks in.
    #[must_use]
    pub fn write(&self) -> String {
        let mut by_line: BTreeMap<usize, Vec<&Mark>> = BTreeMap::new();
        for mark in &self.marks {
            by_line.entry(mark.line).or_default().push(mark);
        }
        let mut marked = String::new();
        for (number, line) in self.text.split_inclusive('\n').enumerate() {
            marked.push_str(line);
            for mark in by_line.remove(&number).into_iter().flatten() {
                if !marked.ends_with('\n') {
                    marked.push('\n');
                }
                // A mark in the very first column would stand where the comment sign stands: it is shifted by one.
                let column = mark.column.max(1);
                let _ =
                    writeln!(marked, "#{}{} {}", " ".repeat(column - 1), "^".repeat(mark.width), mark.words);
            }
        }
        for note in &self.notes {
            let _ = writeln!(marked, "#= {note}");
        }
        marked
    }
}

/// Everything a verdict says at a place.
fn said(analysis: &Analysis) -> Vec<(Span, String)> {
    let verdict = &analysis.verdict;
    let errors =
        verdict.errors.iter().map(|error| (error.span, format!("error[{}]: {}", error.name, error.message)));
    let findings = verdict.findings.iter().map(|finding| {
        let accepted = if finding.accepted.is_some() { "accepted " } else { "" };
        (
            finding.span,
            format!("{accepted}{}[{}]: {}", finding.severity.word(), finding.rule, finding.message),
        )
    });
    errors.chain(findings).collect()
}

fn mark(line: &str, lines: usize) -> Option<Mark> {
    let rest = line.strip_prefix('#')?;
    let blanks = rest.chars().take_while(|character| *character == ' ').count();
    let carets = rest.chars().skip(blanks).take_while(|character| *character == '^').count();
    let words = rest.chars().skip(blanks + carets).collect::<String>().trim().to_owned();
    (carets > 0).then_some(Mark { line: lines.checked_sub(1)?, column: blanks + 1, width: carets, words })
}

/// A span as a mark; one that goes over several lines marks the first.
fn place(text: &str, span: Span, words: String) -> Mark {
    let index = wattle_grammar::line_index::LineIndex::new(text);
    let start = index.locate(text, span.start, Encoding::Utf32);
    let end = index.locate(text, span.end, Encoding::Utf32);
    let line_end = index.range(start.line).map_or(span.end, |(_, end)| end);
    let last = index.locate(text, line_end, Encoding::Utf32);
    let stop = if end.line == start.line { end.column } else { last.column.max(start.column + 1) };
    let width = (stop.saturating_sub(start.column)).max(1) as usize;
    Mark { line: start.line as usize, column: (start.column as usize).max(1), width, words }
}

/// Checks one fixture file, or writes it anew when `UPDATE` is set.
///
/// # Errors
/// What is missing and what is there unasked, in words.
pub fn check(path: &Path) -> Result<(), String> {
    let marked = std::fs::read_to_string(path).map_err(|error| format!("{}: {error}", path.display()))?;
    let expected = Fixture::read(&marked);
    let found = expected.found();
    if std::env::var_os("UPDATE").is_some() {
        return std::fs::write(path, found.write()).map_err(|error| format!("{}: {error}", path.display()));
    }
    let (missing, unasked) = (without(&expected, &found), without(&found, &expected));
    if missing.is_empty() && unasked.is_empty() {
        return Ok(());
    }
    Err(format!("{}\n  missing:\n{}  not asked for:\n{}", path.display(), missing.join(""), unasked.join("")))
}

/// The marks and notes of `a` that `b` lacks, a line each.
fn without(a: &Fixture, b: &Fixture) -> Vec<String> {
    let marks = a.marks.iter().filter(|mark| !b.marks.contains(mark));
    let lines = marks.map(|mark| format!("    {}:{} {}\n", mark.line + 1, mark.column + 1, mark.words));
    let notes = a.notes.iter().filter(|note| !b.notes.contains(note)).map(|note| format!("    {note}\n"));
    lines.chain(notes).collect()
}

/// Every `.wattle` file below a folder, sorted.
///
/// # Errors
/// Those of reading the folder.
pub fn files_below(folder: &Path) -> std::io::Result<Vec<PathBuf>> {
    let mut files = Vec::new();
    let mut folders = vec![folder.to_owned()];
    while let Some(folder) = folders.pop() {
        for entry in std::fs::read_dir(folder)? {
            let path = entry?.path();
            if path.is_dir() {
                folders.push(path);
            } else if path.extension().is_some_and(|extension| extension == "wattle") {
                files.push(path);
            }
        }
    }
    files.sort();
    Ok(files)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn marks_come_out_and_go_back_in() {
        let marked =
            "wattle 1\n# a remark stays\nwire µ x\n#    ^^^ danger[a.b]: words\n#= not assessed: x: y (z)\n";
        let fixture = Fixture::read(marked);
        assert_eq!(fixture.text, "wattle 1\n# a remark stays\nwire µ x\n");
        assert_eq!(
            fixture.marks,
            [Mark { line: 2, column: 5, width: 3, words: "danger[a.b]: words".into() }]
        );
        assert_eq!(fixture.write(), marked);
    }
}
