//! The tail of a statement's line: ratings, label, part, `on` and `at`, in any order.

use chumsky::{input::MapExtra, prelude::*, primitive::select_ref};

use super::{
    Extra, Rule,
    atom::{mark, name, one, path, word},
    value::{Place, value},
};
use crate::{
    parse::{
        complaint,
        lexeme::{Lexeme, Sign},
        miss::{Due, Record},
        source::{Input, Source, is_spoiled},
        words::Word,
    },
    quantity::Dimension,
    span::Span,
    syntax::{Name, Path, Setting, Shape, Text, Value},
};

/// What a statement's tail may hold beside values.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Allow {
    /// A label in quotes.
    pub label: bool,
    /// `: PART`.
    pub part: bool,
    /// `on PATH`.
    pub on: bool,
    /// `at PATH`.
    pub at: bool,
    /// A list of names stands before it: a comma there announces another name.
    pub behind_names: bool,
}

/// A tail, put in order.
#[derive(Debug, Default)]
pub(super) struct Tail {
    pub label: Option<Text>,
    pub part: Option<Name>,
    pub values: Vec<Value>,
    /// Facts denied on the line: `not back-drivable`.
    pub denials: Vec<Setting>,
    pub on: Option<Path>,
    pub at: Option<Path>,
}

/// One piece of a tail.
enum Piece {
    Value(Value),
    Denial(Setting),
    Label(Text),
    Part(Name),
    On(Path),
    At(Path),
}

/// `not KEY` or `no KEY` on the line.
fn denial<'s, R: Record<'s>>() -> Rule<'s, Setting, R> {
    one(Due::Value, |sign| matches!(sign, Sign::Word(Word::Not | Word::No)))
        .ignore_then(name(Due::Setting))
        .map_with(|key, e| Setting { key, negated: true, values: Vec::new(), span: super::whole(e) })
        .boxed()
}

/// A text that stands alone.
fn label<'s, R: Record<'s>>() -> impl Parser<'s, Input<'s>, Text, Extra<'s, R>> + Clone {
    let label = select_ref(|lexeme: &'s Lexeme, e: &mut MapExtra<'s, '_, Input<'s>, Extra<'s, R>>| {
        (lexeme.alone && lexeme.sign == Sign::Text).then(|| e.state().quoted(lexeme))
    });
    label.labelled(Due::Text)
}

/// The tail of a line; it may be empty.
pub(super) fn tail<'s, R: Record<'s>>(allow: Allow) -> Rule<'s, Tail, R> {
    let mut pieces: Vec<Rule<'s, Piece, R>> = vec![denial().map(Piece::Denial).boxed()];
    if allow.label {
        pieces.push(label().map(Piece::Label).boxed());
    }
    pieces.push(value(Place::Line).map(Piece::Value).boxed());
    if allow.at {
        pieces.push(word(Due::At, Word::At).ignore_then(path(Due::Path)).map(Piece::At).boxed());
    }
    if allow.on {
        pieces.push(word(Due::On, Word::On).ignore_then(path(Due::Path)).map(Piece::On).boxed());
    }
    if allow.part {
        pieces.push(mark(Due::Operator, Sign::Colon).ignore_then(name(Due::Base)).map(Piece::Part).boxed());
    }
    let comma = mark(Due::Operator, Sign::Comma).or_not();
    let piece = comma.ignore_then(choice(pieces));
    let no_comma = mark(Due::Operator, Sign::Comma).not();
    let start = if allow.behind_names { no_comma.boxed() } else { empty().boxed() };
    start
        .map(|()| Tail::default())
        .foldl_with(piece.repeated(), |mut tail: Tail, piece, e| {
            tail.take(piece, e.state());
            tail
        })
        .boxed()
}

impl Tail {
    fn take(&mut self, piece: Piece, source: &mut Source<'_>) {
        match piece {
            Piece::Value(value) => self.take_value(value, source),
            Piece::Denial(denial) => self.denials.push(denial),
            Piece::Label(label) => once(&mut self.label, label, |label| label.span, "labels", source),
            Piece::Part(part) => once(&mut self.part, part, |part| part.span, "parts", source),
            Piece::On(path) => once(&mut self.on, path, |path| path.span, "`on`", source),
            Piece::At(path) => once(&mut self.at, path, |path| path.span, "`at`", source),
        }
    }

    /// The settings of the statement: what is denied on its line, then the lines of its block.
    pub(super) fn denied(&mut self, block: Vec<Setting>) -> Vec<Setting> {
        if self.denials.is_empty() {
            return block;
        }
        let mut settings = std::mem::take(&mut self.denials);
        settings.extend(block);
        settings
    }

    /// On a line the unit tells what a value is, so a bare number says nothing.
    fn take_value(&mut self, value: Value, source: &mut Source<'_>) {
        if is_bare(&value) {
            let found = value.span.slice(source.text);
            let complaint = match source.word_behind(value.span.end) {
                Some((place, word)) => {
                    complaint::unknown_unit(value.span.to(place), place, found, word, None)
                }
                None => complaint::bare_number(value.span, found, &source.units_on_line(value.span.start)),
            };
            source.complaints.push(complaint);
        } else if !is_spoiled(&value) {
            self.values.push(value);
        }
    }
}

/// Whether a value is a number alone, with or without its sign.
fn is_bare(value: &Value) -> bool {
    match &value.shape {
        Shape::Quantity(quantity) => quantity.dimension == Dimension::Number,
        Shape::Negative(inner) => is_bare(inner),
        _ => false,
    }
}

/// Fills a slot, or complains that it was filled before.
fn once<T>(slot: &mut Option<T>, new: T, place: impl Fn(&T) -> Span, what: &str, source: &mut Source<'_>) {
    match slot {
        Some(old) => source.complaints.push(complaint::twice(place(&new), place(old), what)),
        None => *slot = Some(new),
    }
}
