//! Words: names, keywords and units.

use super::{Lexer, class};
use crate::{token::TokenKind, unit};

impl Lexer<'_> {
    /// A word that begins here with an ASCII letter, or with a digit behind the dot of a path.
    pub(super) fn word(&mut self) {
        let end = self.plain_end(self.at + 1);
        match self.byte(end) {
            128.. | b'^' => self.unit_word(end),
            b'/' => self.word_before_solidus(end),
            _ => self.finish_word(TokenKind::Word, end),
        }
    }

    /// Where letters, digits, `_` and `-` end.
    fn plain_end(&self, from: usize) -> usize {
        let mut end = from;
        while class::continues_word(self.byte(end)) {
            end += 1;
        }
        end
    }

    /// Ends a word; hyphens at its end are not part of it.
    pub(super) fn finish_word(&mut self, kind: TokenKind, mut end: usize) {
        while self.byte(end - 1) == b'-' {
            end -= 1;
        }
        self.push(kind, end);
    }

    /// A word that holds characters outside ASCII, or `^2`. Those of units are fine; any other letter makes the whole
    /// word unknown, so that one wrong name is one mistake.
    pub(super) fn unit_word(&mut self, from: usize) {
        let mut end = from;
        let mut kind = TokenKind::Word;
        loop {
            end = self.plain_end(end);
            if self.byte(end) == b'^' && self.byte(end + 1).is_ascii_digit() {
                end += 2;
                continue;
            }
            match self.character(end) {
                Some(found) if is_unit_character(found) => end += found.len_utf8(),
                Some(found) if !found.is_ascii() && found.is_alphanumeric() => {
                    kind = TokenKind::Unknown;
                    end += found.len_utf8();
                }
                _ => break,
            }
        }
        if self.byte(end) == b'/' && kind == TokenKind::Word {
            return self.word_before_solidus(end);
        }
        self.finish_word(kind, end);
    }

    /// Behind a number, `rpm/V` is one unit; anywhere else `red/white` is two words.
    fn word_before_solidus(&mut self, end: usize) {
        let whole = self.unit_end(end + 1);
        let is_unit = self.behind_number()
            && self.text.get(self.at..whole).is_some_and(|word| unit::by_spelling(word).is_some());
        self.finish_word(TokenKind::Word, if is_unit { whole } else { end });
    }

    fn unit_end(&self, from: usize) -> usize {
        let mut end = from;
        loop {
            end = self.plain_end(end);
            match self.character(end) {
                Some(found) if is_unit_character(found) => end += found.len_utf8(),
                _ => return end,
            }
        }
    }

    /// Whether the last token, blanks aside, is a number.
    fn behind_number(&self) -> bool {
        self.tokens
            .iter()
            .rev()
            .find(|token| token.kind != TokenKind::Space)
            .is_some_and(|token| token.kind == TokenKind::Number)
    }
}

/// Characters outside ASCII that unit symbols are written with: both micro signs, both ohms, degree, square, dots.
pub(super) const fn is_unit_character(found: char) -> bool {
    matches!(found, 'µ' | 'μ' | 'Ω' | '\u{2126}' | '°' | '²' | '·' | '⋅')
}
