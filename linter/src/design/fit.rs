//! Whether a value suits a row, and what it becomes there.

use wattle_grammar::{
    error::{TextError, quoted},
    kind::{Rating, RatingShape, SUPPLY_MARGIN, colour, key},
    quantity::{Dimension, Quantity},
    span::Span,
    syntax::{Shape, Value},
    unit::base_symbol,
};

use super::{RatedValue, dimension::noun, rows::Rows, telling::unsuitable, value::Given};
use crate::complaint::listed;

/// What a value becomes: one key with its value, or two for a value with a tolerance.
pub(super) type Fitted = Vec<(&'static str, RatedValue)>;

/// Puts a value on a row. `text` is the value as written.
pub(super) fn fit(
    rows: Rows,
    rating: &'static Rating,
    given: &Given,
    span: Span,
    text: &str,
) -> Result<Fitted, Box<TextError>> {
    match (rating.shape, given) {
        (RatingShape::Quantity(_), Given::Quantity(quantity)) => {
            check(rating, *quantity, span, text)?;
            Ok(vec![(rating.key, RatedValue::Quantity(*quantity))])
        }
        (RatingShape::Quantity(_), Given::Tolerance(nominal, tolerance))
            if rows.rating(key::TOLERANCE).is_some() =>
        {
            check(rating, *nominal, span, text)?;
            let share = share_of(*nominal, *tolerance);
            Ok(vec![
                (rating.key, RatedValue::Quantity(*nominal)),
                (key::TOLERANCE, RatedValue::Quantity(share)),
            ])
        }
        (RatingShape::Range(_), Given::Quantity(quantity)) => {
            check(rating, *quantity, span, text)?;
            Ok(vec![(rating.key, single(rating, *quantity))])
        }
        (RatingShape::Range(_), Given::Range(low, high)) => {
            check(rating, *low, span, text)?;
            check(rating, *high, span, text)?;
            Ok(vec![(rating.key, RatedValue::Range(*low, *high))])
        }
        (RatingShape::Range(_), Given::Tolerance(nominal, tolerance)) => {
            check(rating, *nominal, span, text)?;
            let reach = nominal.value * share_of(*nominal, *tolerance).value;
            Ok(vec![(rating.key, around(*nominal, reach))])
        }
        (RatingShape::Word(_), Given::Word(word)) if takes_word(rating, word) => Ok(self::word(rating, word)),
        (RatingShape::Flag, Given::Word(word)) if matches!(&**word, "yes" | "no") => {
            Ok(vec![(rating.key, RatedValue::Flag(&**word == "yes"))])
        }
        (RatingShape::Text, Given::Text(text)) => Ok(vec![(rating.key, RatedValue::Text(text.to_string()))]),
        (RatingShape::Date, Given::Date(date)) => Ok(vec![(rating.key, RatedValue::Date(*date))]),
        (RatingShape::Reference, Given::Word(word)) => {
            Ok(vec![(rating.key, RatedValue::Reference(word.to_string()))])
        }
        (RatingShape::Reference, Given::Path(path)) => {
            Ok(vec![(rating.key, RatedValue::Reference(super::places::dotted(path)))])
        }
        _ => Err(Box::new(unsuitable(rating, given, span, text))),
    }
}

/// A word that means this row on the line: one of its words, or the key of a flag.
pub(super) fn word(rating: &'static Rating, word: &str) -> Fitted {
    let value = match rating.shape {
        RatingShape::Flag => RatedValue::Flag(true),
        _ => RatedValue::Word(word.to_owned()),
    };
    vec![(rating.key, value)]
}

/// Names of terminals behind a key.
pub(super) fn terminals<'t>(
    rating: &'static Rating,
    values: &[Value],
    text: impl Fn(Span) -> &'t str,
) -> Result<Fitted, Box<TextError>> {
    let mut names = Vec::new();
    for value in values {
        let named = match &value.shape {
            Shape::Word(_) => true,
            Shape::Quantity(number) => number.dimension == Dimension::Number,
            _ => false,
        };
        if !named {
            let message = format!("`{}` takes names of terminals, found `{}`", rating.key, text(value.span));
            return Err(Box::new(TextError::new(
                "language.wrong-value",
                value.span,
                message,
                "a terminal is due here",
            )));
        }
        names.push(text(value.span).to_owned());
    }
    Ok(vec![(rating.key, RatedValue::Terminals(names))])
}

/// Words behind a key that takes several.
pub(super) fn words<'t>(
    rating: &'static Rating,
    values: &[Value],
    text: impl Fn(Span) -> &'t str,
) -> Result<Fitted, Box<TextError>> {
    let mut words = Vec::new();
    for value in values {
        match &value.shape {
            Shape::Word(word) if takes_word(rating, word) => words.push(word.to_string()),
            Shape::Word(word) => {
                return Err(Box::new(unsuitable(rating, &Given::Word(word.clone()), value.span, word)));
            }
            _ => {
                let message = format!("`{}` takes words, found `{}`", rating.key, text(value.span));
                let label = format!("{} is due here", due(rating));
                return Err(Box::new(TextError::new("language.wrong-value", value.span, message, label)));
            }
        }
    }
    Ok(vec![(rating.key, RatedValue::Words(words))])
}

