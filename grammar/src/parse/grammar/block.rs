//! Blocks in braces, and the lines in them. A line that does not fit is lost alone.

use chumsky::prelude::*;

use super::{
    Extra, Rule,
    atom::{mark, name, one},
    value::{Place, value},
    whole,
};
use crate::{
    parse::{
        lexeme::Sign,
        miss::{Due, Record},
        source::{Input, is_spoiled},
        words::Word,
    },
    span::Span,
    syntax::{Setting, Value},
};

/// `{` lines `}`, each line read by `line`; `lost` says what stands for a line that does not fit.
pub(super) fn lines<'s, T: 's, R: Record<'s>>(
    line: Rule<'s, Option<T>, R>,
    lost: fn(Span) -> Option<T>,
) -> Rule<'s, Vec<T>, R> {
    let ends = mark(Due::LineEnd, Sign::End).repeated();
    let boundary = one(Due::LineEnd, |sign| matches!(sign, Sign::End | Sign::Close)).rewind();
    let lost = rest_of_line().map_with(move |(), e| lost(whole(e)));
    let line = line.then_ignore(boundary).recover_with(via_parser(lost));
    let body = line.then_ignore(ends.clone()).repeated().collect::<Vec<_>>();
    let open = mark(Due::Block, Sign::Open).then_ignore(ends.clone());
    open.ignore_then(body)
        .then_ignore(mark(Due::Close, Sign::Close))
        .map(|lines| lines.into_iter().flatten().collect())
        .boxed()
}

/// Passes over what is left of a line, at least one lexeme, blocks in braces as a whole.
pub(super) fn rest_of_line<'s, R: Record<'s>>() -> impl Parser<'s, Input<'s>, (), Extra<'s, R>> + Clone {
    let skipped = one(Due::LineEnd, |sign| !matches!(sign, Sign::End | Sign::Open | Sign::Close)).ignored();
    let block = recursive(|block| {
        let inner = one(Due::LineEnd, |sign| !matches!(sign, Sign::Open | Sign::Close)).ignored();
        inner.or(block).repeated().delimited_by(mark(Due::Block, Sign::Open), mark(Due::Close, Sign::Close))
    });
    skipped.or(block).repeated().at_least(1)
}

/// An optional block of settings; no block is an empty one.
pub(super) fn settings<'s, R: Record<'s>>() -> Rule<'s, Vec<Setting>, R> {
    lines(setting(values()), |_| None).or_not().map(Option::unwrap_or_default).boxed()
}

/// `key value value`, `not key`. `None` when a value was complained about: half a setting would only mislead.
pub(super) fn setting<'s, R: Record<'s>>(values: Rule<'s, Vec<Value>, R>) -> Rule<'s, Option<Setting>, R> {
    let negation = one(Due::Setting, |sign| matches!(sign, Sign::Word(Word::Not | Word::No)));
    let negated = negation.ignore_then(name(Due::Setting)).map(|key| (true, key));
    let plain =
        one(Due::Setting, |sign: Sign| sign.is_name() && !matches!(sign, Sign::Word(Word::Not | Word::No)));
    let plain = plain.map_with(|key, e| (false, e.state().name(key)));
    negated
        .or(plain)
        .then(values)
        .map_with(|((negated, key), values), e| {
            let span = whole(e);
            (!values.iter().any(is_spoiled)).then_some(Setting { key, negated, values, span })
        })
        .boxed()
}

/// Values behind a key or behind the subjects of a mode's line, with or without commas.
pub(super) fn values<'s, R: Record<'s>>() -> Rule<'s, Vec<Value>, R> {
    let first = value(Place::Block).map(|value| vec![value]);
    more_values(first.boxed()).or_not().map(Option::unwrap_or_default).boxed()
}

/// Values of which the first may be followed by `=`, as in `terminal pos = M1.pos`.
pub(super) fn assigned<'s, R: Record<'s>>() -> Rule<'s, Vec<Value>, R> {
    let second = mark(Due::Operator, Sign::Equal).ignore_then(value(Place::Block)).or_not();
    let first = value(Place::Block).then(second);
    let first = first.map(|(first, second)| std::iter::once(first).chain(second).collect());
    more_values(first.boxed()).or_not().map(Option::unwrap_or_default).boxed()
}

fn more_values<'s, R: Record<'s>>(first: Rule<'s, Vec<Value>, R>) -> Rule<'s, Vec<Value>, R> {
    let comma = mark(Due::Operator, Sign::Comma).or_not();
    let more = comma.ignore_then(value(Place::Block)).repeated();
    let all = first.foldl(more, |mut values, value| {
        values.push(value);
        values
    });
    all.boxed()
}
