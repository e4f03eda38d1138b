//! Values that no rating takes, or not this one, or not twice.

use wattle_grammar::{
    error::{TextError, quoted},
    kind::{Rating, RatingShape, key},
    quantity::{Dimension, Unfit},
    span::Span,
    syntax::Operator,
};

use super::{
    super::{
        RatedValue,
        dimension::{example, noun},
        fit::due,
        rows::Rows,
        slip,
        value::Given,
    },
    synonyms,
};
use crate::complaint::listed;

/// The error of a value on the line that fits no row.
pub(in crate::design) fn unplaced(rows: Rows, given: &Given, span: Span, text: &str) -> TextError {
    let shown = quoted(text);
    if let (Given::Range(..), Some(Dimension::Number)) = (given, given.dimension()) {
        let message = format!("{shown} has no unit");
        return TextError::new("language.missing-unit", span, message, "a unit is due after this")
            .help("the unit stands once, behind the second number, or behind each: `6 .. 30 V`");
    }
    let message = match given {
        Given::Quantity(quantity) if quantity.dimension == Dimension::Number => {
            format!("the number {shown} has no unit, so it fits no rating of {}", rows.noun)
        }
        _ => format!("{shown} fits no rating of {} on the line", rows.noun),
    };
    let error = TextError::new("language.unplaced-value", span, message, given.noun());
    match given {
        Given::Path(_) if rows.noun.0 == "wire" => {
            error.help("a wire has two ends, a spare core none; more ends meet at a `splice` or `stud`")
        }
        Given::Text(_) if rows.rating(key::NOTE).is_some() => {
            error.help(format!("a remark stands in the block: `{{ note {text} }}`"))
        }
        Given::Quantity(found) => {
            let error = error.help(elsewhere(rows, given, text));
            slip::suggest(error, *found, span, text, |dimension| rows.by_dimension(dimension).is_some())
        }
        _ => error.help(elsewhere(rows, given, text)),
    }
}

/// Where the value could stand, or what could stand here.
fn elsewhere(rows: Rows, given: &Given, text: &str) -> String {
    let keys: Vec<&str> = given.dimension().map(|dimension| keyed(rows, dimension)).unwrap_or_default();
    match keys.as_slice() {
        [] if rows.line_keys() == "none" => {
            format!("nothing stands on the line of {} but its names", rows.noun)
        }
        [] => format!("on the line of {} stand {}", rows.noun, rows.line_keys()),
        [only] => format!("write it in the block with its key: `{{ {only} {text} }}`"),
        several => {
            let several: Vec<String> = several.iter().map(|key| format!("`{key}`")).collect();
            format!("write it in the block with its key: {}", listed(&several, "or"))
        }
    }
}

/// The keys that take a number of this dimension in the block and not on the line.
fn keyed(rows: Rows, dimension: Dimension) -> Vec<&'static str> {
    let fits = |rating: &&Rating| !rating.inline && rating.dimension() == Some(dimension);
    rows.all().filter(fits).map(|rating| rating.key).collect()
}

/// The error of a rating that has a value already. `between` is the text from the first value to the second.
pub(in crate::design) fn given_twice(
    rows: Rows,
    key: &str,
    value: &RatedValue,
    (first, second): (Span, Span),
    between: &str,
) -> TextError {
    let message = format!("`{key}` of {} is given twice", rows.noun);
    let error = TextError::new("language.given-twice", second, message, "given again here")
        .related(first, "first given here");
    match value {
        RatedValue::Word(_) if key == key::COLOUR && !between.contains(['\n', '/']) => {
            let words: Vec<&str> = between.split_whitespace().collect();
            let right = words.join("/");
            match words.as_slice() {
                [_, _] => error
                    .help(format!("a base colour and a stripe are written `{right}`"))
                    .mend(first.to(second), right),
                _ => error,
            }
        }
        // What has its key before it is no rating without a key.
        RatedValue::Quantity(found) if !between.split_whitespace().any(|word| word == key) => {
            match other_keys(rows, key, found.dimension) {
                Some(help) => error.help(help),
                None => error,
            }
        }
        _ => error,
    }
}

/// The keys under which another number of the same sort can stand, as a sentence.
fn other_keys(rows: Rows, key: &str, dimension: Dimension) -> Option<String> {
    let others = keyed(rows, dimension).into_iter().filter(|other| *other != key);
    let others: Vec<String> = others.take(6).map(|key| format!("`{key}`")).collect();
    let what = noun(dimension);
    (!others.is_empty()).then(|| {
        format!("{what} of another sort stands in the block with its key: {}", listed(&others, "or"))
    })
}

