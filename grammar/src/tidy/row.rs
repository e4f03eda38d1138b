//! Rows: which atoms stand on which line of the layout.
//!
//! A block that was written on one line stays there if it holds settings only and the line fits [`WIDEST`]. A list that
//! was broken behind commas is joined if it fits. Both are measured without the padding of columns, so that a row does
//! not depend on its neighbours.

use super::{atom::Atom, class::Context};
use crate::token::TokenKind;

/// Blanks that a block is indented by.
pub(super) const INDENT: usize = 2;
/// Longest line, in characters and without padding, that the layout makes by itself.
pub(super) const WIDEST: u32 = 100;

/// What a row is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Form {
    /// A statement, setting or other line, whole.
    Whole,
    /// The beginning of one, up to the brace that opens its block, or the brace that closes it.
    Brace,
    /// One that goes on over several lines.
    Broken,
    /// A comment of its own.
    Comment,
    /// A comment that goes on below one at a line's end.
    Below,
    /// Lines kept as they are.
    Kept,
}

/// A row of the layout.
#[derive(Clone, Copy, Debug)]
pub(super) struct Row {
    /// What it is.
    pub form: Form,
    /// What lines mean where it stands.
    pub context: Context,
    /// How many blocks it stands in.
    pub depth: usize,
    /// First atom.
    pub first: usize,
    /// The atom after the last.
    pub past: usize,
    /// The comment at its end.
    pub comment: Option<Atom>,
    /// Whether an empty line stands before it.
    pub apart: bool,
}

impl Row {
    /// Blanks before its first atom.
    pub(super) fn indent(&self) -> u32 {
        u32::try_from(self.depth * INDENT).unwrap_or(u32::MAX)
    }
}

/// Puts atoms into rows.
pub(super) fn rows(text: &str, atoms: &[Atom]) -> Vec<Row> {
    let mut sorter = Sorter {
        text,
        atoms,
        rows: Vec::new(),
        open: Vec::new(),
        first: None,
        closes: false,
        parens: 0,
        last: None,
        lines: 0,
        fresh: true,
        next: 0,
    };
    let mut at = 0;
    while let Some(atom) = atoms.get(at) {
        at = sorter.take(at, atom);
    }
    sorter.end(atoms.len());
    sorter.rows
}

struct Sorter<'a> {
    text: &'a str,
    atoms: &'a [Atom],
    rows: Vec<Row>,
    /// The meaning of lines in each open block.
    open: Vec<Context>,
    /// First atom of the row being filled.
    first: Option<usize>,
    /// Whether that atom is a brace that closes a block.
    closes: bool,
    parens: usize,
    /// The row's last atom that is neither comment nor line end.
    last: Option<TokenKind>,
    /// Line ends since the last row.
    lines: u32,
    /// Whether nothing has been put in the file or in the block yet.
    fresh: bool,
    /// The next atom that is neither line end nor comment, if it has been looked for.
    next: usize,
}

