//! Numbers whose digits are not written as the language has them.

use super::quote;
use crate::{error::TextError, span::Span};

/// `3,5`: taken for a decimal comma.
pub(crate) fn decimal_comma(span: Span, found: &str) -> TextError {
    let right = found.replacen(',', ".", 1);
    let spaced = found.replacen(',', ", ", 1);
    let thousands = found.rsplit(',').next().is_some_and(|digits| digits.len() == 3);
    let message = format!("{} has a comma inside", quote(found));
    let error = TextError::new("language.decimal-comma", span, message, "the decimal mark is a point");
    if thousands {
        let joined = found.replace(',', "_");
        return error.help(format!("write `{joined}` for thousands, or `{right}` with a point"));
    }
    error.help(format!("write `{right}` with a point, or `{spaced}` for two numbers")).mend(span, right)
}

/// `1,000,000`, `5'000` or `5 000`. `right` is the number with `_` between the groups.
pub(crate) fn grouped_digits(span: Span, found: &str, right: &str) -> TextError {
    TextError::new(
        "language.grouped-digits",
        span,
        format!("the digits of {} are grouped", quote(found)),
        "digits are grouped with `_`",
    )
    .help(format!("write `{right}`"))
    .mend(span, right)
}

/// `.5`.
pub(crate) fn leading_point(span: Span, found: &str) -> TextError {
    let right = format!("0{found}");
    TextError::new(
        "language.leading-point",
        span,
        format!("{} has no digit before the point", quote(found)),
        "the point is easy to overlook",
    )
    .help(format!("write `{right}`"))
    .mend(span, right)
}

/// `5. A`.
pub(crate) fn trailing_point(span: Span, found: &str, right: &str) -> TextError {
    TextError::new(
        "language.bad-number",
        span,
        format!("{} has no digit behind the point", quote(found)),
        "the point is easy to overlook",
    )
    .help(format!("write `{right}`"))
    .mend(span, right)
}

/// `1.2.3`.
pub(crate) fn two_points(span: Span, found: &str) -> TextError {
    TextError::new(
        "language.bad-number",
        span,
        format!("{} has more than one point", quote(found)),
        "a number has one point",
    )
    .help("a range has two dots side by side: `1.2 .. 3`")
}

/// `0x1F`. `right` is the number in decimal digits.
pub(crate) fn other_base(span: Span, found: &str, right: &str) -> TextError {
    TextError::new(
        "language.bad-number",
        span,
        format!("{} is not a decimal number", quote(found)),
        "decimal digits are due here",
    )
    .help(format!("write `{right}`"))
    .mend(span, right)
}

/// `½` and digits of other scripts.
pub(crate) fn odd_digit(span: Span, found: &str) -> TextError {
    TextError::new(
        "language.bad-number",
        span,
        format!("{} is not read as a number", quote(found)),
        "the digits 0 to 9 are due here",
    )
    .help("write it with digits and a point, such as `0.5`")
}

/// `--5 °C`: two signs before one number. `span` is the first.
pub(crate) fn second_sign(span: Span) -> TextError {
    TextError::new("language.bad-number", span, "a number has one sign, found two", "a sign too many")
        .help("take one of them out")
        .mend(span, "")
}
