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
            let message = format!("{found} is no unit; unit symbols are case-sensitive: `{}`", unit.symbol);
            write(error(message, "wrong case"), unit)
        }
        Some(Misspelt::LongForm(unit)) => {
            write(error(format!("{found} is no unit symbol: {} is `{}`", unit.name, unit.symbol), "not a symbol"), unit)
        }
        Some(Misspelt::Typo(unit)) => write(error(format!("{found} is no unit"), "unknown unit"), unit),
        Some(Misspelt::Gauge) => error(format!("{found} does not say which gauge: wire gauges share numbers"), "which gauge?")
            .help(format!("write `{number} AWG` if it is American wire gauge, else the area in `mm²`")),
        Some(Misspelt::MotorConstant) => error(format!("{found} is no unit: a motor constant is in `rpm/V`"), "looks like kilovolts")
            .help(format!("write `{number} rpm/V`, or `{number} kV` if kilovolts are meant")),
        Some(Misspelt::Fahrenheit) => error(format!("{found} is no unit here: temperatures are in `°C`"), "not taken")
            .help("°C = (°F − 32) / 1.8"),
        None => error(format!("{found} is no unit"), "unknown unit")
            .help("units are written as on the label: `V`, `A`, `mA`, `Ω`, `W`, `Ah`, `mm`, `m`, `mm²`, `AWG`, `°C`, `%` …"),
    }
}

/// `4k7`, the code printed on resistors. `right` is what it stands for.
pub(crate) fn resistor_code(span: Span, found: &str, right: &str) -> TextError {
    TextError::new(
        "language.resistor-code",
        span,
        format!("{} is a code for parts, not a number with a unit", quote(found)),
        "resistor code",
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
        "a unit is due here",
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

/// `3,5`.
pub(crate) fn decimal_comma(span: Span, found: &str) -> TextError {
    let right = found.replacen(',', ".", 1);
    let spaced = found.replacen(',', ", ", 1);
    let thousands = found.rsplit(',').next().is_some_and(|digits| digits.len() == 3);
    let error = TextError::new(
        "language.decimal-comma",
        span,
        format!("{} has a comma inside", quote(found)),
        "decimal comma",
    );
    if thousands {
        let joined = found.replace(',', "");
        return error.help(format!(
            "write `{right}` with a point, `{joined}` for thousands, or `{spaced}` for two numbers"
        ));
    }
    error.help(format!("write `{right}` with a point, or `{spaced}` for two numbers")).mend(span, right)
}

/// `.5`.
pub(crate) fn leading_point(span: Span, found: &str) -> TextError {
    let right = format!("0{found}");
    TextError::new(
        "language.leading-point",
        span,
        format!("{} has no digit before the point", quote(found)),
        "easy to overlook",
    )
    .help(format!("write `{right}`"))
    .mend(span, right)
}

/// `10-12 V`: a hyphen between two numbers.
pub(crate) fn dashed_range(span: Span, dash: Span) -> TextError {
    TextError::new(
        "language.dashed-range",
        span,
        "a dash between two numbers is neither a range nor a subtraction",
        "a dash",
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

/// `12"` or `6'`.
pub(crate) fn inch_mark(span: Span, number: &str, unit: &str) -> TextError {
    TextError::new(
        "language.unknown-unit",
        span,
        "inches and feet are written `in` and `ft`",
        "not a unit here",
    )
    .help(format!("write `{number} {unit}`"))
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
    TextError::new("language.bad-date", span, format!("{} is no date", quote(found)), "not in the calendar")
        .help("a date is year, month, day: `2027-03-01`")
}
