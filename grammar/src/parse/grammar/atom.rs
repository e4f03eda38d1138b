//! The smallest productions: words, names, paths, texts, dates, marks.

use chumsky::{input::MapExtra, prelude::*, primitive::select_ref};

use super::{Extra, Rule};
use crate::{
    parse::{
        lexeme::{Lexeme, Sign},
        miss::{Due, Record},
        source::Input,
        words::Word,
    },
    syntax::{Date, Name, Path, Text},
};

/// One lexeme that `fits`.
pub(super) fn one<'s, R: Record<'s>>(
    due: Due,
    fits: impl Fn(Sign) -> bool + Clone + 's,
) -> impl Parser<'s, Input<'s>, &'s Lexeme, Extra<'s, R>> + Clone {
    select_ref(move |lexeme: &'s Lexeme, _| fits(lexeme.sign).then_some(lexeme)).labelled(due)
}

/// A mark.
pub(super) fn mark<'s, R: Record<'s>>(
    due: Due,
    sign: Sign,
) -> impl Parser<'s, Input<'s>, &'s Lexeme, Extra<'s, R>> + Clone {
    one(due, move |found| found == sign)
}

/// A word of the language.
pub(super) fn word<'s, R: Record<'s>>(
    due: Due,
    word: Word,
) -> impl Parser<'s, Input<'s>, &'s Lexeme, Extra<'s, R>> + Clone {
    mark(due, Sign::Word(word))
}

/// A name: any word.
pub(super) fn name<'s, R: Record<'s>>(due: Due) -> impl Parser<'s, Input<'s>, Name, Extra<'s, R>> + Clone {
    one(due, Sign::is_name).map_with(|lexeme, e| e.state().name(lexeme))
}

/// A dotted path.
pub(super) fn path<'s, R: Record<'s>>(due: Due) -> impl Parser<'s, Input<'s>, Path, Extra<'s, R>> + Clone {
    let word = one(due, Sign::is_name);
    let more = mark(Due::Operator, Sign::Dot).ignore_then(word.clone()).ignored().repeated();
    word.ignore_then(more).to_slice().map_with(|lexemes, e| e.state().path(lexemes))
}

/// A text in quotes.
pub(super) fn text<'s, R: Record<'s>>(due: Due) -> impl Parser<'s, Input<'s>, Text, Extra<'s, R>> + Clone {
    mark(due, Sign::Text).map_with(|lexeme, e| e.state().quoted(lexeme))
}

/// A date.
pub(super) fn date<'s, R: Record<'s>>() -> impl Parser<'s, Input<'s>, (Date, &'s Lexeme), Extra<'s, R>> + Clone
{
    let date = select_ref(|lexeme: &'s Lexeme, e: &mut MapExtra<'s, '_, Input<'s>, Extra<'s, R>>| {
        if lexeme.sign != Sign::Date {
            return None;
        }
        e.state().date(lexeme).map(|date| (date, lexeme))
    });
    date.labelled(Due::Date)
}

/// `NAME, NAME`.
pub(super) fn names<'s, R: Record<'s>>() -> Rule<'s, Vec<Name>, R> {
    let comma = mark(Due::Operator, Sign::Comma);
    name(Due::Name).separated_by(comma).at_least(1).collect().boxed()
}

/// `PATH, PATH`.
pub(super) fn paths<'s, R: Record<'s>>(due: Due) -> Rule<'s, Vec<Path>, R> {
    let comma = mark(Due::Operator, Sign::Comma);
    path(due).separated_by(comma).at_least(1).collect().boxed()
}
