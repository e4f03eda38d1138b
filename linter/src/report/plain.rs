//! Text from the user's files made harmless for a terminal: no escape sequences, no reversed reading direction.
//!
//! A file under review may hold anything. What would move the cursor, change colours or show words in another order
//! than the file has them is shown as a replacement character instead.

use std::borrow::Cow;

/// Whether a character must not reach a terminal as it is.
fn unruly(character: char) -> bool {
    character.is_control()
        || matches!(
            character,
            '\u{200e}' | '\u{200f}' | '\u{2028}' | '\u{2029}' | '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}' | '\u{feff}'
        )
}

/// `text` on one line: line ends and tabs become blanks, everything else unruly becomes `�`.
pub(crate) fn line(text: &str) -> Cow<'_, str> {
    if !text.chars().any(unruly) {
        return Cow::Borrowed(text);
    }
    let tame = |character| match character {
        '\n' | '\r' | '\t' => ' ',
        other if unruly(other) => char::REPLACEMENT_CHARACTER,
        other => other,
    };
    Cow::Owned(text.chars().map(tame).collect())
}

/// `text` with every unruly character except tabs and line ends replaced by one of as many bytes, so that every byte
/// offset still means the same character.
pub(super) fn same_offsets(text: &str) -> String {
    let tame = |character: char| match (character, character.len_utf8()) {
        ('\t' | '\n' | '\r', _) => character,
        (other, _) if !unruly(other) => other,
        (_, 1) => '?',
        (_, 2) => '\u{b7}',
        _ => char::REPLACEMENT_CHARACTER,
    };
    text.chars().map(tame).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_line_holds_no_control_character() {
        assert_eq!(line("µ 4 Ω"), "µ 4 Ω");
        assert_eq!(line("a\r\nb\tc\u{1b}[31m\u{202e}d"), "a  b c\u{fffd}[31m\u{fffd}d");
    }

    #[test]
    fn offsets_survive() {
        let text = "\u{feff}a\u{1b}\u{85}\u{2028}é😀\t\r\nz";
        let tame = same_offsets(text);
        assert_eq!(tame.len(), text.len());
        assert!(tame.char_indices().map(|(at, _)| at).eq(text.char_indices().map(|(at, _)| at)));
        assert_eq!(tame, "\u{fffd}a?\u{b7}\u{fffd}é😀\t\r\nz");
    }
}
