//! Braces without a partner, mended before the grammar sees them, so that one brace costs one error and not the file.
//!
//! Only a file whose braces do not match is looked at closely. There the layout tells what was meant: a line that begins
//! a statement no deeper than an open block's own line ends that block, and a `}` belongs to the line it is
//! indented like. The mended list of tokens has empty braces put in and stray ones taken out.

use super::{complaint, reading::DEEPEST, words::Word};
use crate::{
    error::TextError,
    span::{FileId, Span},
    token::{Token, TokenKind},
};

/// The tokens with braces that match, and what was wrong; `None` when nothing was.
pub(super) fn mend(file: FileId, text: &str, tokens: &[Token]) -> Option<(Vec<Token>, Vec<TextError>)> {
    if balanced(text, tokens) {
        return None;
    }
    let mut mender = Mender {
        file,
        text,
        tokens,
        at: 0,
        out: Vec::with_capacity(tokens.len() + 8),
        open: Vec::new(),
        lines: Vec::new(),
        significant: 0,
        line_start: 0,
        begins_line: true,
        told_stray: false,
        joined: 0,
        errors: Vec::new(),
    };
    for token in tokens {
        mender.at += 1;
        mender.take(*token);
    }
    mender.close_unclosed(|open| !open.is_empty());
    Some((mender.out, mender.errors))
}

/// Whether an error is one of those that are found here.
pub(super) fn is_about(error: &TextError) -> bool {
    matches!(error.name, "language.unclosed-block" | "language.stray-brace" | "language.missing-brace")
}

/// Whether every brace has its partner. A brace that an unclosed text has swallowed counts as one without.
pub(crate) fn balanced(text: &str, tokens: &[Token]) -> bool {
    let mut depth = 0_usize;
    for token in tokens {
        match token.kind {
            TokenKind::OpenBrace => depth += 1,
            TokenKind::CloseBrace if depth == 0 => return false,
            TokenKind::CloseBrace => depth -= 1,
            TokenKind::OpenText if slice(text, *token).contains(['{', '}']) => return false,
            _ => {}
        }
    }
    depth == 0
}

fn slice(text: &str, token: Token) -> &str {
    text.get(token.start as usize..token.end as usize).unwrap_or("")
}

/// A block that is open.
struct Opening {
    /// Its brace; `None` for one that was put in.
    brace: Option<Token>,
    /// Number of the line it was opened on, from 1.
    line: usize,
    /// Indent of that line.
    indent: u32,
    /// Whether statements may stand in it.
    assembly: bool,
    /// Whether a line deeper than its own has been seen in it.
    deeper: bool,
}

/// A line that has been passed.
struct Line {
    indent: u32,
    /// Whether it begins with a statement's word.
    statement: bool,
    assembly: bool,
    /// Whether a block was opened on it.
    opened: bool,
    /// How many blocks were open where it began.
    depth: usize,
    /// Position of its first token in the mended tokens.
    first: usize,
    /// First byte of that token.
    start: u32,
    /// Position in the mended tokens behind its last significant token.
    past: usize,
    /// The end of that token.
    end: u32,
}

struct Mender<'t> {
    file: FileId,
    text: &'t str,
    tokens: &'t [Token],
    /// Position of the token after the one that is taken.
    at: usize,
    out: Vec<Token>,
    open: Vec<Opening>,
    lines: Vec<Line>,
    /// Position in `out` behind the last token that is neither trivia nor a line end.
    significant: usize,
    /// First byte of the line.
    line_start: u32,
    /// Whether only blanks, or what was taken out, stand before the next token on its line.
    begins_line: bool,
    /// Whether the token before was a stray brace: a row of them is one mistake.
    told_stray: bool,
    /// Position in `out` up to which [`Self::join_line`] has looked.
    joined: usize,
    errors: Vec<TextError>,
}

