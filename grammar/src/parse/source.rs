//! What the grammar's productions need beside the lexemes: the text, the values, and a place for complaints.

use chumsky::{
    input::{Checkpoint, Cursor},
    inspector::Inspector,
};

use super::{
    lexeme::{Lexeme, Lexemes, Sign},
    words::Word,
};
use crate::{
    error::TextError,
    kind::{self, Rating},
    nearest::nearest,
    quantity::{Dimension, Quantity},
    span::{FileId, Span},
    syntax::{Date, Name, Path, Shape, Text, Value},
    unit::base_symbol,
};

/// How many units a message names at most.
const MOST_UNITS: usize = 4;

/// The grammar's input: a statement's lexemes.
pub(super) type Input<'s> = &'s [Lexeme];

/// The state of a run of the grammar.
#[derive(Debug)]
pub(super) struct Source<'s> {
    pub text: &'s str,
    pub file: FileId,
    pub lexemes: &'s Lexemes,
    /// Mistakes that do not stop the grammar. A path of the grammar that is given up takes its complaints with it.
    pub complaints: Vec<TextError>,
}

impl<'s> Source<'s> {
    /// The text of a lexeme.
    pub(super) fn slice(&self, lexeme: &Lexeme) -> &'s str {
        self.text.get(lexeme.start as usize..lexeme.end as usize).unwrap_or("")
    }

    /// The place from the first to the last of some lexemes.
    pub(super) fn span(&self, lexemes: &[Lexeme]) -> Span {
        match (lexemes.first(), lexemes.last()) {
            (Some(first), Some(last)) => Span::new(self.file, first.start, last.end),
            _ => Span::file_start(self.file),
        }
    }

    pub(super) fn name(&self, lexeme: &Lexeme) -> Name {
        Name { text: self.slice(lexeme).into(), span: lexeme.span(self.file) }
    }

    /// A path from lexemes that are words and dots in turn.
    pub(super) fn path(&self, lexemes: &[Lexeme]) -> Path {
        let mut segments = Vec::with_capacity(lexemes.len() / 2 + 1);
        segments.extend(lexemes.iter().filter(|lexeme| lexeme.is_word()).map(|lexeme| self.name(lexeme)));
        Path { segments, span: self.span(lexemes) }
    }

    /// A text without its quotes and escapes.
    pub(super) fn quoted(&self, lexeme: &Lexeme) -> Text {
        Text { text: unescape(self.slice(lexeme)), span: lexeme.span(self.file) }
    }

    /// The value of a lexeme that is a value by itself.
    pub(super) fn plain_value(&self, lexeme: &Lexeme) -> Value {
        let shape = match lexeme.sign {
            Sign::Quantity | Sign::Number => self.quantity(lexeme).map(Shape::Quantity),
            Sign::Date => self.date(lexeme).map(Shape::Date),
            Sign::Text => Some(Shape::Text(unescape(self.slice(lexeme)))),
            Sign::Word(_) => Some(Shape::Word(self.slice(lexeme).into())),
            _ => None,
        };
        Value { shape: shape.unwrap_or_else(spoiled), span: lexeme.span(self.file) }
    }

    /// The units that a number may have on the statement's line that byte `at` is on, by the table of kinds.
    pub(super) fn units_on_line(&self, at: u32) -> Vec<&'static str> {
        let inline = self.ratings_on_line(at).iter().filter(|rating| rating.inline);
        let mut units = Vec::new();
        for dimension in inline.filter_map(Rating::dimension) {
            let usual: &[&str] = match dimension {
                Dimension::Area => &["AWG", "mm²"],
                Dimension::Length => &["mm"],
                _ => &[base_symbol(dimension)],
            };
            units.extend(usual.iter().filter(|symbol| !units.contains(*symbol)).copied().collect::<Vec<_>>());
        }
        units.truncate(MOST_UNITS);
        units
    }

    /// The word right behind byte `at` that somebody may have meant as a unit: no word that the line knows, and none
    /// that is nearly one.
    pub(super) fn word_behind(&self, at: u32) -> Option<(Span, &'s str)> {
        let all = &self.lexemes.all;
        let next = all.partition_point(|lexeme| lexeme.start < at);
        let word = all.get(next).filter(|lexeme| lexeme.sign == Sign::Word(Word::Plain))?;
        let in_path = all.get(next + 1).is_some_and(|lexeme| lexeme.sign == Sign::Dot);
        let between = self.text.get(at as usize..word.start as usize)?;
        let known = self.ratings_on_line(at).iter().filter(|rating| rating.inline);
        let flags = known.clone().map(|rating| rating.key);
        let words = known.flat_map(|rating| rating.words().iter().map(|(word, _)| *word)).chain(flags);
        let text = self.slice(word);
        let unknown = !text.contains('/') && nearest(text, words).is_none();
        (unknown && !in_path && between.trim().is_empty()).then(|| (word.span(self.file), text))
    }

    /// The ratings of the statement or core on whose line byte `at` is.
    fn ratings_on_line(&self, at: u32) -> &'static [Rating] {
        let all = &self.lexemes.all;
        let before = all.get(..all.partition_point(|lexeme| lexeme.start < at)).unwrap_or(&[]);
        let line_start = before.iter().rposition(|lexeme| matches!(lexeme.sign, Sign::End | Sign::Open));
        let first = before.get(line_start.map_or(0, |end| end + 1)).map_or("", |lexeme| self.slice(lexeme));
        match (kind::by_word(first), first) {
            (Some(kind), _) => kind.ratings,
            (None, "wire" | "harness" | "cable") => kind::setting::WIRE,
            _ => &[],
        }
    }

    pub(super) fn quantity(&self, lexeme: &Lexeme) -> Option<Quantity> {
        self.lexemes.quantities.get(lexeme.value as usize).copied()
    }

    pub(super) fn date(&self, lexeme: &Lexeme) -> Option<Date> {
        self.lexemes.dates.get(lexeme.value as usize).copied()
    }
}

