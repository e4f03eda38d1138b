//! Between our plain data and the protocol's types: places, texts, URIs. Pure. Besides `server.rs`, `capabilities.rs`
//! and `main.rs` the only file that names the protocol's types.

use std::path::{Path, PathBuf};

use serde_json::{Value, json};
use tower_lsp::lsp_types::{
    Diagnostic as LspDiagnostic, DiagnosticRelatedInformation, DiagnosticSeverity, DocumentDiagnosticReport,
    DocumentDiagnosticReportResult, FullDocumentDiagnosticReport, GotoDefinitionResponse, Hover as LspHover,
    HoverContents, InitializeParams, Location, MarkupContent, MarkupKind, NumberOrString, Position,
    PublishDiagnosticsParams, Range, RelatedFullDocumentDiagnosticReport, TextDocumentContentChangeEvent,
    TextDocumentPositionParams, TextEdit, Url, WorkspaceFolder,
};
use wattle_grammar::line_index::{Encoding, LineColumn, LineIndex};

use crate::{
    abilities::Abilities,
    document::Change,
    feature::{
        definition::Target,
        diagnostics::{Diagnostic, FileFindings, Findings, Level, Place, WayOut},
        formatting::Edit,
        hover::Hover,
    },
    library::plain_path,
    snapshot::Snapshot,
    state::Publication,
};

/// The name under which findings appear.
const SOURCE: &str = "wattle";

/// The path under which a document is filed. One that is no file on a disk is filed under its whole URI.
#[must_use]
pub fn path(uri: &Url) -> PathBuf {
    let file = (uri.scheme() == "file").then(|| uri.to_file_path().ok()).flatten();
    file.map_or_else(|| PathBuf::from(uri.as_str()), |path| plain_path(&path))
}

/// The URI of a path.
#[must_use]
pub fn uri(path: &Path) -> Option<Url> {
    Url::from_file_path(path).ok().or_else(|| Url::parse(path.to_str()?).ok())
}

/// The folders that the client works in; older clients name one root only.
#[must_use]
#[allow(deprecated, reason = "older clients say where they work in no other way")]
pub fn folders(params: &InitializeParams) -> Vec<PathBuf> {
    match &params.workspace_folders {
        Some(folders) => folder_paths(folders),
        None => params.root_uri.iter().map(path).collect(),
    }
}

/// The paths of workspace folders.
#[must_use]
pub fn folder_paths(folders: &[WorkspaceFolder]) -> Vec<PathBuf> {
    folders.iter().map(|folder| path(&folder.uri)).collect()
}

/// The edits of one notification.
#[must_use]
pub fn changes(events: Vec<TextDocumentContentChangeEvent>) -> Vec<Change> {
    let change = |event: TextDocumentContentChangeEvent| Change {
        range: event.range.map(|range| (line_column(range.start), line_column(range.end))),
        text: event.text,
    };
    events.into_iter().map(change).collect()
}

/// A place as the protocol has it, in whatever encoding was settled.
#[must_use]
pub const fn line_column(position: Position) -> LineColumn {
    LineColumn { line: position.line, column: position.character }
}

/// The document and the place that a request is about.
#[must_use]
pub fn document_and_place(params: TextDocumentPositionParams) -> (Url, LineColumn) {
    (params.text_document.uri, line_column(params.position))
}

/// A range of bytes of a text.
#[must_use]
pub fn range(text: &str, lines: &LineIndex, start: u32, end: u32, encoding: Encoding) -> Range {
    let position = |at| {
        let LineColumn { line, column } = lines.locate(text, at, encoding);
        Position { line, character: column }
    };
    Range { start: position(start), end: position(end) }
}

/// A file's findings as they are pushed; `None` when the path has no URI.
#[must_use]
pub fn publication(publication: &Publication) -> Option<PublishDiagnosticsParams> {
    let Publication { path, uri: own, findings, abilities } = publication;
    let file = findings.get(path);
    Some(PublishDiagnosticsParams {
        uri: own.as_ref().and_then(|own| Url::parse(own).ok()).or_else(|| uri(path))?,
        diagnostics: file.map(|file| diagnostics(file, findings, abilities)).unwrap_or_default(),
        version: file.and_then(|file| file.version),
    })
}

/// The report on a document that is not open.
#[must_use]
pub fn empty_report() -> DocumentDiagnosticReportResult {
    full_report(Vec::new())
}

/// A file's findings as they are pulled.
#[must_use]
pub fn report(file: &FileFindings, snapshot: &Snapshot) -> DocumentDiagnosticReportResult {
    full_report(diagnostics(file, &snapshot.findings, &snapshot.abilities))
}

fn full_report(items: Vec<LspDiagnostic>) -> DocumentDiagnosticReportResult {
    let report = FullDocumentDiagnosticReport { result_id: None, items };
    DocumentDiagnosticReportResult::Report(DocumentDiagnosticReport::Full(
        RelatedFullDocumentDiagnosticReport {
            related_documents: None,
            full_document_diagnostic_report: report,
        },
    ))
}

