//! Punctuation, in ASCII and beyond it, and the characters that people paste by mistake.

use super::{Lexer, word::is_unit_character};
use crate::token::TokenKind;

impl Lexer<'_> {
    /// ASCII punctuation. `+/-` and `+-` are spellings of `±`.
    pub(super) fn mark(&mut self) {
        let next = self.byte(self.at + 1);
        let (kind, length) = match self.byte(self.at) {
            b'{' => (TokenKind::OpenBrace, 1),
            b'}' => (TokenKind::CloseBrace, 1),
            b'(' => (TokenKind::OpenParen, 1),
            b')' => (TokenKind::CloseParen, 1),
            b',' => (TokenKind::Comma, 1),
            b';' => (TokenKind::Semicolon, 1),
            b':' => (TokenKind::Colon, 1),
            b'=' => (TokenKind::Equal, 1),
            b'%' => (TokenKind::Percent, 1),
            b'*' => (TokenKind::Times, 1),
            b'/' => (TokenKind::Slash, 1),
            b'-' => (TokenKind::Minus, 1),
            b'>' if next == b'=' => (TokenKind::AtLeast, 2),
            b'<' if next == b'=' => (TokenKind::AtMost, 2),
            b'+' if next == b'-' => (TokenKind::PlusMinus, 2),
            b'+' if next == b'/' && self.byte(self.at + 2) == b'-' => (TokenKind::PlusMinus, 3),
            b'+' => (TokenKind::Plus, 1),
            _ => return self.unknown(1),
        };
        self.push(kind, self.at + length);
    }

    /// A character outside ASCII.
    pub(super) fn wide(&mut self) {
        let Some(found) = self.character(self.at) else { return self.unknown(1) };
        let length = found.len_utf8();
        match found {
            '−' => self.push(TokenKind::Minus, self.at + length),
            '×' => self.push(TokenKind::Times, self.at + length),
            '÷' => self.push(TokenKind::Slash, self.at + length),
            '±' => self.push(TokenKind::PlusMinus, self.at + length),
            '≥' => self.push(TokenKind::AtLeast, self.at + length),
            '≤' => self.push(TokenKind::AtMost, self.at + length),
            '“' | '”' | '„' => self.curly_quoted(length),
            _ if is_blank(found) => self.space(self.at + length),
            _ if is_unit_character(found) || found.is_alphanumeric() => self.unit_word(self.at),
            _ => self.unknown(length),
        }
    }

    /// A text in curly quotes is one unknown token, so that it is one mistake. Without a closing quote near it on its
    /// line, only the opening one is unknown.
    fn curly_quoted(&mut self, length: usize) {
        const FARTHEST: usize = 500;
        let rest = self.text.get(self.at + length..).unwrap_or("").char_indices().take(FARTHEST);
        let mut line = rest.take_while(|(_, found)| !matches!(found, '\n' | '\r'));
        let closing = line.find(|(_, found)| matches!(found, '“' | '”' | '"'));
        let whole = closing.map_or(length, |(at, found)| length + at + found.len_utf8());
        self.push(TokenKind::Unknown, self.at + whole);
    }
}

/// Blanks that come in with pasted text: no-break space, the widths of typography, the ideographic one.
const fn is_blank(found: char) -> bool {
    matches!(found, '\u{a0}' | '\u{2000}'..='\u{200a}' | '\u{202f}' | '\u{3000}')
}
