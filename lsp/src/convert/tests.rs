//! Places, findings and URIs on their way to the protocol.

use std::sync::Arc;

use super::*;

const ENCODINGS: [Encoding; 3] = [Encoding::Utf8, Encoding::Utf16, Encoding::Utf32];

fn place(path: &str, start: u32, end: u32) -> Place {
    Place { path: PathBuf::from(path), start, end }
}

fn file(text: &str, diagnostics: Vec<Diagnostic>) -> Arc<FileFindings> {
    let lines = Arc::new(LineIndex::new(text));
    Arc::new(FileFindings { version: Some(3), text: text.into(), lines, diagnostics })
}

fn diagnostic(start: u32, end: u32) -> Diagnostic {
    Diagnostic {
        start,
        end,
        level: Level::Warning,
        code: "wire.example",
        message: "`W1` carries 7.9 A".to_owned(),
        subject: "W1".to_owned(),
        related: vec![(place("/r/b.wattle", 4, 5), "fed from here".to_owned())],
        ways_out: vec![WayOut {
            title: "use a thicker wire".to_owned(),
            sure: false,
            edits: vec![crate::feature::diagnostics::Replacement {
                place: place("/r/a.wattle", 0, 1),
                text: "x".to_owned(),
            }],
        }],
    }
}

fn published(abilities: Abilities) -> PublishDiagnosticsParams {
    let findings = Findings::from([
        (PathBuf::from("/r/a.wattle"), file("µ😀b", vec![diagnostic(6, 7)])),
        (PathBuf::from("/r/b.wattle"), file("1\r\n\r2", vec![])),
    ]);
    let path = PathBuf::from("/r/a.wattle");
    publication(&Publication {
        path,
        uri: None,
        findings: Arc::new(findings),
        abilities: Arc::new(abilities),
    })
    .unwrap()
}

#[test]
fn columns_in_three_encodings() {
    for (encoding, column) in ENCODINGS.into_iter().zip([6, 3, 2]) {
        let params = published(Abilities { encoding, ..Abilities::default() });
        let range = params.diagnostics[0].range;
        assert_eq!(range.start, Position { line: 0, character: column }, "{encoding:?}");
        assert_eq!(range.end, Position { line: 0, character: column + 1 }, "{encoding:?}");
    }
}

#[test]
fn offsets_come_back_from_every_place() {
    let text = "a\té\r\n😀µ\r\rend";
    let lines = LineIndex::new(text);
    for encoding in ENCODINGS {
        let ends_of_lines_left_out =
            |at: &usize| !text[..*at].ends_with('\r') || text[*at..].starts_with(['\r', 'e']);
        for at in (0..=text.len()).filter(|at| text.is_char_boundary(*at)).filter(ends_of_lines_left_out) {
            let at = u32::try_from(at).unwrap();
            let position = range(text, &lines, at, at, encoding).start;
            assert_eq!(lines.offset(text, line_column(position), encoding), at, "{encoding:?}");
        }
        let past = lines.offset(text, LineColumn { line: 0, column: 99 }, encoding);
        assert_eq!(past, 4, "the end of the line, before its line end");
    }
}

#[test]
fn related_places_are_shown_or_told() {
    let shown = published(Abilities { related: true, ..Abilities::default() });
    let related = shown.diagnostics[0].related_information.as_ref().unwrap();
    assert_eq!(related[0].location.range.start, Position { line: 2, character: 0 });
    assert_eq!(related[0].location.uri.as_str(), "file:///r/b.wattle");
    assert_eq!(shown.diagnostics[0].message, "`W1` carries 7.9 A");
    let told = published(Abilities::default());
    assert_eq!(told.diagnostics[0].related_information, None);
    assert_eq!(told.diagnostics[0].message, "`W1` carries 7.9 A\nat b.wattle:3:1: fed from here");
}

#[test]
fn data_goes_only_to_those_that_hand_it_back() {
    assert_eq!(published(Abilities::default()).diagnostics[0].data, None);
    let data = published(Abilities { data: true, ..Abilities::default() }).diagnostics[0].data.clone();
    let expected = json!({ "rule": "wire.example", "subject": "W1", "waysOut": [{
        "title": "use a thicker wire",
        "sure": false,
        "edits": [{ "uri": "file:///r/a.wattle", "start": 0, "end": 1, "text": "x" }],
    }] });
    assert_eq!(data, Some(expected));
}

#[test]
fn levels_version_source_and_code() {
    let params = published(Abilities::default());
    assert_eq!(params.version, Some(3));
    let found = &params.diagnostics[0];
    assert_eq!(found.severity, Some(DiagnosticSeverity::WARNING));
    assert_eq!(found.source.as_deref(), Some("wattle"));
    assert_eq!(found.code, Some(NumberOrString::String("wire.example".to_owned())));
}

#[test]
fn uris_become_paths_and_come_back() {
    for text in ["file:///r/a%20b/%C3%A9.wattle", "untitled:Untitled-1"] {
        let url = Url::parse(text).unwrap();
        assert_eq!(uri(&path(&url)).unwrap().as_str(), text);
    }
    assert_eq!(path(&Url::parse("file:///r/x/../a.wattle").unwrap()), PathBuf::from("/r/a.wattle"));
}

#[test]
fn a_clients_own_uri_is_answered_in_its_own_words() {
    let own = "file:///r/%61.wattle";
    let publication = Publication {
        path: PathBuf::from("/r/a.wattle"),
        uri: Some(own.to_owned()),
        findings: Arc::default(),
        abilities: Arc::default(),
    };
    let params = super::publication(&publication).unwrap();
    assert_eq!((params.uri.as_str(), params.diagnostics.len(), params.version), (own, 0, None));
}