/// Stands for a value that was complained about: the word of no letters, which no text can hold.
fn spoiled() -> Shape {
    Shape::Word(Box::default())
}

/// Whether a value, or a value inside it, was complained about.
pub(super) fn is_spoiled(value: &Value) -> bool {
    match &value.shape {
        Shape::Word(word) => word.is_empty(),
        Shape::Range(one, other) | Shape::Tolerance(one, other) | Shape::Sum(_, one, other) => {
            is_spoiled(one) || is_spoiled(other)
        }
        Shape::Negative(inner) => is_spoiled(inner),
        Shape::Quantity(_) | Shape::Path(_) | Shape::Text(_) | Shape::Date(_) => false,
    }
}

/// The text between the quotes; the closing one may be missing, or either may be a curly one.
fn unescape(quoted: &str) -> Box<str> {
    let mut inner = quoted.chars();
    inner.next();
    let inner = inner.as_str().strip_suffix(['"', '“', '”', '\'']).unwrap_or(inner.as_str());
    if !inner.contains('\\') {
        return inner.into();
    }
    let mut text = String::with_capacity(inner.len());
    let mut characters = inner.chars();
    while let Some(found) = characters.next() {
        match (found, characters.as_str().chars().next()) {
            ('\\', Some(next @ ('"' | '\\'))) => {
                text.push(next);
                characters.next();
            }
            _ => text.push(found),
        }
    }
    text.into()
}

impl<'s> Inspector<'s, Input<'s>> for Source<'_> {
    type Checkpoint = usize;

    fn on_token(&mut self, _: &Lexeme) {}

    fn on_save(&self, _: &Cursor<'s, '_, Input<'s>>) -> usize {
        self.complaints.len()
    }

    fn on_rewind(&mut self, marker: &Checkpoint<'s, '_, Input<'s>, usize>) {
        self.complaints.truncate(*marker.inspector());
    }
}
