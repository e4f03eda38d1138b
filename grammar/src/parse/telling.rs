//! Which of the mistakes that were seen are told: of each line one, and of those that one mistake made, the first.

use std::collections::BTreeSet;

use super::{
    braces, complaint,
    lexeme::{Lexemes, Sign},
    source::Source,
};
use crate::{error::TextError, span::Span};

/// The errors in place order, one for each line that ends a statement or setting: a mistake often upsets what stands
/// beside it. What is wrong with a sign, the first `of_signs` of the complaints, says most; then what the productions
/// know by name; then what the grammar missed.
pub(super) fn told(source: Source<'_>, of_signs: usize, missed: Vec<TextError>) -> Vec<TextError> {
    let Source { text, lexemes, complaints: known, .. } = source;
    if known.is_empty() && missed.is_empty() {
        return Vec::new();
    }
    let lines = Lines::of(text, lexemes);
    let ranked = known.into_iter().enumerate().map(|(at, error)| (usize::from(at >= of_signs), error));
    let ranked = ranked.chain(missed.into_iter().map(|error| (2, error)));
    // A statement that is nested beyond all use is not read, so nothing else is known of it.
    let ranked: Vec<(usize, TextError)> = ranked.collect();
    let deep: BTreeSet<usize> = ranked
        .iter()
        .filter(|(_, error)| error.name == TOO_DEEP)
        .map(|(_, error)| lines.line(error.span))
        .collect();
    let ranked = ranked
        .into_iter()
        .filter(|(_, error)| error.name == TOO_DEEP || !deep.contains(&lines.line(error.span)));
    let mut blocks = BTreeSet::new();
    // Blocks that are open one in the other at a line's end are one mistake.
    let ranked =
        ranked.filter(|(_, error)| !braces::is_about(error) || blocks.insert(lines.line(error.span)));
    let mut all: Vec<(usize, usize, TextError)> =
        ranked.map(|(rank, error)| (lines.part(error.span), rank, error)).collect();
    all.sort_by_key(|(part, rank, error)| (*part, *rank, error.span.start));
    all.dedup_by_key(|(part, ..)| *part);
    let errors = braces_last(text, all.into_iter().map(|(.., error)| error).collect());
    without_followers(text, errors)
}

/// Where the lines of statements and settings end.
struct Lines {
    ends: Vec<u32>,
    /// The same, and the open braces behind which the line of the text ends: what stands below one is no part of its
    /// line.
    parts: Vec<u32>,
}

impl Lines {
    fn of(text: &str, lexemes: &Lexemes) -> Self {
        let (mut ends, mut parts) = (Vec::new(), Vec::new());
        for (lexeme, next) in lexemes.all.iter().zip(lexemes.all.iter().skip(1)) {
            match lexeme.sign {
                Sign::End => {
                    ends.push(lexeme.start);
                    parts.push(lexeme.start);
                }
                Sign::Open if !on_one_line(text, lexeme.end, next.start) => parts.push(lexeme.end),
                _ => {}
            }
        }
        Self { ends, parts }
    }

    fn line(&self, place: Span) -> usize {
        self.ends.partition_point(|end| *end < place.start)
    }

    fn part(&self, place: Span) -> usize {
        self.parts.partition_point(|end| *end < place.start)
    }
}

/// Leaves out errors about braces where the same line of the text has another error, or the line on which the block was
/// taken to end has: that mistake upset the braces.
fn braces_last(text: &str, errors: Vec<TextError>) -> Vec<TextError> {
    let (braces, others): (Vec<TextError>, Vec<TextError>) = errors.into_iter().partition(braces::is_about);
    let beside_other = |span: Span| {
        let next = others.partition_point(|other| other.span.start < span.start);
        let near = next.checked_sub(1).into_iter().chain([next]).filter_map(|at| others.get(at));
        near.into_iter().any(|other| on_one_line(text, other.span.start, span.start))
    };
    let alone = |error: &TextError| {
        !beside_other(error.span) && !error.related.iter().any(|(place, _)| beside_other(*place))
    };
    let mut kept: Vec<TextError> = Vec::new();
    for brace in braces.into_iter().filter(alone) {
        if !kept.last().is_some_and(|before| on_one_line(text, before.span.start, brace.span.start)) {
            kept.push(brace);
        }
    }
    kept.extend(others);
    kept.sort_by_key(|error| error.span.start);
    kept
}

/// Leaves out what an error of the line before explains: the other quote of a text that was meant to go over lines, and
/// lines that hang below a broken statement as its settings do.
fn without_followers(text: &str, errors: Vec<TextError>) -> Vec<TextError> {
    let mut kept: Vec<TextError> = Vec::with_capacity(errors.len());
    // The line that was looked at last, whether it was told or not.
    let mut last: Option<u32> = None;
    for error in errors {
        let follows = last.is_some_and(|last| is_next_line(text, last, error.span.start));
        last = Some(error.span.start);
        let before = kept.last_mut().filter(|_| follows);
        let explained = before.is_some_and(|before| explains(text, before, &error));
        if !explained {
            kept.push(error);
        }
    }
    kept
}

/// Whether an error accounts for one on a line that follows it.
fn explains(text: &str, first: &mut TextError, error: &TextError) -> bool {
    if first.name == UNCLOSED && error.name == UNCLOSED && closes_only(text, error.span) {
        *first = complaint::over_lines(first.clone());
        return true;
    }
    let hangs = indent(text, error.span.start) > indent(text, first.span.start);
    let opens = line(text, first.span.start).contains('{');
    error.name == "language.unknown-statement" && hangs && !opens
}

const TOO_DEEP: &str = "language.too-deep";
const UNCLOSED: &str = "language.unclosed-text";

/// Whether the quote that opens here is the only one of its line, so that it may have been meant to close.
fn closes_only(text: &str, span: Span) -> bool {
    let before = text.get(line_start(text, span.start)..span.start as usize).unwrap_or("");
    !before.contains('"')
}

/// How far a line is indented, bytes.
fn indent(text: &str, at: u32) -> usize {
    let line = line(text, at);
    line.len() - line.trim_start_matches([' ', '\t']).len()
}

/// The line that a place lies on.
fn line(text: &str, at: u32) -> &str {
    let rest = text.get(line_start(text, at)..).unwrap_or("");
    rest.split(['\n', '\r']).next().unwrap_or("")
}

fn line_start(text: &str, at: u32) -> usize {
    let before = text.get(..at as usize).unwrap_or("");
    before.rfind(['\n', '\r']).map_or(0, |end| end + 1)
}

/// Whether no line end lies between two places.
fn on_one_line(text: &str, one: u32, other: u32) -> bool {
    let between = text.get(one.min(other) as usize..one.max(other) as usize).unwrap_or("");
    !between.contains(['\n', '\r'])
}

/// Whether one line end lies between two places.
fn is_next_line(text: &str, one: u32, other: u32) -> bool {
    let between = text.get(one as usize..other as usize).unwrap_or("");
    let ends = between.match_indices(['\n', '\r']);
    let whole = ends.filter(|(at, _)| !between.get(*at..).is_some_and(|rest| rest.starts_with("\r\n")));
    whole.take(2).count() == 1
}
