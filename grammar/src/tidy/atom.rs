//! Atoms: the tokens as the layout writes them. Blanks are gone, each atom knows whether one stands before it, units have
//! their canonical spelling, and separators that separate nothing are left out.

use super::kept::Lines;
use crate::{
    token::{Token, TokenKind},
    unit::{self, UnitSymbol},
};

/// A piece of text that is written without a break.
#[derive(Clone, Copy, Debug)]
pub(super) struct Atom {
    /// What it is; `None` for whole lines that are kept as they are.
    pub kind: Option<TokenKind>,
    /// First byte in the text.
    pub start: u32,
    /// The byte after it.
    pub end: u32,
    /// The unit, for a word or sign that is one behind its number.
    pub unit: Option<&'static UnitSymbol>,
    /// Characters it is wide as written by the layout. Of a line end how many there are in a row, of a comment how many
    /// characters stand before it on its line.
    pub width: u32,
    /// Whether a blank stands before it on a line.
    pub blank: bool,
    /// Whether nothing may stand between it and the next.
    tight: bool,
}

impl Atom {
    /// Whether it is a token of `kind`.
    pub(super) fn is(&self, kind: TokenKind) -> bool {
        self.kind == Some(kind)
    }

    /// Whether it is a line end, or brings one with it.
    pub(super) fn breaks(&self) -> bool {
        self.is(TokenKind::Newline) || self.is(TokenKind::Comment)
    }

    /// Its text as the layout writes it.
    pub(super) fn written<'t>(&self, text: &'t str) -> &'t str {
        match (self.unit, self.kind) {
            (Some(unit), _) => unit.symbol,
            (None, Some(TokenKind::PlusMinus)) => "±",
            _ => text.get(self.start as usize..self.end as usize).unwrap_or(""),
        }
    }
}

/// The atoms of a text, lines to be kept as one atom each.
pub(super) fn cut(text: &str, tokens: &[Token], kept: &[Lines]) -> Vec<Atom> {
    let mut cutter = Cutter {
        text,
        tokens,
        at: 0,
        atoms: Vec::with_capacity(tokens.len() / 2 + 1),
        line: if text.starts_with('\u{feff}') { 3 } else { 0 },
        parens: 0,
        last: None,
        starts: true,
        behind_kept: false,
        nameless: false,
    };
    let mut kept = kept.iter().peekable();
    while let Some(token) = tokens.get(cutter.at).copied() {
        match kept.next_if(|lines| lines.start <= token.start && token.start < lines.end) {
            Some(lines) => cutter.keep(*lines),
            None => cutter.step(token),
        }
    }
    cutter.atoms
}

/// How many columns a text takes: its characters.
pub(super) fn columns(text: &str) -> u32 {
    let count = if text.is_ascii() { text.len() } else { text.chars().count() };
    u32::try_from(count).unwrap_or(u32::MAX)
}

/// The state of one run: how far the tokens are cut.
pub(super) struct Cutter<'t> {
    text: &'t str,
    pub(super) tokens: &'t [Token],
    /// Position of the token to be cut.
    pub(super) at: usize,
    pub(super) atoms: Vec<Atom>,
    /// First byte of the line.
    line: u32,
    parens: u32,
    /// The last token that is neither trivia nor a line end.
    last: Option<TokenKind>,
    /// Whether the next token begins a statement or a line of a block.
    starts: bool,
    /// Whether nothing but line ends and comments stands behind lines that are kept.
    behind_kept: bool,
    /// Whether the last token is a number that begins a line, the name of a core: what follows is no unit.
    nameless: bool,
}

impl<'t> Cutter<'t> {
    fn keep(&mut self, lines: Lines) {
        self.push_kept(lines);
        (self.parens, self.last, self.starts, self.behind_kept) = (0, None, true, true);
        while self.tokens.get(self.at).is_some_and(|token| token.start < lines.end) {
            self.at += 1;
        }
    }

    fn push_kept(&mut self, lines: Lines) {
        let Lines { start, end } = lines;
        self.atoms.push(Atom { kind: None, start, end, unit: None, width: 0, blank: false, tight: false });
    }

