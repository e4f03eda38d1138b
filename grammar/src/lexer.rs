//! Text to tokens: total and lossless, one pass over the bytes.
//!
//! The lexer knows shapes only: what a word, a number or a date looks like. What they mean, and whether a `m` is a
//! metre or a name, is decided by the parser. Two shapes depend on what stands before: after the dot of a path a word
//! may begin with a digit (`K1.87a`), and behind a number a unit may hold a solidus (`920 rpm/V`).

mod class;
mod mark;
mod number;
mod word;

use crate::token::{Token, TokenKind};
use class::Class;

/// Cuts `text` into tokens. Every byte lies in exactly one of them, in order; no text makes it fail.
///
/// Positions are 32 bits wide: of a text longer than 4 GiB the part beyond is left out.
#[must_use]
pub fn lex(text: &str) -> Vec<Token> {
    if u32::try_from(text.len()).is_err() {
        return vec![Token { kind: TokenKind::Unknown, start: 0, end: u32::MAX }];
    }
    let mut lexer =
        Lexer { text, bytes: text.as_bytes(), at: 0, tokens: Vec::with_capacity(text.len() / 3 + 1) };
    lexer.byte_order_mark();
    while lexer.at < lexer.bytes.len() {
        lexer.token();
    }
    lexer.tokens
}

/// The state of one run: how far the text is cut.
struct Lexer<'t> {
    text: &'t str,
    bytes: &'t [u8],
    at: usize,
    tokens: Vec<Token>,
}

impl Lexer<'_> {
    /// Reads one token. Always moves forward.
    fn token(&mut self) {
        match class::of(self.byte(self.at)) {
            Class::Letter => self.word(),
            Class::Blank => self.blanks(),
            Class::Digit => self.number_or_date(),
            Class::LineEnd => self.line_end(),
            Class::Quote => self.quoted(),
            Class::Hash => self.comment(),
            Class::Dot => self.dots(),
            Class::Mark => self.mark(),
            Class::Wide => self.wide(),
            Class::Other => self.unknown(1),
        }
    }

    /// The byte at a position; 0 past the end, where no shape continues.
    #[inline]
    fn byte(&self, at: usize) -> u8 {
        self.bytes.get(at).copied().unwrap_or(0)
    }

    /// The character at a position.
    fn character(&self, at: usize) -> Option<char> {
        self.text.get(at..)?.chars().next()
    }

    /// Ends a token of `kind` at byte `end`.
    #[inline]
    fn push(&mut self, kind: TokenKind, end: usize) {
        // The length was checked to fit 32 bits before the run.
        #[allow(clippy::cast_possible_truncation)]
        self.tokens.push(Token { kind, start: self.at as u32, end: end as u32 });
        self.at = end;
    }

    /// The token before, if no blank lies between.
    fn previous(&self) -> Option<TokenKind> {
        self.tokens.last().map(|token| token.kind)
    }

    fn byte_order_mark(&mut self) {
        if self.text.starts_with('\u{feff}') {
            self.push(TokenKind::Space, '\u{feff}'.len_utf8());
        }
    }

    fn blanks(&mut self) {
        let mut end = self.at + 1;
        while class::of(self.byte(end)) == Class::Blank {
            end += 1;
        }
        self.space(end);
    }

    /// Ends a run of blanks at byte `end`; blanks of different characters are one token, as they look.
    fn space(&mut self, end: usize) {
        match self.tokens.last_mut() {
            Some(last) if last.kind == TokenKind::Space => {
                last.end = u32::try_from(end).unwrap_or(u32::MAX);
                self.at = end;
            }
            _ => self.push(TokenKind::Space, end),
        }
    }

    fn line_end(&mut self) {
        let pair = self.byte(self.at) == b'\r' && self.byte(self.at + 1) == b'\n';
        self.push(TokenKind::Newline, self.at + 1 + usize::from(pair));
    }

    fn comment(&mut self) {
        self.push(TokenKind::Comment, self.end_of_line(self.at));
    }

    /// The first line end at or after `from`, or the end of the text.
    fn end_of_line(&self, from: usize) -> usize {
        let rest = self.bytes.get(from..).unwrap_or(&[]);
        rest.iter()
            .position(|byte| matches!(byte, b'\n' | b'\r'))
            .map_or(self.bytes.len(), |length| from + length)
    }

    fn quoted(&mut self) {
        let mut end = self.at + 1;
        loop {
            match self.byte(end) {
                b'"' => return self.push(TokenKind::Text, end + 1),
                b'\n' | b'\r' => return self.push(TokenKind::OpenText, end),
                b'\\' if matches!(self.byte(end + 1), b'"' | b'\\') => end += 2,
                _ if end >= self.bytes.len() => return self.push(TokenKind::OpenText, self.bytes.len()),
                _ => end += 1,
            }
        }
    }

    /// `..`, or a single dot; a dot right behind a word lets the next word begin with a digit.
    fn dots(&mut self) {
        if self.byte(self.at + 1) == b'.' {
            return self.push(TokenKind::DotDot, self.at + 2);
        }
        let joins = self.previous() == Some(TokenKind::Word);
        self.push(TokenKind::Dot, self.at + 1);
        if joins && matches!(class::of(self.byte(self.at)), Class::Letter | Class::Digit) {
            self.word();
        }
    }

    /// Adds `length` bytes to a run of characters that belong to nothing.
    fn unknown(&mut self, length: usize) {
        let end = self.at + length;
        match self.tokens.last_mut() {
            Some(last) if last.kind == TokenKind::Unknown => {
                last.end = u32::try_from(end).unwrap_or(u32::MAX);
                self.at = end;
            }
            _ => self.push(TokenKind::Unknown, end),
        }
    }
}

#[cfg(test)]
mod tests;
