//! The edition that every file begins with.

use super::quote;
use crate::{error::TextError, span::Span};

/// No statement is the edition.
pub(crate) fn missing_edition(first: Span, insert: Span) -> TextError {
    TextError::new(
        "language.missing-edition",
        first,
        "the file does not say its edition of the language",
        "the edition is due before this",
    )
    .help("begin the file with `wattle 1`")
    .mend(insert, "wattle 1\n")
}

/// An edition that this tool does not know.
pub(crate) fn unknown_edition(span: Span, number: &str) -> TextError {
    TextError::new(
        "language.unknown-edition",
        span,
        format!("edition {} is not known", quote(number)),
        "the newest known edition is 1",
    )
    .help("write `wattle 1`, or use a newer version of this tool; the file is read as edition 1")
}

/// The edition stands below other statements. `first` is the first of them.
pub(crate) fn late_edition(span: Span, first: Span) -> TextError {
    TextError::new(
        "language.misplaced-edition",
        span,
        "the edition must be the first statement of the file",
        "statements stand before it",
    )
    .help("move this line to the top of the file")
    .related(first, "the first statement")
}

/// A second edition.
pub(crate) fn again(span: Span, first: Span) -> TextError {
    TextError::new(
        "language.misplaced-edition",
        span,
        "the edition stands twice in this file",
        "the second one",
    )
    .help("take this line out")
    .related(first, "the first one")
    .mend(span, "")
}
