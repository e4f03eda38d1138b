//! The rule of lines: which line ends end something.

use wattle_grammar::{
    kind::{self, statement},
    token::{Token, TokenKind},
};

/// Most tokens between parentheses that may go over lines.
const FARTHEST: usize = 1000;

/// What the rule needs to know of the text before.
pub(crate) struct Lines<'t> {
    text: &'t str,
    tokens: &'t [Token],
    /// Blanks before the first token of the statement or setting, in bytes.
    indent: usize,
    /// Whether the next token begins a statement or a setting.
    pub(crate) begins: bool,
    open: usize,
    /// Line ends before this token end nothing.
    joined: usize,
}

impl<'t> Lines<'t> {
    pub(crate) fn new(text: &'t str, tokens: &'t [Token]) -> Self {
        Self { text, tokens, indent: 0, begins: true, open: 0, joined: 0 }
    }

    /// Takes note of the token at `at`, which is no blank, comment or line end.
    pub(crate) fn pass(&mut self, at: usize) {
        if self.begins {
            self.indent = self.column(at);
        }
        self.begins = false;
        match self.tokens[at].kind {
            TokenKind::OpenBrace => self.begins = true,
            TokenKind::OpenParen => {
                if self.open == 0 && at >= self.joined {
                    self.joined = self.closing(at).unwrap_or(self.joined);
                }
                self.open += 1;
            }
            TokenKind::CloseParen => self.open = self.open.saturating_sub(1),
            _ => {}
        }
    }

    /// Whether the line end or `;` at `at` ends something; `behind_comma` if a comma is the last token before it.
    pub(crate) fn ends(&mut self, at: usize, behind_comma: bool) -> bool {
        let passed = self.tokens[at].kind == TokenKind::Newline
            && (at < self.joined || (behind_comma && self.goes_on(at + 1)));
        if !passed {
            (self.begins, self.open) = (true, 0);
        }
        !passed
    }

    /// Whether the next token of substance goes on with the line that ended in a comma.
    fn goes_on(&self, from: usize) -> bool {
        let substance = (from..self.tokens.len()).find(|at| !self.passes_over(*at));
        substance.is_some_and(|at| {
            self.tokens[at].kind != TokenKind::CloseBrace
                && !(self.is_statement_word(at) && self.column(at) <= self.indent)
        })
    }

    /// The token that closes the parenthesis at `at`.
    fn closing(&self, at: usize) -> Option<usize> {
        let mut depth = 0;
        for next in (at..self.tokens.len()).take(FARTHEST) {
            match self.tokens[next].kind {
                TokenKind::OpenParen => depth += 1,
                TokenKind::CloseParen if depth == 1 => return Some(next),
                TokenKind::CloseParen => depth -= 1,
                TokenKind::OpenBrace | TokenKind::CloseBrace | TokenKind::Semicolon => return None,
                _ if next > at && self.is_first_of_line(next) && self.is_statement_word(next) => return None,
                _ => {}
            }
        }
        None
    }

    fn passes_over(&self, at: usize) -> bool {
        let kind = self.tokens[at].kind;
        kind.is_trivia() || kind == TokenKind::Newline
    }

    fn is_statement_word(&self, at: usize) -> bool {
        let token = self.tokens[at];
        let word = &self.text[token.start as usize..token.end as usize];
        token.kind == TokenKind::Word && (kind::by_word(word).is_some() || statement::by_word(word).is_some())
    }

    fn is_first_of_line(&self, at: usize) -> bool {
        let before = self.tokens[..at].iter().rev().find(|token| !token.kind.is_trivia());
        before.is_some_and(|token| token.kind == TokenKind::Newline)
    }

    /// How many bytes stand before the token on its line.
    fn column(&self, at: usize) -> usize {
        let start = self.tokens[at].start as usize;
        start - self.text[..start].rfind(['\n', '\r']).map_or(0, |end| end + 1)
    }
}
