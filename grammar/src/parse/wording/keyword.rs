//! A word of the language that is missing, or has another in its place.

use super::{Spot, error};
use crate::{
    error::TextError,
    nearest::nearest,
    parse::{complaint::quote, lexeme::Sign, miss::Due, words::Word},
};

/// What is wrong, where the signs and words around the spot tell.
pub(super) fn told(spot: &Spot<'_, '_>) -> Option<TextError> {
    quotes_missing(spot)
        .or_else(|| missing(spot))
        .or_else(|| place_by_other_word(spot))
        .or_else(|| of_things_only(spot))
}

/// The words that join the parts of statements, with what they are due as.
const JOINTS: [(Due, &str); 9] = [
    (Due::To, "to"),
    (Due::With, "with"),
    (Due::Is, "is"),
    (Due::As, "as"),
    (Due::Equal, "="),
    (Due::On, "on"),
    (Due::When, "when"),
    (Due::Because, "because"),
    (Due::AnyFault, "any-fault"),
];

/// One word is due and something else stands there.
fn missing(spot: &Spot<'_, '_>) -> Option<TextError> {
    let found = spot.found()?;
    let (_, word) = JOINTS.into_iter().find(|(due, _)| spot.miss.wants_only(*due))?;
    let text = spot.text(found);
    let error =
        error(spot, format!("expected `{word}`, found {}", quote(text)), format!("`{word}` is due here"));
    let error =
        error.help(super::usage::example(spot).map_or_else(
            || format!("write `{word}`"),
            |example| format!("such a statement reads `{example}`"),
        ));
    let other = found.is_word() && nearest(text, [word]).is_some()
        || matches!(found.sign, Sign::Equal | Sign::Colon)
        || matches!(found.sign, Sign::Word(Word::To | Word::With | Word::Is | Word::As));
    let follows = spot.next(1).is_some();
    if other && follows {
        return Some(error.mend(spot.span(found), word));
    }
    // Whatever stands there may well be what follows the word.
    let fits = match word {
        "with" | "as" | "is" => found.is_word() && !matches!(found.sign, Sign::Word(found) if found.joins()),
        "=" => matches!(found.sign, Sign::Quantity | Sign::Number),
        "because" => found.sign == Sign::Text,
        _ => false,
    };
    Some(if fits { error.mend(spot.gap(found), format!("{word} ")) } else { error })
}

/// A word where a text in quotes is due.
fn quotes_missing(spot: &Spot<'_, '_>) -> Option<TextError> {
    let found = spot.found().filter(|found| found.is_word())?;
    if !spot.miss.wants_only(Due::Text) && !spot.miss.wants_only(Due::Reason) {
        return None;
    }
    let what = if spot.miss.wants(Due::Reason) { "the reason in quotes" } else { "a text in quotes" };
    let (span, rest) = spot.rest(|lexeme| lexeme.sign == Sign::Word(Word::Until))?;
    let right = format!("\"{rest}\"");
    let message = format!("expected {what}, found {}", quote(spot.text(found)));
    let mut error = error(spot, message, format!("{what} is due here"));
    error.span = span;
    Some(error.help(format!("write {}", quote(&right))).mend(span, right))
}

/// `at` or `on` behind something that is nowhere.
fn of_things_only(spot: &Spot<'_, '_>) -> Option<TextError> {
    let found = spot.found().filter(|found| matches!(found.sign, Sign::Word(Word::At | Word::On)))?;
    if !spot.begins_with(&[Word::Part, Word::Place, Word::Mate, Word::Group]) || spot.in_block() {
        return None;
    }
    let word = spot.statement.first().map_or("", |first| spot.text(first));
    let message = format!("{} cannot stand behind a `{word}`", quote(spot.text(found)));
    Some(
        error(spot, message, "not expected here")
            .help("where a thing is, and on which block, stands on the thing's own line"),
    )
}

/// `in body`, `near body`.
fn place_by_other_word(spot: &Spot<'_, '_>) -> Option<TextError> {
    let found = spot.found().filter(|found| found.sign == Sign::Word(Word::In))?;
    let lies = spot.begins_with(&[Word::Kind, Word::Wire, Word::Harness, Word::Cable, Word::Fit]);
    if !lies || spot.in_block() || !spot.next(1).is_some_and(crate::parse::lexeme::Lexeme::is_word) {
        return None;
    }
    let error = error(spot, "`in` names no place".to_owned(), "`at` is due here");
    Some(error.help("a place stands behind `at`").mend(spot.span(found), "at"))
}
