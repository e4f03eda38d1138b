//! Braces without their partner.

use crate::{error::TextError, span::Span};

/// A block that is never closed. `end` is where its closing brace was taken to be, `close` the brace as it would stand
/// there.
pub(crate) fn unclosed(span: Span, end: Span, close: String) -> TextError {
    TextError::new("language.unclosed-block", span, "this block is never closed", "opened here")
        .help("add `}` where the block ends")
        .related(end, "taken to end here")
        .mend(end, close)
}

/// A closing brace with nothing to close.
pub(crate) fn stray_close(span: Span) -> TextError {
    TextError::new("language.stray-brace", span, "this `}` closes nothing", "no block is open here")
        .help("take it out, or open the block that it belongs to")
}

/// A statement whose block has lines and a `}` but no `{`.
pub(crate) fn missing_open(line: Span, close: Span) -> TextError {
    let end = Span::new(line.file, line.end, line.end);
    TextError::new(
        "language.missing-brace",
        line,
        "`{` is missing at the end of this line",
        "its block follows",
    )
    .help("add `{`")
    .related(close, "this `}` closes it")
    .mend(end, " {")
}
