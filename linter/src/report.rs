//! What a report is made of: a verdict, the files it speaks of, and places as people count them.

mod ink;
pub(crate) mod measure;
pub(crate) mod plain;

pub mod brief;
pub mod json;
pub mod summary;
pub mod text;

use std::{borrow::Cow, fmt, sync::LazyLock};

use wattle_grammar::{
    line_index::{Encoding, LineIndex},
    span::{FileId, Span},
};

use crate::{
    finding::{Acceptance, Finding, Severity, Verdict},
    project::{Project, SourceFile},
    stock,
};

/// One file as a report needs it.
#[derive(Clone, Debug)]
pub struct FileView<'a> {
    /// Its path as the user would write it.
    pub path: Cow<'a, str>,
    /// Its text.
    pub text: &'a str,
    /// Its lines.
    pub lines: &'a LineIndex,
}

impl<'a> FileView<'a> {
    fn new(file: &'a SourceFile) -> Self {
        Self { path: file.path.to_string_lossy(), text: &file.text, lines: &file.lines }
    }
}

/// The stock's file, which is in no project.
static STOCK: LazyLock<FileView<'static>> = LazyLock::new(|| FileView::new(stock::file()));

/// Everything that is to be said about one robot.
#[derive(Clone, Debug)]
pub struct Report<'a> {
    /// The path of the root file as the user gave it.
    pub root: Cow<'a, str>,
    /// The files; the index is the [`FileId`].
    pub files: Vec<FileView<'a>>,
    /// What was found.
    pub verdict: &'a Verdict,
}

/// A position as people count it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Place<'a> {
    /// The file's path.
    pub path: &'a str,
    /// The line, from 1.
    pub line: u32,
    /// The column in characters, from 1.
    pub column: u32,
}

impl fmt::Display for Place<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}:{}:{}", plain::line(self.path), self.line, self.column)
    }
}

/// How many of each there are. Accepted findings are counted once, under `accepted`.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Counts {
    /// Errors of the text.
    pub errors: usize,
    /// Findings by severity, in the order of [`Severity::ALL`].
    pub by_severity: [usize; 4],
    /// Accepted findings.
    pub accepted: usize,
    /// Checks that could not be made.
    pub not_assessed: usize,
}

impl Counts {
    /// Findings of one severity that are not accepted.
    #[must_use]
    pub fn of(&self, severity: Severity) -> usize {
        Severity::ALL
            .iter()
            .zip(self.by_severity)
            .find(|(which, _)| **which == severity)
            .map_or(0, |(_, count)| count)
    }

    /// Both together.
    #[must_use]
    pub fn plus(self, other: Self) -> Self {
        let mut sum = self;
        sum.errors += other.errors;
        sum.accepted += other.accepted;
        sum.not_assessed += other.not_assessed;
        for (mine, theirs) in sum.by_severity.iter_mut().zip(other.by_severity) {
            *mine += theirs;
        }
        sum
    }
}

impl<'a> Report<'a> {
    /// A report on `verdict`, which was reached on `project`; `root` is the path that the user gave.
    #[must_use]
    pub fn new(root: &'a str, project: &'a Project, verdict: &'a Verdict) -> Self {
        Self { root: Cow::Borrowed(root), files: project.files.iter().map(FileView::new).collect(), verdict }
    }

    /// The file behind an id; nothing when the file could not even be named (a root that cannot be read).
    #[must_use]
    pub fn file(&self, id: FileId) -> Option<&FileView<'a>> {
        if id == stock::FILE { Some(&STOCK) } else { self.files.get(id.0 as usize) }
    }

    /// Where a span starts. What lies in no file is told at the start of the root.
    #[must_use]
    pub fn place(&self, span: Span) -> Place<'_> {
        let Some(file) = self.file(span.file) else { return Place { path: &self.root, line: 1, column: 1 } };
        let at = file.lines.locate(file.text, span.start, Encoding::Utf32);
        Place { path: &file.path, line: at.line + 1, column: at.column + 1 }
    }

    /// Whether everything was analysed: no error of the text, nothing left unsolved.
    #[must_use]
    pub fn complete(&self) -> bool {
        self.verdict.errors.is_empty() && self.verdict.incomplete.is_empty()
    }

    /// Findings that nobody has accepted.
    pub fn open(&self) -> impl Iterator<Item = &'a Finding> {
        self.verdict.findings.iter().filter(|finding| finding.accepted.is_none())
    }

    /// Accepted findings with their reasons, worst first, else in place order.
    #[must_use]
    pub fn accepted(&self) -> Vec<(&'a Finding, &'a Acceptance)> {
        let with_reason =
            |finding: &'a Finding| finding.accepted.as_ref().map(|accepted| (finding, accepted));
        let mut accepted: Vec<_> = self.verdict.findings.iter().filter_map(with_reason).collect();
        accepted.sort_by_key(|(finding, _)| std::cmp::Reverse(finding.severity));
        accepted
    }

    /// How many of each there are.
    #[must_use]
    pub fn counts(&self) -> Counts {
        Counts {
            errors: self.verdict.errors.len(),
            by_severity: Severity::ALL
                .map(|severity| self.open().filter(|one| one.severity == severity).count()),
            accepted: self.verdict.findings.len() - self.open().count(),
            not_assessed: self.verdict.not_assessed.len(),
        }
    }
}

#[cfg(test)]
mod sample;
#[cfg(test)]
mod tests;