fn diagnostics(file: &FileFindings, findings: &Findings, abilities: &Abilities) -> Vec<LspDiagnostic> {
    file.diagnostics.iter().map(|diagnostic| lsp_diagnostic(diagnostic, file, findings, abilities)).collect()
}

fn lsp_diagnostic(
    diagnostic: &Diagnostic,
    file: &FileFindings,
    findings: &Findings,
    abilities: &Abilities,
) -> LspDiagnostic {
    let related = related(diagnostic, findings, abilities.encoding);
    let mut message = diagnostic.message.clone();
    if !abilities.related {
        related.iter().for_each(|related| message.push_str(&related_line(related)));
    }
    LspDiagnostic {
        range: range(&file.text, &file.lines, diagnostic.start, diagnostic.end, abilities.encoding),
        severity: Some(severity(diagnostic.level)),
        code: Some(NumberOrString::String(diagnostic.code.to_owned())),
        source: Some(SOURCE.to_owned()),
        message,
        related_information: (abilities.related && !related.is_empty()).then_some(related),
        data: abilities.data.then(|| data(diagnostic)),
        ..LspDiagnostic::default()
    }
}

const fn severity(level: Level) -> DiagnosticSeverity {
    match level {
        Level::Error => DiagnosticSeverity::ERROR,
        Level::Warning => DiagnosticSeverity::WARNING,
        Level::Information => DiagnosticSeverity::INFORMATION,
        Level::Hint => DiagnosticSeverity::HINT,
    }
}

fn related(
    diagnostic: &Diagnostic,
    findings: &Findings,
    encoding: Encoding,
) -> Vec<DiagnosticRelatedInformation> {
    let information = |(place, words): &(Place, String)| {
        let file = findings.get(&place.path)?;
        let range = range(&file.text, &file.lines, place.start, place.end, encoding);
        Some(DiagnosticRelatedInformation {
            location: Location { uri: uri(&place.path)?, range },
            message: words.clone(),
        })
    };
    diagnostic.related.iter().filter_map(information).collect()
}

/// A related place for a client that cannot show it: file name, line and column from 1, and the words.
fn related_line(related: &DiagnosticRelatedInformation) -> String {
    let name = path(&related.location.uri);
    let name = name.file_name().unwrap_or(name.as_os_str()).to_string_lossy();
    let at = related.location.range.start;
    format!("\nat {name}:{}:{}: {}", at.line + 1, at.character + 1, related.message)
}

/// What a code action needs: the rule, the thing, and the ways out with their edits in bytes.
fn data(diagnostic: &Diagnostic) -> Value {
    let ways_out: Vec<Value> = diagnostic.ways_out.iter().map(way_out).collect();
    json!({ "rule": diagnostic.code, "subject": diagnostic.subject, "waysOut": ways_out })
}

fn way_out(way_out: &WayOut) -> Value {
    let edits: Vec<Value> = way_out
        .edits
        .iter()
        .map(|edit| {
            let Place { path, start, end } = &edit.place;
            json!({ "uri": uri(path), "start": start, "end": end, "text": edit.text })
        })
        .collect();
    json!({ "title": way_out.title, "sure": way_out.sure, "edits": edits })
}

/// A hover in the form that the client takes.
#[must_use]
pub fn hover(hover: &Hover, snapshot: &Snapshot) -> LspHover {
    let (kind, value) = if snapshot.abilities.markdown {
        (MarkupKind::Markdown, hover.page.markdown())
    } else {
        (MarkupKind::PlainText, hover.page.plain())
    };
    let (start, end) = hover.range;
    LspHover {
        contents: HoverContents::Markup(MarkupContent { kind, value }),
        range: Some(range(&snapshot.text, snapshot.lines(), start, end, snapshot.encoding())),
    }
}

/// The places of targets, if any. What is in stock stands in the copy of it; without one it is left out.
#[must_use]
pub fn locations(
    targets: &[Target],
    copy: Option<&Path>,
    encoding: Encoding,
) -> Option<GotoDefinitionResponse> {
    let location = |target: &Target| {
        let path = target.path.as_deref().or(copy)?;
        let range = range(&target.text, &target.lines, target.start, target.end, encoding);
        Some(Location { uri: uri(path)?, range })
    };
    let locations: Vec<Location> = targets.iter().filter_map(location).collect();
    (!locations.is_empty()).then_some(GotoDefinitionResponse::Array(locations))
}

/// Edits of a snapshot's text.
#[must_use]
pub fn edits(edits: Vec<Edit>, snapshot: &Snapshot) -> Vec<TextEdit> {
    let text_edit = |edit: Edit| TextEdit {
        range: range(&snapshot.text, snapshot.lines(), edit.start, edit.end, snapshot.encoding()),
        new_text: edit.text,
    };
    edits.into_iter().map(text_edit).collect()
}

#[cfg(test)]
mod tests;
