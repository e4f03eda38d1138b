//! Characters that belong to nothing, seen or unseen.

use super::quote;
use crate::{error::TextError, span::Span};

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
        "not a sign of the language",
    )
    .help(instead(found))
}

/// What people mean by the sign, and how it is written.
fn instead(found: &str) -> &'static str {
    match found.chars().next().unwrap_or(' ') {
        '&' | '|' => "names and ends are parted by commas",
        '~' | '≈' | '≃' => {
            "a value that is not exact is a range or has a tolerance: `1.8 A .. 2.2 A`, `2 A ± 10 %`"
        }
        '[' | ']' => "settings stand in braces, `{ }`, and a terminal stands behind a dot, `P3.1`",
        '!' | '≠' => "limits are `>=`, `<=` or `=`",
        '\\' => "a statement goes on behind a comma at the line's end; no other sign joins lines",
        '∞' => "leave a value out if it is not known: nothing is guessed",
        _ => "such signs may stand in a text in quotes or in a comment",
    }
}

const fn is_invisible(found: char) -> bool {
    matches!(found, '\u{ad}' | '\u{200b}'..='\u{200f}' | '\u{2028}'..='\u{202e}' | '\u{2060}'..='\u{206f}' | '\u{feff}')
}
