//! What a feature sees: one document as it stands, and what is known about it. Never changes.

use std::{
    path::PathBuf,
    sync::{Arc, OnceLock},
};

use wattle_grammar::{
    Parse,
    line_index::{Encoding, LineColumn, LineIndex},
    parse,
    span::FileId,
};

use crate::{
    abilities::Abilities,
    engine::{Analysed, Robot, SourceFile},
    feature::diagnostics::Findings,
    library::plain_path,
};

/// An analysis in which the document has a part.
#[derive(Clone, Debug)]
pub struct Part {
    /// The whole analysis.
    pub analysed: Arc<Analysed>,
    /// The document's file in it.
    pub file: FileId,
}

/// One document at one moment.
#[derive(Clone, Debug)]
pub struct Snapshot {
    /// Its path.
    pub path: PathBuf,
    /// The client's version of the text.
    pub version: i32,
    /// The whole text.
    pub text: Arc<str>,
    /// What the client can take.
    pub abilities: Arc<Abilities>,
    /// The analyses of this very text; none when they were not asked for, or when there are none.
    pub parts: Vec<Part>,
    /// What there is to say about every file, from these analyses.
    pub findings: Arc<Findings>,
    lines: OnceLock<Arc<LineIndex>>,
    parse: OnceLock<Arc<Parse>>,
}

impl Snapshot {
    /// A snapshot of a text alone.
    #[must_use]
    pub fn new(path: PathBuf, version: i32, text: Arc<str>, abilities: Arc<Abilities>) -> Self {
        Self {
            path,
            version,
            text,
            abilities,
            parts: Vec::new(),
            findings: Arc::default(),
            lines: OnceLock::new(),
            parse: OnceLock::new(),
        }
    }

    /// The same with what is known about it. Analyses of another text than the snapshot's are left out.
    #[must_use]
    pub fn with(mut self, analyses: &[Arc<Analysed>], findings: &Arc<Findings>) -> Self {
        let parts = analyses.iter().filter_map(|analysed| self.part(analysed));
        self.parts = parts.collect();
        self.findings = Arc::clone(findings);
        self
    }

    /// The document's part in an analysis, whose lines and tree need not be made again.
    fn part(&self, analysed: &Arc<Analysed>) -> Option<Part> {
        let is_this = |file: &&SourceFile| plain_path(&file.path) == self.path && *file.text == *self.text;
        let file = analysed.project.files.iter().find(is_this)?;
        self.lines.get_or_init(|| Arc::clone(&file.lines));
        self.parse.get_or_init(|| Arc::clone(&file.parse));
        Some(Part { analysed: Arc::clone(analysed), file: file.id })
    }

    /// The robots that the document is a part of, each with the document's file in it.
    pub fn robots(&self) -> impl Iterator<Item = (&Robot, &Part)> {
        self.parts.iter().filter_map(|part| Some((part.analysed.robot.as_ref()?, part)))
    }

    /// The text's lines.
    #[must_use]
    pub fn lines(&self) -> &LineIndex {
        self.lines.get_or_init(|| Arc::new(LineIndex::new(&self.text)))
    }

    /// The text's tree and tokens. Spans in it name whatever file the document is in the first of its analyses: only their
    /// offsets count here.
    #[must_use]
    pub fn parse(&self) -> &Parse {
        self.parse.get_or_init(|| Arc::new(parse(FileId(0), &self.text)))
    }

    /// How the client counts columns.
    #[must_use]
    pub fn encoding(&self) -> Encoding {
        self.abilities.encoding
    }

    /// The byte at a place, clamped to the text.
    #[must_use]
    pub fn offset(&self, place: LineColumn) -> u32 {
        self.lines().offset(&self.text, place, self.encoding())
    }
}
