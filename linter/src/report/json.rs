//! The report for machines. Fields are only ever added; a change of meaning raises the format number.
//!
//! Lines and columns are counted from 1, bytes from 0. `column` counts characters, as the other forms print it;
//! `utf16` counts UTF-16 code units. Values are in the unit that stands beside them, never rounded; a value that is
//! no finite number is `null`. Every field is always there.

use serde::Serialize;
use wattle_grammar::{
    error::TextError,
    line_index::Encoding,
    span::{FileId, Span},
};

use super::{Counts, Report, measure, summary};
use crate::{
    finding::{Finding, Mend, NotAssessed, Severity},
    quantity_text::Figure,
};

/// The number of this format.
pub const FORMAT: u32 = 1;

#[derive(Serialize)]
struct Document<'a> {
    format: u32,
    tool: Tool,
    complete: bool,
    counts: Tally,
    robots: Vec<Robot<'a>>,
    caution: &'static str,
}

#[derive(Serialize)]
struct Tool {
    name: &'static str,
    version: &'static str,
}

#[derive(Serialize)]
struct Tally {
    errors: usize,
    danger: usize,
    damage: usize,
    malfunction: usize,
    untidy: usize,
    accepted: usize,
    not_assessed: usize,
}

#[derive(Serialize)]
struct Robot<'a> {
    path: &'a str,
    complete: bool,
    counts: Tally,
    errors: Vec<ErrorEntry<'a>>,
    findings: Vec<FindingEntry<'a>>,
    not_assessed: Vec<Missing<'a>>,
    incomplete: &'a [String],
    basis: &'a [String],
}

#[derive(Serialize)]
struct ErrorEntry<'a> {
    rule: &'a str,
    place: Range<'a>,
    message: &'a str,
    label: &'a str,
    related: Vec<Related<'a>>,
    help: Vec<Help<'a>>,
}

#[derive(Serialize)]
struct FindingEntry<'a> {
    rule: &'a str,
    severity: &'static str,
    subject: &'a str,
    place: Range<'a>,
    message: &'a str,
    label: &'a str,
    mode: Option<&'a str>,
    figures: Vec<Value<'a>>,
    related: Vec<Related<'a>>,
    because: &'a [String],
    help: Vec<Help<'a>>,
    accepted: Option<&'a str>,
    accepted_until: Option<String>,
}

#[derive(Serialize)]
struct Missing<'a> {
    subject: &'a str,
    missing: &'a str,
    blocks: &'a [&'static str],
    place: Range<'a>,
}

#[derive(Serialize)]
struct Value<'a> {
    what: &'a str,
    value: f64,
    unit: &'static str,
    basis: &'a str,
}

#[derive(Serialize)]
struct Related<'a> {
    place: Range<'a>,
    text: &'a str,
}

#[derive(Serialize)]
struct Help<'a> {
    title: &'a str,
    sure: bool,
    edits: Vec<Replacement<'a>>,
}

#[derive(Serialize)]
struct Replacement<'a> {
    place: Range<'a>,
    text: &'a str,
}

#[derive(Serialize)]
struct Range<'a> {
    path: &'a str,
    start: Position,
    end: Position,
}

#[derive(Serialize)]
struct Position {
    byte: u32,
    line: u32,
    column: u32,
    utf16: u32,
}

