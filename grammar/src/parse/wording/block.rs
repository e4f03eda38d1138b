//! Mistakes in and around blocks.

use super::{Spot, error};
use crate::{
    error::TextError,
    parse::{
        complaint::{is_key, quote},
        lexeme::{Lexeme, Sign},
        miss::Due,
        words::Word,
    },
};

/// What is wrong, where the signs and words around the spot tell.
pub(super) fn told(spot: &Spot<'_, '_>) -> Option<TextError> {
    behind_block(spot)
        .or_else(|| sign_behind_key(spot))
        .or_else(|| key_missing(spot))
        .or_else(|| wire_in_harness(spot))
        .or_else(|| no_block(spot))
        .or_else(|| colon_at_the_end(spot))
        .or_else(|| parentheses(spot))
}

fn behind_block(spot: &Spot<'_, '_>) -> Option<TextError> {
    let found = spot.found().filter(|_| spot.before().is_some_and(|before| before.sign == Sign::Close))?;
    let message = format!("{} stands behind the block", quote(spot.text(found)));
    Some(error(spot, message, "the statement has ended").help("a block is the last thing of its statement"))
}

/// `stall = 55 A` or `stall: 55 A`.
fn sign_behind_key(spot: &Spot<'_, '_>) -> Option<TextError> {
    let found = spot.found().filter(|found| matches!(found.sign, Sign::Equal | Sign::Colon))?;
    let (before, next) = (spot.before()?, spot.next(1));
    if !spot.in_block() || !before.is_word() {
        return None;
    }
    let both = if spot.begins_with(&[Word::Mode]) { "a thing and its state" } else { "key and value" };
    let message = format!("no {} stands between {both}", quote(spot.text(found)));
    let error = error(spot, message, "only a blank is due here");
    Some(match next {
        Some(next) => {
            let glued = before.end == found.start && found.end == next.start;
            let (key, value) = (spot.text(before), spot.text(next));
            error.help(format!("write `{key} {value}`")).mend(spot.span(found), if glued { " " } else { "" })
        }
        None => error.help("key and value stand side by side: `stall 55 A`"),
    })
}

/// A value at the start of a line of a block.
fn key_missing(spot: &Spot<'_, '_>) -> Option<TextError> {
    let found = spot.found()?;
    let value = matches!(found.sign, Sign::Quantity | Sign::Number | Sign::Text | Sign::Date);
    if !value || !spot.in_block() || !spot.line().is_empty() {
        return None;
    }
    let message = format!("expected a key, found {}", quote(spot.text(found)));
    Some(
        error(spot, message, "a key is due here")
            .help("in a block a value stands behind its key: `stall 55 A`"),
    )
}

/// `wire H1 …` among the wires of a harness.
fn wire_in_harness(spot: &Spot<'_, '_>) -> Option<TextError> {
    let first = spot.line().first()?;
    if !spot.begins_with(&[Word::Harness, Word::Cable]) || !spot.in_block() || spot.text(first) != "wire" {
        return None;
    }
    let next = spot.line().get(1).map_or(first.end, |next| next.start);
    let span = spot.span(first);
    let kind = spot.statement.first().map_or("harness", |word| spot.text(word));
    let message = format!("in a {kind} the word `wire` is left out");
    let mut error = error(spot, message, "begin with the wire's name");
    error.span = span;
    Some(
        error
            .help("such a line reads `H1 J3.1 to J4.1 red`")
            .mend(crate::span::Span { end: next, ..span }, ""),
    )
}

/// `{` behind something that has no block.
fn no_block(spot: &Spot<'_, '_>) -> Option<TextError> {
    let found = spot.found().filter(|found| found.sign == Sign::Open)?;
    if spot.miss.wants(Due::Name) || spot.miss.wants(Due::Block) {
        return None;
    }
    if spot.in_block() {
        let help = "settings do not nest: each is a key and its value";
        return Some(
            error(spot, "a setting has no block of its own".to_owned(), "a value is due here").help(help),
        );
    }
    let word = spot.statement.first().map_or("", |first| spot.text(first));
    let without =
        spot.begins_with(&[Word::Wattle, Word::Use, Word::Let, Word::Expect, Word::Reading, Word::Accept]);
    let message = format!("{} stands before the statement is complete", quote(spot.text(found)));
    match without {
        true if spot.miss.wants(Due::LineEnd) || super::due(spot).is_empty() => {
            Some(error(spot, format!("`{word}` has no block"), "the line should end here"))
        }
        _ if super::due(spot).is_empty() => Some(error(spot, message, "no block is due here")),
        _ => None,
    }
}

/// `motor M1 24 V:` with its settings below.
fn colon_at_the_end(spot: &Spot<'_, '_>) -> Option<TextError> {
    spot.before().filter(|before| before.sign == Sign::Colon)?;
    if spot.found().is_some() || spot.in_block() {
        return None;
    }
    let error =
        error(spot, "expected a part, found the end of the line".to_owned(), "a part is due after this");
    Some(error.help("behind `:` stands the part that the thing is; a block stands in braces, `{ }`"))
}

/// `( stall 55 A )`
fn parentheses(spot: &Spot<'_, '_>) -> Option<TextError> {
    let found = spot.found().filter(|_| spot.miss.wants(Due::CloseParen))?;
    let before: &Lexeme = spot.before()?;
    if !before.is_word() || !is_key(spot.text(before)) {
        return None;
    }
    let message = format!("expected `)`, found {}", quote(spot.text(found)));
    Some(error(spot, message, "`)` is due here").help("settings stand in braces: `{ stall 55 A }`"))
}
