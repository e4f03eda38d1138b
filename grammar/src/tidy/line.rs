//! A row's atoms as the columns are found in them.

use super::atom::Atom;
use crate::token::TokenKind;

/// The atoms of a row that stands on one line.
#[derive(Clone, Copy, Debug)]
pub(super) struct Line<'a> {
    /// The file's text.
    pub text: &'a str,
    /// The atoms, line ends left out.
    pub atoms: &'a [Atom],
}

impl<'a> Line<'a> {
    /// How many atoms there are.
    pub(super) const fn len(&self) -> usize {
        self.atoms.len()
    }

    /// Whether the atom at a position is a token of `kind`.
    pub(super) fn is(&self, at: usize, kind: TokenKind) -> bool {
        self.atoms.get(at).is_some_and(|atom| atom.is(kind))
    }

    /// The atom's text, nothing past the end.
    pub(super) fn text_of(&self, at: usize) -> &'a str {
        self.atoms.get(at).map_or("", |atom| atom.written(self.text))
    }

    /// Where a path or name that begins at a position ends.
    pub(super) fn path_end(&self, at: usize) -> usize {
        let mut end = at + 1;
        while self.is(end, TokenKind::Dot) && self.is(end + 1, TokenKind::Word) {
            end += 2;
        }
        end
    }

    /// Where a list of paths or names ends.
    pub(super) fn list_end(&self, at: usize) -> usize {
        let mut end = self.path_end(at);
        while self.is(end, TokenKind::Comma) && self.is(end + 1, TokenKind::Word) {
            end = self.path_end(end + 1);
        }
        end
    }

    /// Where the block begins, or the end.
    pub(super) fn block(&self) -> usize {
        let open = self.atoms.iter().position(|atom| atom.is(TokenKind::OpenBrace));
        open.unwrap_or(self.len())
    }

    /// The first of `words` from a position on that is not part of a path; the block or the end if there is none.
    pub(super) fn find(&self, from: usize, words: &[&str]) -> usize {
        let block = self.block();
        let stands = |at: &usize| {
            self.is(*at, TokenKind::Word)
                && words.contains(&self.text_of(*at))
                && !self.is(at.wrapping_sub(1), TokenKind::Dot)
        };
        (from..block).find(stands).unwrap_or(block)
    }
}
