//! Errors and findings as an editor lists them, file by file.

use std::{collections::BTreeMap, path::PathBuf, sync::Arc};

use wattle_grammar::{
    error::TextError,
    line_index::LineIndex,
    span::{FileId, Span},
};

use crate::{
    engine::{Analysed, Finding, Mend, Project, Severity, SourceFile},
    library::{OpenText, OpenTexts, plain_path},
    snapshot::Snapshot,
};

/// How an editor marks it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Level {
    /// The text is wrong, or something burns, hurts or dies.
    Error,
    /// The robot will not do its job.
    Warning,
    /// Somebody will be misled later; or an accepted danger, which stays visible.
    Information,
    /// Any other accepted finding.
    Hint,
}

/// A range of bytes in a file.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Place {
    /// The file.
    pub path: PathBuf,
    /// First byte.
    pub start: u32,
    /// The byte behind it.
    pub end: u32,
}

/// A replacement that belongs to a mend.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Replacement {
    /// What is replaced.
    pub place: Place,
    /// By what.
    pub text: String,
}

/// One way out, for code actions.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct WayOut {
    /// What to do, imperative.
    pub title: String,
    /// Whether it may be applied without a person looking.
    pub sure: bool,
    /// The edits that do it; none when it can only be told.
    pub edits: Vec<Replacement>,
}

/// One error or finding, in one file.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Diagnostic {
    /// First byte of the range.
    pub start: u32,
    /// The byte behind the range.
    pub end: u32,
    /// How it is marked.
    pub level: Level,
    /// The name of the rule or of the error.
    pub code: &'static str,
    /// What is wrong, then why, then what to do, a line each.
    pub message: String,
    /// The full name of the thing a finding is about; empty for an error of the text.
    pub subject: String,
    /// Other places that matter, each with a few words.
    pub related: Vec<(Place, String)>,
    /// What would mend it, best first.
    pub ways_out: Vec<WayOut>,
}

/// What there is to say about one file.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct FileFindings {
    /// The client's version of the text, when the document is open.
    pub version: Option<i32>,
    /// The text that the places lie in.
    pub text: Arc<str>,
    /// Its lines.
    pub lines: Arc<LineIndex>,
    /// Errors and findings, in place order.
    pub diagnostics: Vec<Diagnostic>,
}

/// What there is to say about every file of some projects, clean files included.
pub type Findings = BTreeMap<PathBuf, Arc<FileFindings>>;

/// What a snapshot's document is told.
#[must_use]
pub fn of(snapshot: &Snapshot) -> Arc<FileFindings> {
    snapshot.findings.get(&snapshot.path).cloned().unwrap_or_default()
}

/// Sorts the errors and findings of all analyses by file. A file that several robots use gets what each of them
/// gives, equal ones once.
#[must_use]
pub fn collect(analyses: &[Arc<Analysed>], open: &OpenTexts) -> Findings {
    let mut findings = BTreeMap::new();
    for analysed in analyses {
        for file in &analysed.project.files {
            enter(&mut findings, file, open);
        }
        for error in &analysed.verdict.errors {
            put(&mut findings, &analysed.project, error.span.file, from_error(error, &analysed.project));
        }
        for finding in &analysed.verdict.findings {
            put(
                &mut findings,
                &analysed.project,
                finding.span.file,
                from_finding(finding, &analysed.project),
            );
        }
    }
    findings.into_iter().map(|(path, file)| (path, Arc::new(in_order(file)))).collect()
}

/// What an open document is told when its analysis failed by the server's own fault.
#[must_use]
pub fn failed(open: &OpenText, sentence: &str) -> FileFindings {
    let diagnostic = Diagnostic {
        start: 0,
        end: 0,
        level: Level::Error,
        code: "internal.analysis-failed",
        message: format!("{sentence}\nthis is a fault of the tool: nothing in this file was checked"),
        subject: String::new(),
        related: Vec::new(),
        ways_out: Vec::new(),
    };
    FileFindings {
        version: Some(open.version),
        text: Arc::clone(&open.text),
        lines: Arc::new(LineIndex::new(&open.text)),
        diagnostics: vec![diagnostic],
    }
}

