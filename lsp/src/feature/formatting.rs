//! The one layout, as the smallest edits that lead to it line by line, so that cursors and marks stay where they are.

use wattle_grammar::tidy;

use crate::snapshot::Snapshot;

/// A replacement of a range of bytes.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Edit {
    /// First byte that is replaced.
    pub start: u32,
    /// The byte behind it.
    pub end: u32,
    /// By what.
    pub text: String,
}

/// The edits that bring the document into the one layout. None while it has errors of the text: a person who is in the
/// middle of a line does not want the lines around it to move.
#[must_use]
pub fn formatting(snapshot: &Snapshot) -> Vec<Edit> {
    let parse = snapshot.parse();
    if !parse.errors.is_empty() {
        return Vec::new();
    }
    let tidied = tidy::tidy(parse, &snapshot.text);
    let edits = tidy::edits(&snapshot.text, &tidied);
    edits.into_iter().map(|(range, text)| Edit { start: range.start, end: range.end, text }).collect()
}
