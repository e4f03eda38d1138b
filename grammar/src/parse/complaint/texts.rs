//! Texts in quotes that are not written as the language has them.

use super::quote;
use crate::{error::TextError, span::Span};

/// A text without its closing quote.
pub(crate) fn unclosed_text(span: Span, text: &str) -> TextError {
    let written = text.trim_end().len();
    let end = span.start + u32::try_from(written).unwrap_or(0);
    TextError::new("language.unclosed-text", span, "this text has no closing quote", "opened here")
        .help("close it with `\"` on the same line")
        .mend(Span::new(span.file, end, end), "\"")
}

/// The first of several lines that somebody meant as one text.
pub(crate) fn over_lines(error: TextError) -> TextError {
    TextError { mend: None, ..error }
        .help("a text ends on its own line: put all of it on one line, or leave words out")
}

/// Curly quotes, from a word processor. `inner` is the text between them.
pub(crate) fn curly_quotes(span: Span, inner: &str) -> TextError {
    let straight = format!("\"{inner}\"");
    TextError::new("language.curly-quotes", span, "curly quotes do not make a text", "curly quotes")
        .help(format!("write {}", quote(&straight)))
        .mend(span, straight)
}

/// A curly quote without its partner.
pub(crate) fn curly_quote_alone(span: Span, found: &str) -> TextError {
    let message = format!("{} makes no text, and no other quote follows it", quote(found));
    TextError::new("language.curly-quotes", span, message, "a curly quote")
        .help("a text stands in straight quotes, `\"…\"`, on one line")
}

/// `'Key'`. `inner` is the text between the quotes.
pub(crate) fn single_quotes(span: Span, inner: &str) -> TextError {
    let right = format!("\"{inner}\"");
    TextError::new("language.single-quotes", span, "single quotes do not make a text", "single quotes")
        .help(format!("write {}", quote(&right)))
        .mend(span, right)
}

/// A backslash in a text before something that needs none.
pub(crate) fn bad_escape(span: Span, found: &str) -> TextError {
    let coded = found.starts_with("\\u") || found.starts_with("\\x") || found.starts_with("\\U");
    let help = match coded {
        true => "write the character itself; a backslash is written `\\\\`",
        false => "a backslash is written `\\\\`",
    };
    TextError::new(
        "language.bad-escape",
        span,
        format!("{} means nothing in a text", quote(found)),
        "only `\\\"` and `\\\\` mean something",
    )
    .help(help)
}

/// A control character inside a text.
pub(crate) fn control_in_text(span: Span, found: char) -> TextError {
    TextError::new(
        "language.control-character",
        span,
        format!("a text holds the control character U+{:04X}", u32::from(found)),
        "cannot be seen or printed",
    )
    .help("take it out")
    .mend(span, "")
}
