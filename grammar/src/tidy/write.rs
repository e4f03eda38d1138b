//! Writing rows down.

use super::{
    atom::{Atom, columns},
    row::{Form, INDENT, Row},
    run::Run,
};
use crate::token::TokenKind;

/// Writes rows as the layout has them.
pub(super) fn rows(text: &str, atoms: &[Atom], rows: &[Row], line_end: &'static str) -> String {
    let out = String::with_capacity(text.len() + text.len() / 8);
    let mut writer = Writer { text, line_end, out, comment: 0 };
    let mut run = Run::default();
    for row in rows {
        let own = atoms.get(row.first..row.past).unwrap_or(&[]);
        if row.form == Form::Whole {
            run.take(row, own, &mut writer);
        } else {
            run.end(&mut writer);
            writer.row(row, own);
        }
    }
    run.end(&mut writer);
    writer.out
}

/// The layout as far as it is written.
pub(super) struct Writer<'t> {
    /// The text that the atoms are pieces of.
    pub text: &'t str,
    line_end: &'static str,
    out: String,
    /// The column of the last comment at a line's end.
    comment: u32,
}

impl Writer<'_> {
    /// Begins a line, an empty one before it if it stands apart.
    pub(super) fn begin(&mut self, apart: bool, indent: u32) {
        if apart {
            self.end();
        }
        self.blanks(indent);
    }

    /// Ends a line.
    pub(super) fn end(&mut self) {
        self.out.push_str(self.line_end);
    }

    pub(super) fn blanks(&mut self, count: u32) {
        const BLANKS: &str = "                                                                ";
        let mut left = count as usize;
        while left > 0 {
            let some = left.min(BLANKS.len());
            self.out.push_str(BLANKS.get(..some).unwrap_or(" "));
            left -= some;
        }
    }

    /// Atoms on one line.
    pub(super) fn atoms(&mut self, atoms: &[Atom]) {
        let seen = atoms.iter().filter(|atom| !atom.is(TokenKind::Newline));
        for (at, atom) in seen.enumerate() {
            if atom.blank && at > 0 {
                self.out.push(' ');
            }
            self.out.push_str(atom.written(self.text));
        }
    }

    /// A comment behind a line that ends at column `end`, two blanks off `place`, which is no less.
    pub(super) fn comment(&mut self, comment: &Atom, end: u32, place: u32) {
        self.blanks(place.max(end) - end + 2);
        self.out.push_str(comment.written(self.text));
        self.comment = place.max(end) + 2;
    }

    /// A row that is not part of a run.
    fn row(&mut self, row: &Row, atoms: &[Atom]) {
        match row.form {
            Form::Kept => return self.kept(row, atoms),
            Form::Below => self.begin(false, self.comment),
            _ => self.begin(row.apart, row.indent()),
        }
        let end = if row.form == Form::Broken {
            self.broken(atoms, row.indent())
        } else {
            self.atoms(atoms);
            row.indent() + super::row::width(atoms)
        };
        if let Some(comment) = row.comment {
            self.comment(&comment, end, end);
        }
        self.end();
    }

    /// Lines as they are, but for the line ends. Only a lone `;` can have a comment.
    fn kept(&mut self, row: &Row, atoms: &[Atom]) {
        self.begin(row.apart, 0);
        let text = atoms.first().map_or("", |atom| atom.written(self.text));
        let mut left = text;
        while let Some(end) = left.find(['\n', '\r']) {
            let (line, rest) = left.split_at(end);
            self.out.push_str(line);
            self.end();
            left = rest.strip_prefix("\r\n").or_else(|| rest.get(1..)).unwrap_or("");
        }
        self.out.push_str(left);
        if let Some(comment) = row.comment {
            self.comment(&comment, columns(left), columns(left));
        }
        self.end();
    }

    /// A row that goes on over several lines; those after the first are indented twice more. Gives the column it ends in.
    fn broken(&mut self, atoms: &[Atom], indent: u32) -> u32 {
        const DEEPER: u32 = 2 * INDENT as u32;
        let (mut column, mut ended, mut begun) = (indent, false, false);
        for atom in atoms {
            if atom.is(TokenKind::Newline) {
                ended = true;
                continue;
            }
            if ended {
                self.end();
                self.blanks(indent + DEEPER);
                (column, ended, begun) = (indent + DEEPER, false, false);
            }
            let blanks = match (begun, atom.is(TokenKind::Comment)) {
                (false, _) => 0,
                (true, true) => 2,
                (true, false) => u32::from(atom.blank),
            };
            self.blanks(blanks);
            self.out.push_str(atom.written(self.text));
            column += blanks + if atom.is(TokenKind::Comment) { 0 } else { atom.width };
            begun = true;
        }
        column
    }
}