/// The error of a value that does not suit its row.
pub(in crate::design) fn unsuitable(rating: &Rating, given: &Given, span: Span, text: &str) -> TextError {
    let due = due(rating);
    let shown = quoted(text);
    let label = format!("{due} is due here");
    if let (RatingShape::Word(_) | RatingShape::Words(_), Given::Word(word)) = (rating.shape, given) {
        let message = format!("{} is no {}", quoted(word), rating.key);
        return TextError::new("language.unknown-word", span, message, label);
    }
    let name = if rating.dimension().is_some() { "language.wrong-dimension" } else { "language.wrong-value" };
    let message = match given {
        Given::Range(..) if rating.dimension() == given.dimension() => {
            format!("`{}` takes one value, found the range {shown}", rating.key)
        }
        Given::Tolerance(..) if rating.dimension() == given.dimension() => {
            format!("`{}` takes no tolerance, found {shown}", rating.key)
        }
        _ => format!("`{}` takes {due}, found {shown}", rating.key),
    };
    let error = TextError::new(name, span, message, label);
    match right(rating, given, text) {
        Some((help, Some(right))) => error.help(help).mend(span, right),
        Some((help, None)) => error.help(help),
        None => match given {
            Given::Quantity(found) => {
                slip::suggest(error, *found, span, text, |dimension| rating.dimension() == Some(dimension))
            }
            _ => error,
        },
    }
}

/// What would be right instead, as a sentence and, where certain, as a text.
fn right(rating: &Rating, given: &Given, text: &str) -> Option<(String, Option<String>)> {
    let number = text
        .split(|found: char| !found.is_ascii_digit() && !matches!(found, '.' | '-' | '_'))
        .next()
        .unwrap_or("");
    let written = |right: String| (format!("write `{right}`"), Some(right));
    match (rating.shape, given) {
        (RatingShape::Quantity(dimension) | RatingShape::Range(dimension), Given::Quantity(found)) => {
            match (dimension, found.dimension) {
                (Dimension::Number, _) if !number.is_empty() => Some(written(number.to_owned())),
                (_, Dimension::Number) => example(dimension, text)
                    .map(|example| (format!("write the unit: `{example}`"), Some(example))),
                _ => None,
            }
        }
        (RatingShape::Flag, Given::Word(word)) => Some(match synonyms::flag(word) {
            Some(ours) => written(ours.to_owned()),
            None => (format!("write `{0}` or `not {0}`", rating.key), None),
        }),
        (RatingShape::Flag, _) => Some((format!("write `{0}` or `not {0}`", rating.key), None)),
        (RatingShape::Text, Given::Word(word)) => Some(written(format!("\"{word}\""))),
        _ => None,
    }
}

/// The error of an operation that has no result, written as `text` at `whole`.
pub(in crate::design) fn no_result(
    operator: Operator,
    sides: [Dimension; 2],
    why: Unfit,
    whole: Span,
    text: &str,
) -> TextError {
    let (name, message) = match why {
        Unfit::Dimensions { .. } => ("language.wrong-dimension", meaningless(operator, sides)),
        Unfit::DivisionByZero => ("language.division-by-zero", format!("{} divides by zero", quoted(text))),
        Unfit::NotFinite => ("language.overflow", format!("{} is too large a number", quoted(text))),
    };
    let error = TextError::new(name, whole, message, "cannot be worked out");
    match (operator, sides) {
        (Operator::Add, [Dimension::Temperature, Dimension::Temperature]) => {
            error.help("a difference of temperatures is in `K`: `40 °C + 20 K`")
        }
        (Operator::Subtract, [Dimension::Number, _]) => match text.split_once(" - ") {
            Some((low, high)) => error
                .help(format!("a range is written with two dots: {}", quoted(&format!("{low} .. {high}")))),
            None => error,
        },
        _ => error,
    }
}

fn meaningless(operator: Operator, [left, right]: [Dimension; 2]) -> String {
    let (one, other) = (noun(left), noun(right));
    match operator {
        Operator::Add => format!("{other} cannot be added to {one}"),
        Operator::Subtract => format!("{other} cannot be subtracted from {one}"),
        Operator::Multiply => format!("{one} cannot be multiplied by {other}"),
        Operator::Divide => format!("{one} cannot be divided by {other}"),
    }
}