impl Mender<'_> {
    fn take(&mut self, token: Token) {
        if token.kind == TokenKind::Newline {
            (self.line_start, self.begins_line, self.told_stray) = (token.end, true, false);
        }
        if token.kind.is_trivia() || token.kind == TokenKind::Newline {
            return self.out.push(token);
        }
        if self.begins_line {
            self.line(token);
        }
        match token.kind {
            TokenKind::OpenBrace => self.push_opening(Some(token)),
            TokenKind::CloseBrace if self.closes_below() => return self.stray(token),
            TokenKind::CloseBrace if self.open.pop().is_none() => return self.stray(token),
            _ => {}
        }
        self.put(token);
        if token.kind == TokenKind::OpenText {
            self.swallowed(token);
        }
    }

    /// Whether a `}` at the end of a line is not that of the innermost block, which was opened on a line before: it has
    /// its own, on a line by itself below, indented like the line that opened it.
    fn closes_below(&self) -> bool {
        const FARTHEST: usize = 2000;
        let Some(top) = self.open.last().filter(|top| top.line < self.lines.len() && !self.begins_line)
        else {
            return false;
        };
        let (mut line_start, mut begins_line) = (0, false);
        for token in self.tokens.iter().skip(self.at).take(FARTHEST) {
            match token.kind {
                TokenKind::Newline => (line_start, begins_line) = (token.end, true),
                kind if kind.is_trivia() || !begins_line => {}
                kind => {
                    let indent = token.start - line_start;
                    if kind == TokenKind::CloseBrace && indent == top.indent {
                        return true;
                    }
                    if indent <= top.indent {
                        return false;
                    }
                    begins_line = false;
                }
            }
        }
        false
    }

    /// A `}` that closes nothing is left out.
    fn stray(&mut self, token: Token) {
        self.join_line();
        if !self.told_stray {
            self.errors.push(complaint::stray_close(self.span(token)));
        }
        self.told_stray = true;
    }

    fn put(&mut self, token: Token) {
        self.out.push(token);
        self.significant = self.out.len();
        (self.begins_line, self.told_stray) = (false, false);
        if let Some(line) = self.lines.last_mut() {
            (line.past, line.end) = (self.significant, token.end);
        }
    }

    fn push_opening(&mut self, brace: Option<Token>) {
        if let Some(line) = self.lines.last_mut() {
            line.opened = true;
        }
        let (indent, assembly) = self.lines.last().map_or((0, false), |line| (line.indent, line.assembly));
        let line = self.lines.len();
        self.open.push(Opening { brace, line, indent, assembly, deeper: false });
    }

    /// Looks at the first token of a line and at its indent.
    fn line(&mut self, token: Token) {
        let indent = token.start - self.line_start;
        let word =
            if token.kind == TokenKind::Word { Word::at_start(slice(self.text, token)) } else { Word::Plain };
        if token.kind == TokenKind::CloseBrace {
            self.close_deeper(indent);
            self.open_forgotten(indent, token);
        } else if word.begins_statement() {
            self.close_passed(indent);
        }
        if let Some(top) = self.open.last_mut() {
            top.deeper |= indent > top.indent;
        }
        let (statement, assembly) = (word.begins_statement(), word == Word::Assembly);
        let (depth, first, past) = (self.open.len(), self.out.len(), self.out.len());
        let (start, end, opened) = (token.start, token.start, false);
        self.lines.push(Line { indent, statement, assembly, opened, depth, first, start, past, end });
    }

    /// A `}` that is indented like an outer block closes the inner ones before it.
    fn close_deeper(&mut self, indent: u32) {
        self.close_unclosed(|open| {
            open.last().is_some_and(|top| top.indent > indent)
                && open.iter().rev().nth(1).is_some_and(|outer| outer.indent >= indent)
        });
    }

    /// A statement that is not deeper than a block's own line ends the block. In an assembly written without indents it
    /// does not.
    fn close_passed(&mut self, indent: u32) {
        self.close_unclosed(|open| {
            open.last().is_some_and(|top| top.indent >= indent && (!top.assembly || top.deeper))
        });
    }

    /// Closes the innermost blocks behind the last significant token, one by one as long as `goes_on` says of those that
    /// are open. Each is an error unless its brace was put in, or it lies so deep that its depth is the error.
    fn close_unclosed(&mut self, goes_on: impl Fn(&[Opening]) -> bool) {
        let at = self.out.get(self.significant.wrapping_sub(1)).map_or(0, |token| token.end);
        let mut closed = 0;
        while goes_on(&self.open)
            && let Some(opening) = self.open.pop()
        {
            closed += 1;
            self.errors.extend(opening.brace.filter(|_| self.open.len() < DEEPEST).map(|brace| {
                let close = match opening.line == self.lines.len() {
                    true => " }".to_owned(),
                    false => format!("\n{}}}", " ".repeat(opening.indent as usize)),
                };
                complaint::unclosed(self.span(brace), Span::new(self.file, at, at), close)
            }));
        }
        // All at once: a file of nothing but open braces would else be moved once for each.
        let close = Token { kind: TokenKind::CloseBrace, start: at, end: at };
        self.out.splice(self.significant..self.significant, std::iter::repeat_n(close, closed));
        self.significant += closed;
    }

    /// A `}` that fits no open block: if the nearest line indented like it is a statement with deeper lines below, that
    /// line has lost its `{`.
    fn open_forgotten(&mut self, indent: u32, close: Token) {
        if self.open.last().is_some_and(|top| top.indent >= indent) {
            return;
        }
        let depth = self.open.len();
        let Some(at) = self.lines.iter().rposition(|line| line.indent <= indent) else { return };
        let has_lines = at + 1 < self.lines.len();
        let Some(line) = self.lines.get(at) else { return };
        if line.opened || !(line.statement && line.depth == depth && line.indent == indent && has_lines) {
            return;
        }
        let (start, past, end, assembly) = (line.start, line.past, line.end, line.assembly);
        self.errors.push(complaint::missing_open(Span::new(self.file, start, end), self.span(close)));
        self.out.insert(past, Token { kind: TokenKind::OpenBrace, start: end, end });
        self.significant += 1;
        for later in self.lines.iter_mut().skip(at) {
            later.past += 1;
        }
        for later in self.lines.iter_mut().skip(at + 1) {
            later.first += 1;
        }
        self.open.push(Opening { brace: None, line: at + 1, indent, assembly, deeper: true });
    }

    /// A line with a `}` too many has most likely lost its `{`, so what stands between its semicolons are settings and no
    /// statements: the whole line is one mistake.
    fn join_line(&mut self) {
        let first = self.lines.last().map_or(0, |line| line.first).max(self.joined);
        for token in self.out.iter_mut().skip(first).filter(|token| token.kind == TokenKind::Semicolon) {
            token.kind = TokenKind::Space;
        }
        self.joined = self.out.len();
    }

    /// Braces inside an unclosed text were meant as braces; the text's own error is enough.
    fn swallowed(&mut self, token: Token) {
        let at = token.end;
        for found in slice(self.text, token).chars() {
            let kind = match found {
                '{' => TokenKind::OpenBrace,
                '}' if !self.closes_below() && self.open.pop().is_some() => TokenKind::CloseBrace,
                _ => continue,
            };
            if kind == TokenKind::OpenBrace {
                self.push_opening(None);
            }
            self.put(Token { kind, start: at, end: at });
        }
    }

    fn span(&self, token: Token) -> Span {
        Span::new(self.file, token.start, token.end)
    }
}
