//! What the bench asks of a word: a wire's current and drop, a thing's ratings, a terminal's voltage, a word's meaning.

use crate::{feature::page::Page, snapshot::Snapshot};

/// An answer, and the word that it is about.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Hover {
    /// The bytes of the word.
    pub range: (u32, u32),
    /// The answer.
    pub page: Page,
}

/// What there is to say about the word at a byte.
#[must_use]
pub fn hover(snapshot: &Snapshot, at: u32) -> Option<Hover> {
    let _ = (snapshot, at);
    None
}