fn in_order(mut file: FileFindings) -> FileFindings {
    file.diagnostics.sort();
    file.diagnostics.dedup();
    file
}

/// The findings while they are gathered.
type Gathered = BTreeMap<PathBuf, FileFindings>;

fn enter(findings: &mut Gathered, file: &SourceFile, open: &OpenTexts) {
    let path = plain_path(&file.path);
    let version = open.get(&path).map(|open| open.version);
    findings.entry(path).or_insert_with(|| FileFindings {
        version,
        text: Arc::clone(&file.text),
        lines: Arc::clone(&file.lines),
        diagnostics: Vec::new(),
    });
}

fn put(findings: &mut Gathered, project: &Project, file: FileId, diagnostic: Diagnostic) {
    let file = project.file(file).or(project.files.first());
    if let Some(entry) = file.and_then(|file| findings.get_mut(&plain_path(&file.path))) {
        entry.diagnostics.push(diagnostic);
    }
}

fn from_error(error: &TextError, project: &Project) -> Diagnostic {
    let help = error.help.iter().map(|help| format!("\nhelp: {help}"));
    let ways_out = error.mend.iter().map(|(span, text)| WayOut {
        title: error.help.clone().unwrap_or_else(|| format!("write `{text}`")),
        sure: false,
        edits: replacement(project, *span, text).into_iter().collect(),
    });
    Diagnostic {
        start: error.span.start,
        end: error.span.end,
        level: Level::Error,
        code: error.name,
        message: std::iter::once(error.message.clone()).chain(help).collect(),
        subject: String::new(),
        related: related(project, &error.related),
        ways_out: ways_out.collect(),
    }
}

fn from_finding(finding: &Finding, project: &Project) -> Diagnostic {
    Diagnostic {
        start: finding.span.start,
        end: finding.span.end,
        level: level(finding),
        code: finding.rule,
        message: message(finding),
        subject: finding.subject.clone(),
        related: related(project, &finding.related),
        ways_out: finding.help.iter().map(|mend| way_out(project, mend)).collect(),
    }
}

fn level(finding: &Finding) -> Level {
    match (finding.accepted.is_some(), finding.severity) {
        (true, Severity::Danger) => Level::Information,
        (true, _) => Level::Hint,
        (false, Severity::Danger | Severity::Damage) => Level::Error,
        (false, Severity::Malfunction) => Level::Warning,
        (false, Severity::Untidy) => Level::Information,
    }
}

/// The finding's sentence with its severity, which the editor's four levels blur; then the causes, the mode, the
/// ways out, and the reason it was accepted with.
fn message(finding: &Finding) -> String {
    let mut message = format!("{}: {}", finding.severity.word(), finding.message);
    let mut line = |head: &str, text: &str| {
        message.push('\n');
        message.push_str(head);
        message.push_str(text);
    };
    finding.because.iter().for_each(|because| line("because: ", because));
    finding.mode.iter().for_each(|mode| line("in mode: ", mode));
    finding.help.iter().for_each(|mend| line("help: ", &mend.title));
    if let Some(accepted) = &finding.accepted {
        line("accepted: ", &accepted.reason);
        accepted.until.iter().for_each(|last| line("until: ", &last.to_string()));
    }
    message
}

fn related(project: &Project, places: &[(Span, String)]) -> Vec<(Place, String)> {
    places.iter().filter_map(|(span, words)| Some((place(project, *span)?, words.clone()))).collect()
}

fn way_out(project: &Project, mend: &Mend) -> WayOut {
    let edits = mend.edits.iter().filter_map(|edit| replacement(project, edit.span, &edit.text));
    WayOut { title: mend.title.clone(), sure: mend.sure, edits: edits.collect() }
}

fn replacement(project: &Project, span: Span, text: &str) -> Option<Replacement> {
    Some(Replacement { place: place(project, span)?, text: text.to_owned() })
}

fn place(project: &Project, span: Span) -> Option<Place> {
    let file = project.file(span.file)?;
    Some(Place { path: plain_path(&file.path), start: span.start, end: span.end })
}
