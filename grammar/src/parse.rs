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
mod synonyms;
mod telling;
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
    let of_signs = known.len();
    let source = Source { text, file, lexemes: &lexemes, complaints: known };
    let mut statements =
        Statements { source, items: Vec::with_capacity(lexemes.stretches.len()), misses: Vec::new() };
    statements.read_all();
    statements.editions();
    let Statements { source, items, misses } = statements;
    let errors = telling::told(source, of_signs, misses);
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
            _ => {
                let line =
                    self.source.text.get(..first.start as usize).unwrap_or("").trim_end_matches([' ', '\t']);
                self.misses.push(complaint::no_beginning(span, text, line.ends_with(';')));
            }
        }
        None
    }

    /// The edition stands first and once, and is known.
    fn editions(&mut self) {
        let Some(first) = self.source.lexemes.stretches.first() else { return };
        let Some(first) = self.source.lexemes.all.get(first.first) else { return };
        let place = first.span(self.source.file);
        let stands_first =
            first.sign == Sign::Word(Word::Wattle) || words::resembles(self.source.slice(first), "wattle");
        let mut before = stands_first.then_some(place);
        for item in AllItems::of(&self.items) {
            let Item::Edition(edition) = item else { continue };
            match before {
                Some(first) if first.start == edition.span.start => before = Some(edition.span),
                Some(first) => self.source.complaints.push(complaint::again(edition.span, first)),
                None => self.source.complaints.push(complaint::late_edition(edition.span, place)),
            }
            if edition.number != 1 {
                let number = edition.span.slice(self.source.text).trim_start_matches("wattle").trim();
                self.source.complaints.push(complaint::unknown_edition(edition.span, number));
            }
            before = before.or(Some(edition.span));
        }
        if before.is_none() {
            let start = if self.source.text.starts_with('\u{feff}') { 3 } else { 0 };
            let insert = Span::new(self.source.file, start, start);
            self.source.complaints.push(complaint::missing_edition(place, insert));
        }
    }
}

#[cfg(test)]
mod tests;