impl Sorter<'_> {
    /// Takes an atom, or several; gives the position of the next.
    fn take(&mut self, at: usize, atom: &Atom) -> usize {
        match atom.kind {
            None => self.kept(at),
            Some(TokenKind::Newline) => self.line_end(at, atom.width),
            Some(TokenKind::Comment) => self.comment(at, *atom),
            Some(TokenKind::Semicolon) => self.end(at),
            Some(TokenKind::OpenBrace) => return self.block(at),
            Some(TokenKind::CloseBrace) if !self.open.is_empty() => self.close(at),
            Some(kind) => self.sign(at, kind),
        }
        at + 1
    }

    fn context(&self) -> Context {
        self.open.last().copied().unwrap_or(Context::Statements)
    }

    fn sign(&mut self, at: usize, kind: TokenKind) {
        self.first.get_or_insert(at);
        match kind {
            TokenKind::OpenParen => self.parens += 1,
            TokenKind::CloseParen => self.parens = self.parens.saturating_sub(1),
            _ => {}
        }
        self.last = Some(kind);
    }

    fn push(&mut self, form: Form, first: usize, past: usize) {
        let apart = self.lines > 1 && !self.fresh && !self.closes;
        let (context, depth) = (self.context(), self.open.len());
        self.rows.push(Row { form, context, depth, first, past, comment: None, apart });
        (self.lines, self.fresh) = (0, false);
    }

    fn kept(&mut self, at: usize) {
        self.end(at);
        self.push(Form::Kept, at, at + 1);
    }

    fn line_end(&mut self, at: usize, count: u32) {
        if self.goes_on(at) {
            return;
        }
        self.end(at);
        self.lines += count;
    }

    fn comment(&mut self, at: usize, comment: Atom) {
        if self.goes_on(at) {
            return;
        }
        self.end(at);
        if self.lines == 0 && self.end_comment(comment) {
            return;
        }
        let below = self.lines == 1 && self.is_below(comment.width);
        self.push(if below { Form::Below } else { Form::Comment }, at, at + 1);
    }

    /// Puts a comment at the end of the last row.
    fn end_comment(&mut self, comment: Atom) -> bool {
        let Some(last) = self.rows.last_mut() else { return false };
        last.comment = Some(comment);
        true
    }

    /// Whether the comment above begins in the same column and stands at a line's end.
    fn is_below(&self, column: u32) -> bool {
        self.rows.last().is_some_and(|above| match above.form {
            Form::Below => self.atoms.get(above.first).is_some_and(|comment| comment.width == column),
            _ => above.comment.is_some_and(|comment| comment.width == column),
        })
    }

    /// Whether the row goes on behind a line end or comment: in parentheses, or after a comma.
    fn goes_on(&mut self, at: usize) -> bool {
        let broken = self.parens > 0 || self.last == Some(TokenKind::Comma);
        broken
            && self.first.is_some()
            && self.next_sign(at).is_some_and(|next| next.kind.is_some() && !next.is(TokenKind::CloseBrace))
    }

    /// The first atom from a position on that is neither line end nor comment. Remembered, so that a long list of comments
    /// is passed over once.
    fn next_sign(&mut self, at: usize) -> Option<&Atom> {
        if self.next < at {
            let rest = self.atoms.get(at..).unwrap_or(&[]);
            let length = rest.iter().position(|atom| !atom.breaks()).unwrap_or(rest.len());
            self.next = at + length;
        }
        self.atoms.get(self.next)
    }

    /// Ends the row before the atom at `past`, if one has been begun.
    fn end(&mut self, past: usize) {
        let Some(first) = self.first.take() else { return };
        let form = match self.is_broken(first, past) {
            _ if self.closes => Form::Brace,
            true => Form::Broken,
            false => Form::Whole,
        };
        self.push(form, first, past);
        (self.closes, self.parens, self.last) = (false, 0, None);
    }

    /// Whether the atoms stand on several lines that cannot be joined: joined are lists that were broken behind commas
    /// only, without comments, if they fit.
    fn is_broken(&self, first: usize, past: usize) -> bool {
        let atoms = self.atoms.get(first..past).unwrap_or(&[]);
        if !atoms.iter().any(Atom::breaks) {
            return false;
        }
        let mut pairs = atoms.iter().zip(atoms.iter().skip(1));
        let commas = pairs.all(|(before, atom)| !atom.breaks() || before.is(TokenKind::Comma));
        let comments = atoms.iter().any(|atom| atom.is(TokenKind::Comment));
        !commas || comments || !self.fits(first, past)
    }

    fn fits(&self, first: usize, past: usize) -> bool {
        let atoms = self.atoms.get(first..past).unwrap_or(&[]);
        let indent = u32::try_from(self.open.len() * INDENT).unwrap_or(u32::MAX);
        width(atoms).saturating_add(indent) <= WIDEST
    }

    /// A block: on its row if it may, else its brace ends the row.
    fn block(&mut self, at: usize) -> usize {
        let first = *self.first.get_or_insert(at);
        let word = self.atoms.get(first).map_or("", |atom| atom.written(self.text));
        let context = self.context().of_block(word);
        if let Some(close) = self.block_on_line(first, at, context) {
            self.last = Some(TokenKind::CloseBrace);
            return close + 1;
        }
        self.closes = false;
        let form = if self.is_broken(first, at + 1) { Form::Broken } else { Form::Brace };
        self.first = None;
        self.push(form, first, at + 1);
        self.open.push(context);
        (self.parens, self.last, self.fresh) = (0, None, true);
        at + 1
    }

    /// Where a block closes that may stay on its line.
    fn block_on_line(&self, first: usize, open: usize, context: Context) -> Option<usize> {
        let rest = self.atoms.get(open + 1..)?;
        let close = rest.iter().position(is_edge)?;
        let close = rest.get(close)?.is(TokenKind::CloseBrace).then_some(open + 1 + close)?;
        if close == open + 1 {
            return Some(close);
        }
        let behind = self.atoms.get(close + 1..).unwrap_or(&[]);
        let past = behind.iter().position(|atom| is_edge(atom) || atom.is(TokenKind::Semicolon));
        let past = past.map_or(self.atoms.len(), |length| close + 1 + length);
        (context.may_stay_on_line() && self.fits(first, past)).then_some(close)
    }

    fn close(&mut self, at: usize) {
        self.end(at);
        self.open.pop();
        (self.first, self.closes, self.last) = (Some(at), true, Some(TokenKind::CloseBrace));
    }
}

/// Whether an atom ends what stands on one line.
fn is_edge(atom: &Atom) -> bool {
    use TokenKind::{CloseBrace, Comment, Newline, OpenBrace};
    atom.kind.is_none_or(|kind| matches!(kind, CloseBrace | Comment | Newline | OpenBrace))
}

/// How wide atoms are on one line, comments left out.
pub(super) fn width(atoms: &[Atom]) -> u32 {
    let seen = atoms.iter().filter(|atom| !atom.breaks());
    let wide = |(at, atom): (usize, &Atom)| atom.width + u32::from(atom.blank && at > 0);
    seen.enumerate().map(wide).fold(0, u32::saturating_add)
}
