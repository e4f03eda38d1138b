//! What is known of one thing, in JSON, with every derivation.

use serde::Serialize;

use super::{
    super::{Explanation, explain::Row},
    ErrorEntry, FORMAT, Missing, Tool, errors,
    figure::{Derived, derived},
    missing,
};
use crate::report::summary;

#[derive(Serialize)]
struct Document<'a> {
    format: u32,
    tool: Tool,
    complete: bool,
    subjects: Vec<SubjectEntry<'a>>,
    caution: &'static str,
}

#[derive(Serialize)]
struct SubjectEntry<'a> {
    path: &'a str,
    name: &'a str,
    complete: bool,
    entries: Vec<Part<'a>>,
    ratings: Vec<Rating<'a>>,
    points: Vec<PointRow>,
    errors: Vec<ErrorEntry<'a>>,
    incomplete: &'a [String],
    not_assessed: Vec<Missing<'a>>,
    basis: &'a [String],
}

#[derive(Serialize)]
struct Part<'a> {
    of: &'static str,
    is: &'a str,
    place: String,
    figures: Vec<Derived<'a>>,
}

#[derive(Serialize)]
struct Rating<'a> {
    key: &'a str,
    value: &'a str,
    origin: &'a str,
}

/// Volts across and amperes through at a point, with the same meaning as in the long list; of a terminal its voltage.
#[derive(Serialize)]
struct PointRow {
    mode: String,
    corner: String,
    solved: bool,
    volts: Option<f64>,
    amps: Option<f64>,
}

/// The explanations as one JSON document.
///
/// # Errors
/// Those of the writer of JSON; none is known for this shape.
pub fn explanation(explained: &[Explanation<'_>]) -> serde_json::Result<String> {
    let document = Document {
        format: FORMAT,
        tool: Tool::this(),
        complete: explained.iter().all(|one| one.account.report.complete()),
        subjects: explained.iter().map(subject).collect(),
        caution: summary::CAUTION,
    };
    Ok(serde_json::to_string_pretty(&document)? + "\n")
}

fn subject<'a>(one: &'a Explanation<'_>) -> SubjectEntry<'a> {
    let report = &one.account.report;
    let part = |entry: &'a super::super::Entry| Part {
        of: entry.section.word(),
        is: &entry.is,
        place: one.view.line(entry.span),
        figures: entry.figures.iter().map(|figure| derived(one.view, figure)).collect(),
    };
    SubjectEntry {
        path: &report.root,
        name: &one.name,
        complete: report.complete(),
        entries: one.entries.iter().map(part).collect(),
        ratings: one.ratings.iter().map(|(key, value, origin)| Rating { key, value, origin }).collect(),
        points: one.points().into_iter().map(row).collect(),
        errors: errors(report),
        incomplete: &report.verdict.incomplete,
        not_assessed: missing(report),
        basis: &report.verdict.basis,
    }
}

fn row(row: Row) -> PointRow {
    PointRow {
        mode: row.mode,
        corner: row.corner,
        solved: row.why.is_none(),
        volts: row.volts.map(super::number),
        amps: row.amps.map(super::number),
    }
}
