//! Expectations and readings: said to be read and not judged, each by its own text, so that nobody takes silence for a yes.

use wattle_grammar::span::Span;

use crate::{design::Design, finding::NotAssessed, project::Project};

/// One entry for each expectation and each reading.
pub(crate) fn entries(project: &Project, design: &Design) -> Vec<NotAssessed> {
    let mut expected: Vec<Span> = design.expectations.iter().map(|expectation| expectation.span).collect();
    expected.dedup();
    let expected = expected.into_iter().map(|span| (span, "expectations"));
    let read = design.readings.iter().map(|reading| (reading.span, "readings"));
    expected.chain(read).map(|(span, what)| entry(project, span, what)).collect()
}

fn entry(project: &Project, span: Span, what: &str) -> NotAssessed {
    let text = project.file(span.file).map_or("", |file| span.slice(&file.text));
    NotAssessed {
        subject: text.split_whitespace().collect::<Vec<_>>().join(" "),
        span,
        missing: format!("a verdict: this version reads {what} and does not judge them"),
        blocks: Vec::new(),
    }
}
