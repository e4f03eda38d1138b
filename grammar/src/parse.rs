//! Text to tree: tokens, lexemes, then the grammar, statement by statement. This room alone names chumsky.
//!
//! A statement that does not fit the grammar becomes [`Item::Broken`] and costs one error; a line of a block that does
//! not fit is left out of its block.

mod braces;
mod complaint;
mod grammar;
mod lexeme;
mod miss;
mod reading;
mod source;
mod wording;
mod words;

use std::borrow::Cow;

use chumsky::{Parser, error::EmptyErr};

use crate::{
    Parse,
    error::TextError,
    lexer::lex,
    span::{FileId, Span},
    syntax::{AllItems, File, Item},
    token::{Token, TokenKind},
};
pub(crate) use braces::balanced as braces_match;
use grammar::Statements as Grammar;
use lexeme::{Lexeme, Sign, Stretch};
use miss::Miss;
use source::Source;
use words::Word;

/// Largest file that is read, bytes.
pub const LARGEST_FILE: usize = 64_000_000;

/// Reads a file's text. Total: never fails, never panics.
#[must_use]
pub fn parse(file: FileId, text: &str) -> Parse {
    if text.len() > LARGEST_FILE {
        return refuse(file, text);
    }
    let tokens = lex(text);
    let mended = braces::mend(file, text, &tokens);
    let (matched, mut known) = match mended {
        Some((matched, errors)) => (Cow::Owned(matched), errors),
        None => (Cow::Borrowed(tokens.as_slice()), Vec::new()),
    };
    let (lexemes, complaints) = reading::read(file, text, &matched);
    known.extend(complaints);
    let source = Source { text, file, lexemes: &lexemes, complaints: known };
    let mut statements =
        Statements { source, items: Vec::with_capacity(lexemes.stretches.len()), misses: Vec::new() };
    statements.read_all();
    statements.editions();
    let Statements { source, items, misses } = statements;
    let errors = one_for_each_line(source, misses);
    Parse { file: File { items }, tokens, errors }
}

/// A file that is too large is one unknown token and one error.
fn refuse(file: FileId, text: &str) -> Parse {
    let end = u32::try_from(text.len()).unwrap_or(u32::MAX);
    let tokens = vec![Token { kind: TokenKind::Unknown, start: 0, end }];
    let errors = vec![complaint::too_large(Span::file_start(file), text.len(), LARGEST_FILE)];
    Parse { file: File::default(), tokens, errors }
}

/// The run of the grammar over a file.
struct Statements<'s> {
    source: Source<'s>,
    items: Vec<Item>,
    misses: Vec<TextError>,
}

impl<'s> Statements<'s> {
    fn read_all(&mut self) {
        let quick = Grammar::<EmptyErr>::new();
        // Made only when a statement needs it.
        let mut careful = None;
        let lexemes = self.source.lexemes;
        for stretch in &lexemes.stretches {
            let statement = lexemes.all.get(stretch.first..stretch.past).unwrap_or(&[]);
            let item = self.read(&quick, &mut careful, *stretch, statement);
            self.items.push(item.unwrap_or_else(|| Item::Broken(self.source.span(statement))));
        }
    }

    /// Reads a statement: quickly, and only if it does not fit, again with a record of what was missed.
    fn read(
        &mut self,
        quick: &Grammar<'s, EmptyErr>,
        careful: &mut Option<Grammar<'s, Miss>>,
        stretch: Stretch,
        statement: &'s [Lexeme],
    ) -> Option<Item> {
        if stretch.too_deep {
            return None;
        }
        let word = self.beginning(statement)?;
        let complaints = self.source.complaints.len();
        let result = quick.beginning(word)?.parse_with_state(statement, &mut self.source);
        if let Ok(item) = result.into_result() {
            return Some(item);
        }
        self.source.complaints.truncate(complaints);
        let rule = careful.get_or_insert_with(Grammar::new).beginning(word)?;
        let (item, misses) = rule.parse_with_state(statement, &mut self.source).into_output_errors();
        for miss in misses {
            self.misses.push(wording::word(miss, statement, &self.source));
        }
        item
    }

    /// The word that a statement begins with; complains if it begins with none of the language's.
    fn beginning(&mut self, statement: &[Lexeme]) -> Option<Word> {
        let first = statement.first()?;
        let (text, span) = (self.source.slice(first), first.span(self.source.file));
        match first.sign {
            Sign::Word(word) if word.begins_statement() => return Some(word),
            Sign::Word(_) => self.misses.push(complaint::unknown_beginning(span, text, &[])),
            _ => self.misses.push(complaint::no_beginning(span, text)),
        }
        None
    }

    /// The edition stands first and once, and is known.
    fn editions(&mut self) {
        let first = self
            .source
            .lexemes
            .stretches
            .first()
            .and_then(|stretch| self.source.lexemes.all.get(stretch.first));
        let Some(first) = first else { return };
        if first.sign != Sign::Word(Word::Wattle) && !words::resembles(self.source.slice(first), "wattle") {
            let start = if self.source.text.starts_with('\u{feff}') { 3 } else { 0 };
            let insert = Span::new(self.source.file, start, start);
            self.source.complaints.push(complaint::missing_edition(first.span(self.source.file), insert));
        }
        for (at, item) in AllItems::of(&self.items).enumerate() {
            match item {
                Item::Edition(edition) if at > 0 => {
                    self.source.complaints.push(complaint::misplaced_edition(edition.span));
                }
                Item::Edition(edition) if edition.number != 1 => {
                    let number = edition.span.slice(self.source.text).trim_start_matches("wattle").trim();
                    self.source.complaints.push(complaint::unknown_edition(edition.span, number));
                }
                _ => {}
            }
        }
    }
}

/// The errors in place order, one for each line of the text that ends a statement or setting: a mistake often upsets
/// what stands beside it. What is known by name says more than what the grammar missed, so it wins.
fn one_for_each_line(source: Source<'_>, missed: Vec<TextError>) -> Vec<TextError> {
    let Source { text, lexemes, complaints: known, .. } = source;
    if known.is_empty() && missed.is_empty() {
        return Vec::new();
    }
    let ends: Vec<u32> =
        lexemes.all.iter().filter(|lexeme| lexeme.sign == Sign::End).map(|end| end.start).collect();
    let line = |error: &TextError| ends.partition_point(|end| *end < error.span.start);
    let ranked = known.into_iter().map(|error| (0, error)).chain(missed.into_iter().map(|error| (1, error)));
    let mut all: Vec<(usize, u8, TextError)> =
        ranked.map(|(rank, error)| (line(&error), rank, error)).collect();
    all.sort_by_key(|(line, rank, error)| (*line, *rank, error.span.start));
    all.dedup_by_key(|(line, ..)| *line);
    braces_last(text, all.into_iter().map(|(.., error)| error).collect())
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

/// Whether no line end lies between two places.
fn on_one_line(text: &str, one: u32, other: u32) -> bool {
    let between = text.get(one.min(other) as usize..one.max(other) as usize).unwrap_or("");
    !between.contains(['\n', '\r'])
}

#[cfg(test)]
mod tests;
