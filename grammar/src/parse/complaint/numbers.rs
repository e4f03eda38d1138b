//! Numbers and units that are not written as the language has them.

use super::quote;
use crate::{
    error::TextError,
    span::Span,
    unit::{Misspelt, UnitSymbol},
};

/// A word behind a number that is no unit. `whole` is number and word, `number` the number as written.
pub(crate) fn unknown_unit(
    whole: Span,
    place: Span,
    number: &str,
    word: &str,
    meant: Option<Misspelt>,
) -> TextError {
    let found = quote(word);
    let error = |message: String, label: &str| TextError::new("language.unknown-unit", place, message, label);
    let write = |error: TextError, unit: &UnitSymbol| {
        let right = format!("{number} {}", unit.symbol);
        error.help(format!("write `{right}`")).mend(whole, right)
    };
    match meant {
        Some(Misspelt::Case(unit)) => {
            let message = format!("{found} is no unit, `{}` is: upper and lower case differ", unit.symbol);
            write(error(message, "wrong case"), unit)
        }
        Some(Misspelt::LongForm(unit)) => {
            write(error(format!("{found} is no unit: {} is written `{}`", unit.name, unit.symbol), "not a unit"), unit)
        }
        Some(Misspelt::Typo(unit)) => write(error(format!("{found} is no unit"), "unknown unit"), unit),
        Some(Misspelt::Gauge) => error(format!("{found} does not say which gauge: they share numbers"), "which gauge?")
            .help(format!("write `{number} AWG` if it is American wire gauge, else the area in `mm²`")),
        Some(Misspelt::CircularMils) => error(format!("{found} is not used here: sizes are in `AWG` or `mm²`"), "not a unit here")
            .help("1000 circular mils are 0.507 mm²"),
        Some(Misspelt::MotorConstant) => error(format!("{found} is no unit: a motor constant is in `rpm/V`"), "looks like kilovolts")
            .help(format!("write `{number} rpm/V`, or `{number} kV` if kilovolts are meant")),
        Some(Misspelt::Fahrenheit) => error(format!("{found} is not used here: temperatures are in `°C`"), "not a unit here")
            .help(format!("write {}", celsius(number))),
        None => error(format!("{found} is no unit"), "unknown unit")
            .help("units are written as on the label: `V`, `A`, `mA`, `Ω`, `W`, `Ah`, `mm`, `m`, `mm²`, `AWG`, `°C`, `%` …"),
    }
}

/// A number of degrees Fahrenheit in degrees Celsius.
fn celsius(number: &str) -> String {
    match number.replace('_', "").parse::<f64>() {
        Ok(degrees) if degrees.abs() < 1e6 => format!("`{} °C`", ((degrees - 32.0) / 0.18).round() / 10.0),
        _ => "°C = (°F − 32) / 1.8".to_owned(),
    }
}

/// `4k7`, the code printed on resistors. `right` is what it stands for.
pub(crate) fn resistor_code(span: Span, found: &str, right: &str) -> TextError {
    TextError::new(
        "language.resistor-code",
        span,
        format!("{} is a code printed on parts, not a number with a unit", quote(found)),
        "the code of a resistor",
    )
    .help(format!("write `{right}`"))
    .mend(span, right)
}

/// A number on a line that has no unit, so that nothing says what it is. `units` are those that could stand there.
pub(crate) fn bare_number(span: Span, found: &str, units: &[&str]) -> TextError {
    let error = TextError::new(
        "language.missing-unit",
        span,
        format!("{} has no unit", quote(found)),
        "a unit is due after this",
    );
    match units {
        [] => error.help("on the line the unit says what a number is; a count without unit stands in the block behind its key"),
        [unit] => {
            let right = format!("{found} {unit}");
            error.help(format!("write `{right}`")).mend(span, right)
        }
        units => {
            let forms: Vec<String> = units.iter().map(|unit| format!("`{found} {unit}`")).collect();
            error.help(format!("write what it measures: {}", forms.join(", ")))
        }
    }
}