/// What is due under a row, with its article: `a current`, `one of its words`.
pub(super) fn due(rating: &Rating) -> String {
    match rating.shape {
        RatingShape::Quantity(Dimension::Number) => "a number without unit".to_owned(),
        RatingShape::Quantity(dimension) => noun(dimension).to_owned(),
        RatingShape::Range(dimension) => format!("{} or a range", noun(dimension)),
        RatingShape::Word(words) | RatingShape::Words(words) => {
            let named: Vec<String> = words.iter().take(8).map(|(word, _)| format!("`{word}`")).collect();
            if words.len() > named.len() {
                format!("one of {} …", named.join(", "))
            } else {
                listed(&named, "or")
            }
        }
        RatingShape::Flag => "`yes` or `no`".to_owned(),
        RatingShape::Text => "a text in quotes".to_owned(),
        RatingShape::Reference => "a name".to_owned(),
        RatingShape::Terminals | RatingShape::Ports(_) => "a terminal".to_owned(),
        RatingShape::Date => "a date such as `2026-05-01`".to_owned(),
    }
}

/// One value where a range may stand. A supply voltage alone is not a point: no supply holds it so exactly.
fn single(rating: &Rating, quantity: Quantity) -> RatedValue {
    if rating.key == key::SUPPLY {
        around(quantity, quantity.value * SUPPLY_MARGIN)
    } else {
        RatedValue::Quantity(quantity)
    }
}

fn around(nominal: Quantity, reach: f64) -> RatedValue {
    let at = |value: f64| Quantity { value, ..nominal };
    RatedValue::Range(at(nominal.value - reach.abs()), at(nominal.value + reach.abs()))
}

/// A tolerance as a share of the nominal value; it may be written as one or in the unit of the value.
fn share_of(nominal: Quantity, tolerance: Quantity) -> Quantity {
    let absolute = tolerance.dimension == nominal.dimension && nominal.value != 0.0;
    let value = if absolute { (tolerance.value / nominal.value).abs() } else { tolerance.value };
    Quantity { value, dimension: Dimension::Ratio, unit: "" }
}

fn takes_word(rating: &Rating, word: &str) -> bool {
    if rating.words() == colour::WORDS {
        return colour::code(word).is_some();
    }
    rating.words().iter().any(|(known, _)| *known == word)
}

/// Dimension, limits, and whole numbers where things are counted.
fn check(rating: &Rating, quantity: Quantity, span: Span, text: &str) -> Result<(), Box<TextError>> {
    if !rating.accepts(quantity.dimension) {
        return Err(Box::new(unsuitable(rating, &Given::Quantity(quantity), span, text)));
    }
    if is_count(rating) && quantity.value.fract() != 0.0 {
        let message = format!("`{}` counts whole things, found `{text}`", rating.key);
        return refuse(TextError::new("language.not-whole", span, message, "a whole number is due here"));
    }
    let (least, most) = limits(rating);
    if (least..=most).contains(&quantity.value) {
        return Ok(());
    }
    let shown = quoted(text);
    let message = match (quantity.value < least, least > 0.0 && least < 1e-6) {
        (true, true) => format!("`{}` must be above zero, found {shown}", rating.key),
        (true, false) => {
            format!("`{}` must be at least {}, found {shown}", rating.key, measured(quantity, least))
        }
        _ => format!("`{}` can be {} at most, found {shown}", rating.key, measured(quantity, most)),
    };
    let error = TextError::new("language.out-of-range", span, message, "out of range");
    // `10 V - 12 V` was meant as a range.
    let range = text.split_once(" - ").filter(|_| quantity.value < 0.0);
    refuse(match range {
        Some((low, high)) => {
            error.help(format!("a range is written with two dots: {}", quoted(&format!("{low} .. {high}"))))
        }
        None => match rating.usual {
            Some((least, most)) => error.help(format!("{} is usual", usual(quantity, least, most))),
            None => error,
        },
    })
}

/// The span in which nearly all values of a row lie, as it would be written.
fn usual(like: Quantity, least: f64, most: f64) -> String {
    let end = |value: f64| Quantity { value, unit: "", ..like };
    format!("{} to {}", end(least), end(most))
}

fn refuse(error: TextError) -> Result<(), Box<TextError>> {
    Err(Box::new(error))
}

fn measured(like: Quantity, value: f64) -> String {
    let counted =
        matches!(like.dimension, Dimension::Cells | Dimension::Strings | Dimension::Ways | Dimension::Poles);
    let unit = if counted { "" } else { base_symbol(like.dimension) };
    let value = if like.dimension == Dimension::Ratio { value * 100.0 } else { value };
    if unit.is_empty() { value.to_string() } else { format!("{value} {unit}") }
}

fn is_count(rating: &Rating) -> bool {
    matches!(
        rating.dimension(),
        Some(Dimension::Number | Dimension::Cells | Dimension::Strings | Dimension::Ways | Dimension::Poles)
    )
}

/// The table's limits, and beyond them those that keep a hostile count from filling the memory.
fn limits(rating: &Rating) -> (f64, f64) {
    let (least, most) = rating.within.unwrap_or((f64::MIN, f64::MAX));
    let cap = match rating.key {
        key::CELLS | key::CHANNELS => 64.0,
        key::WAYS => 512.0,
        _ => f64::MAX,
    };
    (least, most.min(cap))
}
