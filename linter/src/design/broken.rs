//! Words of lines that could not be read: a name among them may be defined there, so nobody complains about it.

use std::collections::BTreeSet;

use crate::project::Project;

/// The words of all lines with an error of the text, and whether whole files are missing.
#[derive(Debug, Default)]
pub(super) struct Broken<'a> {
    words: BTreeSet<&'a str>,
    lacks_text: bool,
}

impl<'a> Broken<'a> {
    pub(super) fn new(project: &'a Project) -> Self {
        let words = project.files.iter().flat_map(|file| file.parse.words_in_doubt(&file.text)).collect();
        Self { words, lacks_text: project.lacks_text() }
    }

    /// The words, for those who judge what the design lacks.
    pub(super) fn words(&self) -> impl Iterator<Item = &'a str> + '_ {
        self.words.iter().copied()
    }

    /// Whether `name` may be defined in text that could not be read. Every part of a dotted path counts by itself.
    pub(super) fn may_define(&self, name: &str) -> bool {
        self.lacks_text || (!self.words.is_empty() && name.split('.').any(|part| self.words.contains(part)))
    }

    /// Whether a line that could not be read may be the definition of `name` as a `what`, such as a part.
    pub(super) fn may_define_as(&self, what: &str, name: &str) -> bool {
        self.words.contains(what) && self.words.contains(name)
    }
}