/// `10-12 V`: a hyphen between two numbers.
pub(crate) fn dashed_range(span: Span, dash: Span) -> TextError {
    TextError::new(
        "language.dashed-range",
        span,
        "a dash between two numbers makes no range",
        "two dots make a range",
    )
    .help("write ` .. ` for a range, ` - ` with blanks to subtract")
    .mend(dash, " .. ")
}

/// `A +B`: a sign that touches a value though it is not its own.
pub(crate) fn unspaced_sign(span: Span, found: &str) -> TextError {
    TextError::new(
        "language.unspaced-sign",
        span,
        format!("{} computes only with blanks on both sides", quote(found)),
        "a blank is due on both sides",
    )
    .help(format!("write ` {found} `"))
    .mend(span, format!(" {found} "))
}

/// `4-way`: a hyphen between number and unit.
pub(crate) fn unit_by_hyphen(span: Span, found: &str, right: &str) -> TextError {
    TextError::new(
        "language.hyphened-unit",
        span,
        format!("{} has a hyphen between number and unit", quote(found)),
        "no hyphen here",
    )
    .help(format!("write `{right}`"))
    .mend(span, right)
}

/// `12"` or `6'`. `whole` is number and mark.
pub(crate) fn inch_mark(whole: Span, mark: Span, found: &str, right: &str) -> TextError {
    let message = format!("{} is no length: inches and feet are written `in` and `ft`", quote(found));
    TextError::new("language.unknown-unit", mark, message, "not a unit here")
        .help(format!("write `{right}`"))
        .mend(whole, right)
}

/// `2 x 18 AWG`: conductors side by side.
pub(crate) fn parallel(span: Span, found: &str) -> TextError {
    TextError::new(
        "language.unknown-unit",
        span,
        format!("{} is no unit: conductors side by side are a wire each", quote(found)),
        "not a unit",
    )
    .help("write a `wire` line for each conductor")
}

/// `10 k ohm`: a blank between prefix and unit.
pub(crate) fn split_prefix(span: Span, found: &str, right: &str) -> TextError {
    TextError::new(
        "language.unknown-unit",
        span,
        format!("{} has a blank inside its unit", quote(found)),
        "prefix and unit are one word",
    )
    .help(format!("write `{right}`"))
    .mend(span, right)
}

/// `1/0` without `AWG`.
pub(crate) fn aught_alone(span: Span, found: &str) -> TextError {
    let right = format!("{found} AWG");
    TextError::new(
        "language.missing-unit",
        span,
        format!("{} has no unit", quote(found)),
        "`AWG` is due after this",
    )
    .help(format!("write `{right}`"))
    .mend(span, right)
}

/// A gauge that does not exist.
pub(crate) fn bad_gauge(span: Span, found: &str, number: &str) -> TextError {
    let error = TextError::new(
        "language.bad-gauge",
        span,
        format!("{} is no gauge: sizes run from `4/0 AWG` to `40 AWG` in whole numbers", quote(found)),
        "no such size",
    );
    if number.contains('.') {
        let right = format!("{number} mm²");
        error.help(format!("if the area is meant, write `{right}`")).mend(span, right)
    } else {
        error
    }
}

/// A number beyond what can be computed with.
pub(crate) fn number_range(span: Span, found: &str) -> TextError {
    TextError::new(
        "language.number-range",
        span,
        format!("{} is too large a number", quote(found)),
        "beyond 10^308",
    )
}

/// A date that is not in the calendar, or not in its form.
pub(crate) fn bad_date(span: Span, found: &str) -> TextError {
    TextError::new(
        "language.bad-date",
        span,
        format!("there is no day {}", quote(found)),
        "not in the calendar",
    )
    .help("a date is year, month, day: `2027-03-01`")
}

/// `01.03.2027`, `2027/03/01`: a date in another form. `right` is the date meant, where that is certain.
pub(crate) fn date_form(span: Span, found: &str, right: Option<&str>) -> TextError {
    let message = format!("{} is not how a date is written", quote(found));
    let error = TextError::new("language.bad-date", span, message, "year, month, day, with hyphens");
    match right {
        Some(right) => error.help(format!("write `{right}`")).mend(span, right),
        None => error.help("a date is year, month, day: `2027-03-01`"),
    }
}
