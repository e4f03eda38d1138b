//! What a value comes to: sums worked out, ranges and tolerances with their ends, constants filled in.

use crate::{
    error::TextError,
    quantity::{Dimension, Quantity, Unfit},
    span::Span,
    syntax::{Date, Operator, Path, Shape, Value},
    unit::by_spelling,
};

/// A value that has been worked out.
#[derive(Clone, Debug, PartialEq)]
pub enum Evaluated {
    /// One quantity.
    Quantity(Quantity),
    /// A range, lower end first; both ends of one dimension.
    Range(Quantity, Quantity),
    /// A word that names no constant.
    Word(Box<str>),
    /// A dotted path.
    Path(Path),
    /// A text.
    Text(Box<str>),
    /// A date.
    Date(Date),
}

/// Works out a value. `constants` gives the quantity of a name defined by `let` or as a parameter.
///
/// Where one end of a range or tolerance has no unit, the other's holds: `6 .. 30 V`. Gauges may stand either way round,
/// since a larger number is a thinner wire.
///
/// # Errors
/// Dimensions that do not go together, a range upside down, a word that is no quantity where one is needed, and numbers
/// that are not finite; the place is that of the offending part.
pub fn evaluate(
    value: &Value,
    constants: &dyn Fn(&str) -> Option<Quantity>,
) -> Result<Evaluated, Box<TextError>> {
    Ok(match &value.shape {
        Shape::Range(low, high) => {
            let (low, high) = (quantity(low, constants)?, quantity(high, constants)?);
            range(value.span, low, high)?
        }
        Shape::Tolerance(nominal, spread) => {
            let (nominal, spread) = (quantity(nominal, constants)?, quantity(spread, constants)?);
            tolerance(value.span, nominal, spread)?
        }
        Shape::Word(word) => named(value.span, word, constants)?
            .map_or_else(|| Evaluated::Word(word.clone()), Evaluated::Quantity),
        Shape::Path(path) => Evaluated::Path(path.clone()),
        Shape::Text(text) => Evaluated::Text(text.clone()),
        Shape::Date(date) => Evaluated::Date(*date),
        Shape::Quantity(_) | Shape::Sum(..) | Shape::Negative(_) => {
            Evaluated::Quantity(quantity(value, constants)?)
        }
    })
}

/// A value that must be one quantity.
fn quantity(value: &Value, constants: &dyn Fn(&str) -> Option<Quantity>) -> Result<Quantity, Box<TextError>> {
    match &value.shape {
        Shape::Quantity(quantity) => Ok(*quantity),
        Shape::Negative(inner) => quantity(inner, constants).map(Quantity::negated),
        Shape::Sum(operator, left, right) => {
            let (left, right) = (quantity(left, constants)?, quantity(right, constants)?);
            let result = match operator {
                Operator::Add => left.add(right),
                Operator::Subtract => left.sub(right),
                Operator::Multiply => left.mul(right),
                Operator::Divide => left.div(right),
            };
            result.map_err(|why| unfit(value.span, why))
        }
        Shape::Word(word) => named(value.span, word, constants)?.ok_or_else(|| no_quantity(value.span, word)),
        Shape::Path(path) => Err(no_quantity(value.span, &dotted(path))),
        Shape::Text(text) => Err(no_quantity(value.span, text)),
        Shape::Date(_) | Shape::Range(..) | Shape::Tolerance(..) => Err(no_quantity(value.span, "this")),
    }
}

/// The quantity of a constant; `A/B` is the quotient of two when both are constants, else a colour and no constant.
fn named(
    span: Span,
    word: &str,
    constants: &dyn Fn(&str) -> Option<Quantity>,
) -> Result<Option<Quantity>, Box<TextError>> {
    if let Some(quantity) = constants(word) {
        return Ok(Some(quantity));
    }
    let Some((top, bottom)) = word.split_once('/') else { return Ok(None) };
    match (constants(top), constants(bottom)) {
        (Some(top), Some(bottom)) => top.div(bottom).map(Some).map_err(|why| unfit(span, why)),
        _ => Ok(None),
    }
}

fn range(span: Span, low: Quantity, high: Quantity) -> Result<Evaluated, Box<TextError>> {
    let (low, high) = (borrow_unit(low, high), borrow_unit(high, low));
    if low.dimension != high.dimension {
        return Err(apart(span, "range of", low, high));
    }
    let gauges = low.unit == "AWG" && high.unit == "AWG";
    match low.value <= high.value {
        true => Ok(Evaluated::Range(low, high)),
        false if gauges => Ok(Evaluated::Range(high, low)),
        false => Err(upside_down(span, low, high)),
    }
}

fn tolerance(span: Span, nominal: Quantity, spread: Quantity) -> Result<Evaluated, Box<TextError>> {
    let nominal = if spread.dimension == Dimension::Ratio { nominal } else { borrow_unit(nominal, spread) };
    let spread = borrow_unit(spread, nominal);
    let fits = match (nominal.dimension, spread.dimension) {
        (_, Dimension::Ratio) => true,
        (Dimension::Temperature, other) => other == Dimension::TemperatureDifference,
        (one, other) => one == other,
    };
    if !fits {
        return Err(apart(span, "tolerance of", nominal, spread));
    }
    let half =
        if spread.dimension == Dimension::Ratio { nominal.value * spread.value } else { spread.value }.abs();
    let end = |value: f64| Quantity { value, ..nominal };
    if !(nominal.value - half).is_finite() || !(nominal.value + half).is_finite() {
        return Err(unfit(span, Unfit::NotFinite));
    }
    Ok(Evaluated::Range(end(nominal.value - half), end(nominal.value + half)))
}

