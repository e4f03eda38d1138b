//! Signs of other notations where the language has a word, another sign, or nothing.

use super::quote;
use crate::{error::TextError, span::Span};

/// An arrow between two ends.
pub(crate) fn arrow(span: Span, found: &str) -> TextError {
    TextError::new(
        "language.unknown-character",
        span,
        format!("{} does not join two ends", quote(found)),
        "an arrow",
    )
    .help("write `to`")
    .mend(span, "to")
}

/// `>`, `=>`, `==` and the like where a limit is due.
pub(crate) fn comparison(span: Span, found: &str, meant: &str) -> TextError {
    TextError::new(
        "language.unknown-character",
        span,
        format!("{} is no comparison here", quote(found)),
        "limits are `>=`, `<=` or `=`",
    )
    .help(format!("write `{meant}`"))
    .mend(span, meant)
}

/// `!=`: nothing can be expected not to be a value.
pub(crate) fn not_equal(span: Span, found: &str) -> TextError {
    TextError::new(
        "language.unknown-character",
        span,
        format!("{} is no comparison here", quote(found)),
        "limits are `>=`, `<=` or `=`",
    )
    .help("a limit is the lowest or the highest value that may be: `>= 20 V`, `<= 30 V`")
}

/// `//`, `/*` or `--` before a remark.
pub(crate) fn comment_sign(span: Span, found: &str) -> TextError {
    TextError::new(
        "language.comment-sign",
        span,
        format!("{} begins no comment", quote(found)),
        "comments begin with `#`",
    )
    .help("write `#`")
    .mend(span, "#")
}

/// `40 A.`: a full stop behind a unit.
pub(crate) fn full_stop(span: Span, stop: Span, unit: &str) -> TextError {
    let message = format!("{} has a full stop behind it", quote(unit));
    TextError::new("language.full-stop", span, message, "units and lines have no full stop")
        .help("take the point out")
        .mend(stop, "")
}

/// `...` or `…` between the ends of a range.
pub(crate) fn range_dots(span: Span, found: &str) -> TextError {
    TextError::new(
        "language.range-dots",
        span,
        format!("{} makes no range", quote(found)),
        "two dots make a range",
    )
    .help("write `..`")
    .mend(span, "..")
}
