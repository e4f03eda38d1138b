//! Tokens to lexemes: blanks and comments go, numbers meet their units, and line ends stay only where they end something.
//!
//! What people write that the language does not have (`40 Amps`, `3,5 mm`, curly quotes) is seen here, once, and
//! replaced by what was meant where that can be told, so that the mistake costs one message and nothing else.

mod figure;
mod layout;
mod marks;
mod number;
mod slip;
mod texts;
mod trap;
mod word;

use super::{
    complaint,
    lexeme::{Lexeme, Lexemes, Sign, Stretch},
    words::Word,
};
use crate::{
    error::TextError,
    quantity::Quantity,
    span::{FileId, Span},
    token::{Token, TokenKind},
};

/// Deepest nesting of blocks, and of parentheses in one value.
pub(super) const DEEPEST: usize = 64;
/// Most operators in one statement's line: each makes the tree one deeper.
const MOST_OPERATORS: usize = 256;

/// Reads all tokens. The braces among them must match.
pub(super) fn read(file: FileId, text: &str, tokens: &[Token]) -> (Lexemes, Vec<TextError>) {
    let mut reader = Reader {
        file,
        text,
        tokens,
        at: 0,
        out: Lexemes { all: Vec::with_capacity(tokens.len() / 3 * 2 + 16), ..Lexemes::default() },
        complaints: Vec::new(),
        last_end: None,
        first: 0,
        blocks: 0,
        parens: 0,
        joined: 0,
        operators: 0,
        starts: true,
        inches: true,
        too_deep: false,
        indent: 0,
        line_start: 0,
    };
    while let Some(token) = reader.token(reader.at) {
        reader.step(token);
    }
    reader.end(reader.length());
    (reader.out, reader.complaints)
}

struct Reader<'t> {
    file: FileId,
    text: &'t str,
    tokens: &'t [Token],
    /// Position of the token to be read.
    at: usize,
    out: Lexemes,
    complaints: Vec<TextError>,
    /// Where the statement or setting before ended.
    last_end: Option<u32>,
    /// First lexeme of the statement being read.
    first: usize,
    blocks: usize,
    parens: usize,
    /// Tokens before this one are inside parentheses that close: line ends there end nothing.
    joined: usize,
    operators: usize,
    /// Whether the next lexeme begins a statement or a line of a block.
    starts: bool,
    /// Whether `in` behind a number is the inch here; in `expect` and `reading` it is a word.
    inches: bool,
    too_deep: bool,
    /// Bytes between the line's start and the statement's or setting's first token.
    indent: u32,
    /// First byte of the line being read.
    line_start: u32,
}

impl<'t> Reader<'t> {
    #[inline]
    fn token(&self, at: usize) -> Option<Token> {
        self.tokens.get(at).copied()
    }

    /// The kind of the token `offset` behind the one to be read.
    #[inline]
    fn kind(&self, offset: usize) -> Option<TokenKind> {
        self.tokens.get(self.at + offset).map(|token| token.kind)
    }

    #[inline]
    fn slice(&self, start: u32, end: u32) -> &'t str {
        self.text.get(start as usize..end as usize).unwrap_or("")
    }

    fn span(&self, start: u32, end: u32) -> Span {
        Span::new(self.file, start, end)
    }

    fn length(&self) -> u32 {
        u32::try_from(self.text.len()).unwrap_or(u32::MAX)
    }

    fn step(&mut self, token: Token) {
        match token.kind {
            TokenKind::Space | TokenKind::Comment => self.at += 1,
            TokenKind::Word => self.word(token),
            TokenKind::Number => self.number(token.start, token),
            TokenKind::Newline => self.newline(token),
            TokenKind::Dot => self.dot(token),
            TokenKind::Text => self.quoted(token),
            TokenKind::Comma => self.mark(Sign::Comma, token),
            TokenKind::Semicolon => self.semicolon(token),
            TokenKind::OpenBrace => self.open(token),
            TokenKind::CloseBrace => self.close(token),
            TokenKind::OpenParen => self.open_paren(token),
            TokenKind::CloseParen => self.close_paren(token),
            TokenKind::Colon => self.mark(Sign::Colon, token),
            TokenKind::DotDot => self.dots(token),
            TokenKind::Equal => self.equal(token),
            TokenKind::AtLeast => self.mark(Sign::AtLeast, token),
            TokenKind::AtMost => self.mark(Sign::AtMost, token),
            TokenKind::PlusMinus => self.mark(Sign::PlusMinus, token),
            TokenKind::Plus => self.plus(token),
            TokenKind::Minus => self.minus(token),
            TokenKind::Times => self.operator(Sign::Times, token),
            TokenKind::Slash => self.slash(token),
            TokenKind::Percent => self.mark(Sign::Stray, token),
            TokenKind::Date => self.date(token),
            TokenKind::OpenText => self.open_text(token),
            TokenKind::Unknown => self.unknown(token),
        }
    }

    #[inline]
    fn push(&mut self, sign: Sign, start: u32, end: u32) {
        self.push_value(sign, start, end, 0);
    }

    #[inline]
    fn push_value(&mut self, sign: Sign, start: u32, end: u32, value: u32) {
        if sign.binds()
            && let Some(before) = self.out.all.last_mut()
        {
            before.alone = false;
        }
        self.out.all.push(Lexeme { sign, alone: true, start, end, value });
        self.starts = false;
    }

    fn push_quantity(&mut self, sign: Sign, start: u32, end: u32, quantity: Quantity) {
        let value = u32::try_from(self.out.quantities.len()).unwrap_or(u32::MAX);
        self.out.quantities.push(quantity);
        self.push_value(sign, start, end, value);
    }

    /// Notes a mistake. Only the first of a statement or setting is told in the end, so the others are not kept: a line
    /// may hold millions.
    fn complain(&mut self, complaint: TextError) {
        let (start, since) = (complaint.span.start, self.last_end);
        let told = self
            .complaints
            .last()
            .is_some_and(|last| since.is_none_or(|end| last.span.start > end) && start >= last.span.start);
        if !told {
            self.complaints.push(complaint);
        }
    }

    /// The last lexeme of the statement being read.
    fn last(&self) -> Option<Sign> {
        self.out.all.get(self.first..)?.last().map(|lexeme| lexeme.sign)
    }
}
