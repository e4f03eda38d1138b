//! Statements with an error of the text: what would be found on them may be the error's doing.
//!
//! A line of a block that does not fit is left out of its block, so a statement may stand in the design without a fact
//! that its author wrote. Its error is told; what follows from the missing fact is not.

use std::collections::BTreeMap;

use wattle_grammar::{
    span::{FileId, Span},
    syntax::Item,
};

use crate::project::{Project, SourceFile};

/// The statements that were not read whole.
pub(crate) struct Unread {
    /// By file, in the order of the text; they do not overlap.
    statements: BTreeMap<FileId, Vec<Span>>,
}

impl Unread {
    /// Those of a project.
    pub(crate) fn new(project: &Project) -> Self {
        let with_errors = project.files.iter().filter(|file| !file.parse.errors.is_empty());
        Self { statements: with_errors.map(|file| (file.id, unread(file))).collect() }
    }

    /// Whether a place lies in one of them.
    pub(crate) fn holds(&self, place: Span) -> bool {
        let Some(statements) = self.statements.get(&place.file) else { return false };
        let after = statements.partition_point(|statement| statement.start <= place.start);
        let before = after.checked_sub(1).and_then(|at| statements.get(at));
        before.is_some_and(|statement| place.end <= statement.end)
    }
}

fn unread(file: &SourceFile) -> Vec<Span> {
    let errors: Vec<u32> = file.parse.errors.iter().map(|error| error.span.start).collect();
    let within = |span: Span| {
        let from = errors.partition_point(|at| *at < span.start);
        errors.get(from..).unwrap_or_default().iter().take_while(|at| **at < span.end).count()
    };
    let mut statements = Vec::new();
    for item in file.parse.file.all_items() {
        match item {
            Item::Assembly(_) => {}
            Item::Harness(harness) => {
                let wires = harness.wires.iter().map(|wire| wire.span).filter(|span| within(*span) > 0);
                let wires: Vec<Span> = wires.collect();
                let in_wires: usize = wires.iter().map(|span| within(*span)).sum();
                // An error outside the wires may be in what holds for all of them.
                let whole = within(harness.span) > in_wires;
                statements.extend(if whole { vec![harness.span] } else { wires });
            }
            _ => statements.extend((within(item.span()) > 0).then(|| item.span())),
        }
    }
    statements
}

#[cfg(test)]
mod tests {
    use std::path::Path;

    use super::*;
    use crate::project::{self, Loader};

    struct Given(&'static str);

    impl Loader for Given {
        fn load(&self, _: &Path) -> Result<Vec<u8>, String> {
            Ok(self.0.as_bytes().to_vec())
        }
    }

    /// Whether the statement of the word is one that was not read whole.
    fn is_unread(text: &'static str, word: &str) -> bool {
        let project = project::open(Path::new("robot.wattle"), &Given(text));
        let at = u32::try_from(text.find(word).unwrap()).unwrap();
        Unread::new(&project).holds(Span::new(FileId(0), at, at + 1))
    }

    #[test]
    fn a_lost_setting_makes_its_statement_unread_and_no_other() {
        let text = "wattle 1\nfuse F-A 3 A\nwire W1 F-A.1 to F-A.2 { current-limit = = 3 A }\nfuse F-B 3 A\n";
        assert!(is_unread(text, "W1") && !is_unread(text, "F-A") && !is_unread(text, "F-B"));
    }

    #[test]
    fn a_core_is_a_statement_of_its_own_and_a_harness_stands_for_its_cores() {
        let core = "wattle 1\nharness H {\n  H1 A.1 to B.1 { spare = = }\n  H2 A.2 to B.2\n}\n";
        assert!(is_unread(core, "H1") && !is_unread(core, "H2"));
        let whole = "wattle 1\nharness H {\n  bundle = = 3\n  H1 A.1 to B.1\n}\n";
        assert!(is_unread(whole, "H1"));
    }
}