/// The robots' reports as one JSON document, set in by two blanks, with a line end behind it.
///
/// # Errors
/// Those of the writer of JSON; none is known for this shape.
pub fn render(reports: &[Report<'_>]) -> serde_json::Result<String> {
    let sum = reports.iter().map(Report::counts).fold(Counts::default(), Counts::plus);
    let document = Document {
        format: FORMAT,
        tool: Tool { name: "wattle", version: env!("CARGO_PKG_VERSION") },
        complete: reports.iter().all(Report::complete),
        counts: tally(&sum),
        robots: reports.iter().map(robot).collect(),
        caution: summary::CAUTION,
    };
    Ok(serde_json::to_string_pretty(&document)? + "\n")
}

fn tally(counts: &Counts) -> Tally {
    Tally {
        errors: counts.errors,
        danger: counts.of(Severity::Danger),
        damage: counts.of(Severity::Damage),
        malfunction: counts.of(Severity::Malfunction),
        untidy: counts.of(Severity::Untidy),
        accepted: counts.accepted,
        not_assessed: counts.not_assessed,
    }
}

fn robot<'a>(report: &'a Report<'_>) -> Robot<'a> {
    let verdict = report.verdict;
    Robot {
        path: &report.root,
        complete: report.complete(),
        counts: tally(&report.counts()),
        errors: verdict.errors.iter().map(|error| error_entry(report, error)).collect(),
        findings: verdict.findings.iter().map(|finding| finding_entry(report, finding)).collect(),
        not_assessed: verdict.not_assessed.iter().map(|entry| missing(report, entry)).collect(),
        incomplete: &verdict.incomplete,
        basis: &verdict.basis,
    }
}

fn error_entry<'a>(report: &'a Report<'_>, error: &'a TextError) -> ErrorEntry<'a> {
    let edits: Vec<_> = error.mend.iter().map(|(span, text)| replacement(report, *span, text)).collect();
    let title = error.help.as_deref().or_else(|| (!edits.is_empty()).then_some("replace"));
    ErrorEntry {
        rule: error.name,
        place: range(report, error.span),
        message: &error.message,
        label: &error.label,
        related: related(report, &error.related),
        help: title.map(|title| Help { title, sure: false, edits }).into_iter().collect(),
    }
}

fn finding_entry<'a>(report: &'a Report<'_>, finding: &'a Finding) -> FindingEntry<'a> {
    FindingEntry {
        rule: finding.rule,
        severity: finding.severity.word(),
        subject: &finding.subject,
        place: range(report, finding.span),
        message: &finding.message,
        label: &finding.label,
        mode: finding.mode.as_deref(),
        figures: finding.figures.iter().map(value).collect(),
        related: related(report, &finding.related),
        because: &finding.because,
        help: finding.help.iter().map(|mend| help(report, mend)).collect(),
        accepted: finding.accepted.as_ref().map(|accepted| accepted.reason.as_str()),
        accepted_until: finding
            .accepted
            .as_ref()
            .and_then(|accepted| accepted.until)
            .map(|last| last.to_string()),
    }
}

fn missing<'a>(report: &'a Report<'_>, entry: &'a NotAssessed) -> Missing<'a> {
    let NotAssessed { subject, span, missing, blocks } = entry;
    Missing { subject, missing, blocks, place: range(report, *span) }
}

fn value(figure: &Figure) -> Value<'_> {
    Value {
        what: &figure.what,
        // Adding nothing makes a zero of a negative zero.
        value: figure.value + 0.0,
        unit: measure::code(figure.dimension),
        basis: &figure.basis,
    }
}

fn related<'a>(report: &'a Report<'_>, places: &'a [(Span, String)]) -> Vec<Related<'a>> {
    places.iter().map(|(span, text)| Related { place: range(report, *span), text }).collect()
}

fn help<'a>(report: &'a Report<'_>, mend: &'a Mend) -> Help<'a> {
    let edits = mend.edits.iter().map(|edit| replacement(report, edit.span, &edit.text)).collect();
    Help { title: &mend.title, sure: mend.sure, edits }
}

fn replacement<'a>(report: &'a Report<'_>, span: Span, text: &'a str) -> Replacement<'a> {
    Replacement { place: range(report, span), text }
}

fn range<'a>(report: &'a Report<'_>, span: Span) -> Range<'a> {
    let start = position(report, span.file, span.start);
    let end = position(report, span.file, span.end.max(span.start));
    Range { path: report.place(span).path, start, end }
}

fn position(report: &Report<'_>, file: FileId, byte: u32) -> Position {
    let Some(view) = report.file(file) else { return Position { byte: 0, line: 1, column: 1, utf16: 1 } };
    let byte = view.text.floor_char_boundary((byte as usize).min(view.text.len()));
    let byte = u32::try_from(byte).unwrap_or(u32::MAX);
    let at = view.lines.locate(view.text, byte, Encoding::Utf32);
    let utf16 = view.lines.locate(view.text, byte, Encoding::Utf16).column + 1;
    Position { byte, line: at.line + 1, column: at.column + 1, utf16 }
}