    fn step(&mut self, token: Token) {
        match token.kind {
            TokenKind::Space => {}
            TokenKind::Newline => self.line_end(token),
            TokenKind::Comment => self.comment(token),
            TokenKind::Semicolon => self.semicolon(token),
            TokenKind::CloseBrace => self.close(token),
            _ => self.sign(token),
        }
        self.at += 1;
    }

    fn push(&mut self, token: Token, width: u32, blank: bool) {
        let Token { kind, start, end } = token;
        self.atoms.push(Atom { kind: Some(kind), start, end, unit: None, width, blank, tight: false });
    }

    fn ends_with(&self, kind: TokenKind) -> bool {
        self.atoms.last().is_some_and(|atom| atom.is(kind))
    }

    fn slice(&self, start: u32, end: u32) -> &'t str {
        self.text.get(start as usize..end as usize).unwrap_or("")
    }

    fn line_end(&mut self, token: Token) {
        self.drop_semicolon();
        self.line = token.end;
        self.starts |= self.parens == 0 && self.last != Some(TokenKind::Comma);
        match self.atoms.last_mut() {
            Some(last) if last.is(TokenKind::Newline) => last.width += 1,
            _ => self.push(token, 1, false),
        }
    }

    fn comment(&mut self, token: Token) {
        self.drop_semicolon();
        let text = self.slice(token.start, token.end).trim_end_matches([' ', '\t']);
        let end = token.start + u32::try_from(text.len()).unwrap_or(0);
        let column = columns(self.slice(self.line, token.start));
        self.push(Token { end, ..token }, column, true);
    }

    /// A semicolon with nothing before it ends nothing, unless the lines before are kept: it may be what ends them.
    fn semicolon(&mut self, token: Token) {
        if self.behind_kept {
            self.push_kept(Lines { start: token.start, end: token.end });
        }
        let ends = self.atoms.last().and_then(|atom| atom.kind).is_some_and(|kind| {
            !matches!(kind, TokenKind::Newline | TokenKind::Semicolon | TokenKind::OpenBrace)
        });
        if ends {
            self.push(token, 1, false);
        }
        (self.parens, self.last, self.starts) = (0, Some(token.kind), true);
    }

    /// Takes back a semicolon before a line end, a comment or a closing brace, which end the line as well.
    fn drop_semicolon(&mut self) {
        if self.ends_with(TokenKind::Semicolon) {
            self.atoms.pop();
        }
    }

    /// A closing brace; a block that holds nothing is closed right behind its opening one.
    fn close(&mut self, token: Token) {
        self.drop_semicolon();
        let below = self.atoms.len().wrapping_sub(2);
        let empty = self.atoms.get(below).is_some_and(|atom| atom.is(TokenKind::OpenBrace));
        if empty && self.ends_with(TokenKind::Newline) {
            self.atoms.pop();
        }
        self.push(token, 1, !self.ends_with(TokenKind::OpenBrace));
        (self.parens, self.last, self.starts, self.behind_kept) = (0, Some(token.kind), false, false);
    }

    fn sign(&mut self, token: Token) {
        let unit = self.unit(token);
        let (blank, tight) = self.spacing(token, unit);
        let blank = blank && !self.atoms.last().is_some_and(|before| before.tight);
        let Token { kind, start, end } = token;
        let mut atom = Atom { kind: Some(kind), start, end, unit, width: 0, blank, tight };
        atom.width = columns(atom.written(self.text));
        self.atoms.push(atom);
        match kind {
            TokenKind::OpenParen => self.parens += 1,
            TokenKind::CloseParen => self.parens = self.parens.saturating_sub(1),
            TokenKind::OpenBrace => self.parens = 0,
            _ => {}
        }
        self.behind_kept = false;
        self.nameless = kind == TokenKind::Number && self.starts;
        (self.last, self.starts) = (Some(kind), kind == TokenKind::OpenBrace);
    }

    /// The unit that a token is behind its number, by the rules of the parser.
    fn unit(&self, token: Token) -> Option<&'static UnitSymbol> {
        if self.nameless || !self.ends_with(TokenKind::Number) {
            return None;
        }
        match token.kind {
            TokenKind::Percent => unit::by_spelling("%"),
            TokenKind::Word if self.after() != Some(TokenKind::Dot) => {
                unit::by_spelling(self.slice(token.start, token.end))
            }
            _ => None,
        }
    }
}
