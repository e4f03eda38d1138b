//! Characters that belong to nothing: pasted quotes, arrows, letters outside names, control characters.

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

/// Curly quotes, from a word processor. `inner` is the text between them.
pub(crate) fn curly_quotes(span: Span, inner: &str) -> TextError {
    let straight = format!("\"{inner}\"");
    TextError::new("language.curly-quotes", span, "curly quotes do not make a text", "curly quotes")
        .help(format!("write {}", quote(&straight)))
        .mend(span, straight)
}

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

/// `>` or `<` alone.
pub(crate) fn comparison(span: Span, found: &str, meant: &str) -> TextError {
    TextError::new(
        "language.unknown-character",
        span,
        format!("{} is no comparison", quote(found)),
        "limits are `>=` or `<=`",
    )
    .help(format!("write `{meant}`"))
    .mend(span, meant)
}

/// A name with letters that names cannot have.
pub(crate) fn bad_name(span: Span, found: &str) -> TextError {
    TextError::new(
        "language.bad-name",
        span,
        format!("{} is no name: names have the letters A to Z, digits, `-` and `_`", quote(found)),
        "not a name",
    )
    .help("a label in quotes may hold any letters: `\"…\"`")
}

/// A backslash in a text before something that needs none.
pub(crate) fn bad_escape(span: Span, found: &str) -> TextError {
    TextError::new(
        "language.bad-escape",
        span,
        format!("{} means nothing in a text", quote(found)),
        "only `\\\"` and `\\\\` do",
    )
    .help("write `\\\\` for a backslash")
}

/// A control character inside a text.
pub(crate) fn control_in_text(span: Span, found: char) -> TextError {
    TextError::new(
        "language.control-character",
        span,
        format!("control character U+{:04X} in a text", u32::from(found)),
        "cannot be seen or printed",
    )
    .help("take it out")
    .mend(span, "")
}

/// Any other character that the language does not use.
pub(crate) fn unknown_character(span: Span, found: &str) -> TextError {
    let first = found.chars().next().unwrap_or(' ');
    let code = u32::from(first);
    if first.is_control() || is_invisible(first) {
        let what = if first.is_control() { "control" } else { "invisible" };
        return TextError::new(
            "language.control-character",
            span,
            format!("{what} character U+{code:04X}"),
            "cannot be seen",
        )
        .help("take it out")
        .mend(span, "");
    }
    TextError::new(
        "language.unknown-character",
        span,
        format!("{} means nothing here", quote(found)),
        "not understood",
    )
}

const fn is_invisible(found: char) -> bool {
    matches!(found, '\u{ad}' | '\u{200b}'..='\u{200f}' | '\u{2028}'..='\u{202e}' | '\u{2060}'..='\u{206f}' | '\u{feff}')
}
