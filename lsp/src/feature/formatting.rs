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

#[cfg(test)]
mod tests {
    use std::{path::PathBuf, sync::Arc};

    use wattle_grammar::{parse, span::FileId};

    use super::*;

    fn formatted(text: &str) -> String {
        let path = PathBuf::from("/none/a.wattle");
        let snapshot = Snapshot::new(path, 1, text.into(), Arc::default());
        let mut result = text.to_owned();
        for edit in formatting(&snapshot).iter().rev() {
            result.replace_range(edit.start as usize..edit.end as usize, &edit.text);
        }
        result
    }

    #[test]
    fn the_edits_lead_to_the_layout() {
        let text = "wattle 1\nlet  A = 1 mm2 # µ😀\n   place body\n";
        let expected = tidy::tidy(&parse(FileId(0), text), text);
        assert_eq!(formatted(text), expected);
        assert!(expected.contains("\nplace body\n"), "{expected}");
        assert_eq!(formatted(&expected), expected);
    }

    #[test]
    fn a_text_with_errors_is_left_alone() {
        let text = "wattle 1\n   place body\nnonsense\n";
        assert_eq!(formatted(text), text);
    }
}
