//! The Wattle language: text to tokens and a tree, units, the table of kinds, and the one layout.
//!
//! Everything here is pure: no files, no clock, no environment. [`parse`] is total: any text gives a tree and its
//! errors.

pub mod error;
pub mod evaluate;
pub mod kind;
pub mod lexer;
pub mod line_index;
pub mod nearest;
mod parse;
pub mod quantity;
pub mod span;
pub mod syntax;
pub mod tidy;
pub mod token;
pub mod unit;

pub use parse::{LARGEST_FILE, parse};

/// What [`parse`] gives: a tree for any text, the tokens, and the errors.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Parse {
    /// The statements; those that could not be read are [`syntax::Item::Broken`].
    pub file: syntax::File,
    /// Every token, trivia included; together they are the whole text.
    pub tokens: Vec<token::Token>,
    /// Errors in place order, at most one for each statement.
    pub errors: Vec<error::TextError>,
}

impl Parse {
    /// The words on lines with an error and in broken statements. A name among them may well be defined there, so whoever
    /// looks names up does not call it unknown: the line's own error is enough.
    #[must_use]
    pub fn words_in_doubt<'t>(&self, text: &'t str) -> std::collections::BTreeSet<&'t str> {
        let broken = self
            .file
            .all_items()
            .filter(|item| matches!(item, syntax::Item::Broken(_)))
            .map(syntax::Item::span);
        let places = self.errors.iter().map(|error| error.span).chain(broken);
        let mut words = std::collections::BTreeSet::new();
        let mut done = 0..0;
        for place in places {
            // Errors come in place order: a line of many is looked at once.
            if done.start <= place.start as usize && (place.end as usize) < done.end {
                continue;
            }
            let bytes = text.as_bytes();
            let ends_line = |byte: &u8| matches!(byte, b'\n' | b'\r');
            let before = bytes.get(..place.start as usize).unwrap_or(&[]);
            let after = bytes.get(place.end as usize..).unwrap_or(&[]);
            let start = before.iter().rposition(ends_line).map_or(0, |at| at + 1);
            let end = place.end as usize + after.iter().position(ends_line).unwrap_or(after.len());
            done = start..end + 1;
            let first = self.tokens.partition_point(|token| (token.start as usize) < start);
            let line = self.tokens.iter().skip(first).take_while(|token| (token.end as usize) <= end);
            let line = line.filter(|token| token.kind == token::TokenKind::Word);
            words.extend(line.filter_map(|token| text.get(token.start as usize..token.end as usize)));
        }
        words
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_of_broken_lines_are_in_doubt_and_others_are_not() {
        let text = "wattle 1\nfuse F-A 3 Amps\nwire W1 A.1\nmotor M 24 V\nharness H {\n  H1 X.1 Y.2\n}";
        let words = parse(span::FileId(0), text).words_in_doubt(text);
        for word in ["F-A", "W1", "H1", "X"] {
            assert!(words.contains(word), "{word}");
        }
        assert!(!words.contains("M") && !words.contains("H"));
    }
}
