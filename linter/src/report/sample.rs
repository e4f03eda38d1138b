//! A small made-up verdict on two files, for the tests of all forms.

use wattle_grammar::{error::TextError, line_index::LineIndex, quantity::Amps, span::FileId, span::Span};

use super::{FileView, Report};
use crate::{
    finding::{Acceptance, Edit, Finding, Mend, NotAssessed, Severity, Verdict},
    quantity_text::Figure,
};

/// Line 2 has characters of two, four and two bytes before `W3`, and the line ends are of two kinds.
pub(super) const ROBOT: &str =
    "wattle 1\r\nload \"é😀µ\" X; wire W3 A to B 18 AWG\r\n\twire W4 B to C 22 AWG\naccept \u{1b} here\n";
/// A second file, with wide text before what is marked.
pub(super) const PARTS: &str = "# é😀 é😀\nfuse F-A 40 A\n";

/// Owns what a [`Report`] borrows.
pub(super) struct Sample<'a> {
    files: Vec<(&'a str, &'a str, LineIndex)>,
    pub(super) verdict: Verdict,
}

impl<'a> Sample<'a> {
    pub(super) fn new(files: &[(&'a str, &'a str)], verdict: Verdict) -> Self {
        Self {
            files: files.iter().map(|(path, text)| (*path, *text, LineIndex::new(text))).collect(),
            verdict,
        }
    }

    pub(super) fn report(&self) -> Report<'_> {
        let files = self
            .files
            .iter()
            .map(|(path, text, lines)| FileView { path: (*path).into(), text, lines })
            .collect();
        Report { root: "robot.wattle".into(), files, verdict: &self.verdict }
    }
}

/// The span of the first `word` in a file's text.
pub(super) fn span(file: u32, text: &str, word: &str) -> Span {
    let start = text.find(word).expect("the word stands in the text");
    let end = start + word.len();
    Span::new(FileId(file), u32::try_from(start).unwrap(), u32::try_from(end).unwrap())
}

pub(super) fn finding() -> Finding {
    Finding {
        rule: "wire.undersized",
        severity: Severity::Danger,
        span: span(0, ROBOT, "W3"),
        subject: "W3".into(),
        message: "wire `W3` carries 21.5 A, its limit is 14.5 A".into(),
        label: "limit 14.5 A here".into(),
        related: vec![
            (span(1, PARTS, "F-A"), "the fuse is here".into()),
            (span(0, ROBOT, "W4"), "and on through here".into()),
        ],
        figures: vec![Figure::new("steady current", Amps(21.5), "mode `parade`")],
        because: (1..=8).map(|number| format!("`M-{number}` draws its share")).collect(),
        mode: Some("parade".into()),
        help: vec![Mend {
            title: "use 12 AWG or thicker".into(),
            edits: vec![Edit { span: span(0, ROBOT, "18 AWG"), text: "12 AWG".into() }],
            sure: false,
        }],
        accepted: None,
    }
}

pub(super) fn sample() -> Sample<'static> {
    let accepted = Finding {
        rule: "label.missing-end",
        severity: Severity::Untidy,
        span: span(0, ROBOT, "W4"),
        subject: "W4".into(),
        message: "wire `W4` has no tag at 1 of 2 ends".into(),
        label: "no tag".into(),
        related: vec![],
        figures: vec![],
        because: vec![],
        mode: None,
        help: vec![],
        accepted: Some(Acceptance { reason: "the tag does not fit the lug".into(), until: None }),
    };
    let error = TextError {
        name: "language.unknown-character",
        span: span(0, ROBOT, "\u{1b}"),
        message: "found \u{1b}, which belongs to nothing".into(),
        label: "remove this".into(),
        help: Some("remove it".into()),
        related: vec![],
        mend: Some((span(0, ROBOT, "\u{1b}"), String::new())),
    };
    let verdict = Verdict {
        errors: vec![error],
        findings: vec![finding(), accepted],
        not_assessed: vec![NotAssessed {
            subject: "F-A".into(),
            span: span(1, PARTS, "F-A"),
            missing: "breaking-capacity".into(),
            blocks: vec!["fuse.cannot-break"],
        }],
        basis: vec!["profile `boat`: 33 CFR 183.425, table 5".into()],
        incomplete: vec![],
    };
    Sample::new(&[("robot.wattle", ROBOT), ("parts/fuses.wattle", PARTS)], verdict)
}