/// A bare number beside a quantity has that one's unit; beside a temperature difference or a share it has none.
fn borrow_unit(bare: Quantity, beside: Quantity) -> Quantity {
    if bare.dimension != Dimension::Number || beside.dimension == Dimension::Number {
        return bare;
    }
    by_spelling(beside.unit).and_then(|unit| unit.quantity(bare.value)).unwrap_or(bare)
}

fn unfit(span: Span, why: Unfit) -> Box<TextError> {
    let (name, label) = match why {
        Unfit::Dimensions { .. } => ("language.wrong-dimension", "dimensions do not go together"),
        Unfit::NotFinite => ("language.number-range", "too large, or divided by 0"),
    };
    Box::new(TextError::new(name, span, why.to_string(), label))
}

fn apart(span: Span, what: &str, one: Quantity, other: Quantity) -> Box<TextError> {
    let (one, other) = (one.dimension.noun(), other.dimension.noun());
    let message = format!("a {what} {one} and {other} means nothing");
    Box::new(TextError::new("language.wrong-dimension", span, message, "both sides must measure the same"))
}

fn upside_down(span: Span, low: Quantity, high: Quantity) -> Box<TextError> {
    let message = format!("the range begins at {low} and ends below, at {high}");
    let right = format!("{high} .. {low}");
    let error = TextError::new("language.range-upside-down", span, message, "upside down");
    Box::new(error.help(format!("write the lower end first: `{right}`")).mend(span, right))
}

fn no_quantity(span: Span, found: &str) -> Box<TextError> {
    let message = format!("`{found}` is no quantity");
    let error = TextError::new("language.no-quantity", span, message, "a quantity is due here");
    Box::new(error.help("write a number with its unit, or the name of a constant defined by `let`"))
}

fn dotted(path: &Path) -> String {
    path.segments.iter().map(|name| &*name.text).collect::<Vec<_>>().join(".")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{parse, span::FileId, syntax::Item};

    /// Evaluates the value of `let X = …`, with `RUN` = 2 m and `PER` = 0.5 m as constants.
    fn run(value: &str) -> Result<Evaluated, Box<TextError>> {
        let parsed = parse(FileId(0), &format!("wattle 1\nlet X = {value}\n"));
        assert_eq!(parsed.errors, [], "{value}");
        let Some(Item::Let(constant)) = parsed.file.items.get(1) else { panic!("no constant in {value}") };
        let metres = by_spelling("m").unwrap();
        evaluate(&constant.value, &|name| match name {
            "RUN" => metres.quantity(2.0),
            "PER" => metres.quantity(0.5),
            _ => None,
        })
    }

    fn printed(value: &str) -> String {
        match run(value) {
            Ok(Evaluated::Quantity(quantity)) => quantity.to_string(),
            Ok(Evaluated::Range(low, high)) => format!("{low} .. {high}"),
            Ok(Evaluated::Word(word)) => format!("word {word}"),
            Ok(other) => format!("{other:?}"),
            Err(error) => error.name.to_owned(),
        }
    }

    #[test]
    fn sums_follow_the_usual_order() {
        for (value, result) in [
            ("1.2 m + 2 * 30 cm", "1.8 m"),
            ("(1 m + 1 m) * 3", "6 m"),
            ("10 V - 2 V - 3 V", "5 V"),
            ("-5 °C + 10 K", "5 °C"),
            ("24 V / 2 A", "12 Ω"),
            ("RUN × 2", "4 m"),
            ("RUN/PER", "4"),
            ("-(2 V)", "-2 V"),
            ("100 W ÷ 25 V", "4 A"),
        ] {
            assert_eq!(printed(value), result, "{value}");
        }
    }

    #[test]
    fn ranges_and_tolerances_have_ends() {
        for (value, result) in [
            ("6 V .. 30 V", "6 V .. 30 V"),
            ("6 .. 30 V", "6 V .. 30 V"),
            ("500 .. 900 mA", "500 mA .. 900 mA"),
            ("12 V ± 5 %", "11.4 V .. 12.6 V"),
            ("12 ± 0.5 V", "11.5 V .. 12.5 V"),
            ("12 V +/- 0.5 V", "11.5 V .. 12.5 V"),
            ("25 °C ± 5 K", "20 °C .. 30 °C"),
            ("20 AWG .. 16 AWG", "20 AWG .. 16 AWG"),
            ("16 .. 20 AWG", "20 AWG .. 16 AWG"),
            ("-10 °C .. 40 °C", "-10 °C .. 40 °C"),
            ("RUN .. RUN * 2", "2 m .. 4 m"),
        ] {
            assert_eq!(printed(value), result, "{value}");
        }
    }

    #[test]
    fn what_does_not_go_together_is_an_error() {
        for (value, name) in [
            ("30 V .. 6 V", "language.range-upside-down"),
            ("6 V .. 30 A", "language.wrong-dimension"),
            ("1 V + 1 A", "language.wrong-dimension"),
            ("12 V ± 1 A", "language.wrong-dimension"),
            ("1 V / 0", "language.number-range"),
            ("1e200 V * 1e200 A", "language.number-range"),
            ("red + 1 V", "language.no-quantity"),
            ("PACK.pos * 2", "language.no-quantity"),
        ] {
            assert_eq!(printed(value), name, "{value}");
        }
        assert_eq!(printed("red"), "word red");
        assert_eq!(printed("red/white"), "word red/white");
    }

    #[test]
    fn a_range_upside_down_is_mended_by_turning_it() {
        let error = run("30 V .. 6 V").unwrap_err();
        assert_eq!(error.message, "the range begins at 30 V and ends below, at 6 V");
        assert_eq!(error.mend.unwrap().1, "6 V .. 30 V");
    }
}
