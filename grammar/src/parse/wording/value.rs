//! Mistakes around values.

use super::{Spot, error};
use crate::{
    error::TextError,
    parse::{complaint::quote, lexeme::Sign, miss::Due, words::Word},
};

/// What is wrong, where the signs and words around the spot tell.
pub(super) fn told(spot: &Spot<'_, '_>) -> Option<TextError> {
    range_by_to(spot).or_else(|| second_value(spot)).or_else(|| percent(spot)).or_else(|| date(spot))
}

/// `6 V to 30 V`
fn range_by_to(spot: &Spot<'_, '_>) -> Option<TextError> {
    let found = spot.found().filter(|found| found.sign == Sign::Word(Word::To))?;
    let before = spot.before().filter(|before| matches!(before.sign, Sign::Quantity | Sign::Number))?;
    let next = spot.next(1).filter(|next| matches!(next.sign, Sign::Quantity | Sign::Number))?;
    let right = format!("{} .. {}", spot.text(before), spot.text(next));
    let error = error(spot, "`to` makes no range".to_owned(), "two dots make a range");
    Some(error.help(format!("write `{right}`")).mend(spot.span(found), ".."))
}

/// `let RUN = 1 m 20 cm`
fn second_value(spot: &Spot<'_, '_>) -> Option<TextError> {
    let found = spot.found().filter(|found| matches!(found.sign, Sign::Quantity | Sign::Number))?;
    if !spot.begins_with(&[Word::Let]) || !super::due(spot).is_empty() {
        return None;
    }
    let message = format!("a second value, {}, for one constant", quote(spot.text(found)));
    Some(error(spot, message, "one value is due").help("values are added with a sign: `1 m + 20 cm`"))
}

/// `%` without its number.
fn percent(spot: &Spot<'_, '_>) -> Option<TextError> {
    let found = spot.found().filter(|found| spot.text(found) == "%")?;
    let message = format!("{} stands alone", quote(spot.text(found)));
    Some(error(spot, message, "a number is due before it").help("a share is a number and `%`: `70 %`"))
}

/// Something else where a date is due.
fn date(spot: &Spot<'_, '_>) -> Option<TextError> {
    let found = spot.found().filter(|_| spot.miss.wants_only(Due::Date))?;
    let message = format!("expected a date, found {}", quote(spot.text(found)));
    Some(error(spot, message, "a date is due here").help("a date is year, month, day: `2027-03-01`"))
}
