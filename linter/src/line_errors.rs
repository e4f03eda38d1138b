//! One error for each line of a statement or setting: the first mistake of a line often makes up the others.
//!
//! The parser keeps to this by itself. What is told later, about names and values, is told only where the line was read
//! without an error, and only the first of it.

use std::collections::{BTreeMap, BTreeSet};

use wattle_grammar::{
    error::TextError,
    span::{FileId, Span},
    token::TokenKind,
};

use crate::project::{Project, SourceFile};

/// Keeps the first `of_text` errors, which are those of the files and their text, and of the others the first of each
/// line that has none of those.
pub(crate) fn one_for_each(project: &Project, of_text: usize, errors: &mut Vec<TextError>) {
    let mut others = errors.split_off(of_text.min(errors.len()));
    if others.is_empty() {
        return;
    }
    others.sort_by_key(|error| error.span);
    let mut lines = Lines { project, ends: BTreeMap::new() };
    let mut told: BTreeSet<(FileId, usize)> = errors.iter().map(|error| lines.of(error.span)).collect();
    // A brace that is missing or too much upsets its whole line.
    let upset: BTreeSet<(FileId, u32)> = errors
        .iter()
        .filter(|error| is_about_braces(error))
        .map(|error| text_line(project, error.span))
        .collect();
    others.retain(|error| !upset.contains(&text_line(project, error.span)));
    errors.extend(others.into_iter().filter(|error| told.insert(lines.of(error.span))));
}

fn is_about_braces(error: &TextError) -> bool {
    matches!(error.name, "language.unclosed-block" | "language.stray-brace" | "language.missing-brace")
}

/// The line of the text that a place begins on.
fn text_line(project: &Project, place: Span) -> (FileId, u32) {
    (place.file, project.file(place.file).map_or(0, |file| file.lines.line(place.start)))
}

/// Where the lines of each file end.
struct Lines<'p> {
    project: &'p Project,
    ends: BTreeMap<FileId, Vec<u32>>,
}

impl Lines<'_> {
    /// The line that a place begins on.
    fn of(&mut self, place: Span) -> (FileId, usize) {
        let project = self.project;
        let ends = self
            .ends
            .entry(place.file)
            .or_insert_with(|| project.file(place.file).map_or_else(Vec::new, ends));
        (place.file, ends.partition_point(|end| *end <= place.start))
    }
}

/// The ends of the lines of a file that stand for a statement or setting, or a part of one.
fn ends(file: &SourceFile) -> Vec<u32> {
    let ends = file
        .parse
        .tokens
        .iter()
        .filter(|token| matches!(token.kind, TokenKind::Newline | TokenKind::Semicolon));
    ends.map(|token| token.end).collect()
}
