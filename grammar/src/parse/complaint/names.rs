//! Names and paths that are not written as the language has them.

use super::quote;
use crate::{error::TextError, span::Span};

/// A name with letters that names cannot have.
pub(crate) fn bad_name(span: Span, found: &str) -> TextError {
    TextError::new(
        "language.bad-name",
        span,
        format!("{} is no name: names have the letters A to Z, digits, `-` and `_`", quote(found)),
        "a name is due here",
    )
    .help("any letters may stand in the label behind the name, in quotes")
}

/// `PACK-`.
pub(crate) fn hyphen_last(span: Span, found: &str, right: &str) -> TextError {
    let message = format!("{} is no name: a hyphen cannot be last", quote(found));
    TextError::new("language.bad-name", span, message, "ends in a hyphen")
        .help(format!("write `{right}`"))
        .mend(span, right)
}

/// `2PACK`.
pub(crate) fn digit_first(span: Span, found: &str) -> TextError {
    TextError::new(
        "language.bad-name",
        span,
        format!("{} is no name: names begin with a letter", quote(found)),
        "begins with a digit",
    )
    .help("put a letter first, or the number last")
}

/// `PACK .pos` or `PACK. pos`: blanks around the dot of a path.
pub(crate) fn blank_in_path(span: Span, dot: Span, right: &str) -> TextError {
    TextError::new(
        "language.blank-in-path",
        span,
        "a blank beside the dot of a path",
        "one name, with a dot in it",
    )
    .help(format!("write {}", quote(right)))
    .mend(dot, ".")
}

/// `P3[1]`.
pub(crate) fn bracketed_terminal(span: Span, right: &str) -> TextError {
    TextError::new(
        "language.unknown-character",
        span,
        "brackets name no terminal",
        "a terminal stands behind a dot",
    )
    .help(format!("write {}", quote(right)))
    .mend(span, right)
}
