//! The report with one line for each thing said: for editors, for searching, and for screen readers.
//!
//! `path:line:column: severity[rule] message`, columns in characters from 1. Nothing is drawn and nothing is broken
//! over lines.

use wattle_grammar::error::TextError;

use super::{Report, plain, summary};
use crate::finding::{Acceptance, Finding, NotAssessed};

/// Errors, findings (accepted ones with their reason) and checks that could not be made, then the closing lines.
#[must_use]
pub fn render(report: &Report<'_>) -> String {
    let mut out = lines(report);
    out.extend(report.verdict.not_assessed.iter().map(|entry| not_assessed_line(report, entry)));
    let root = plain::line(&report.root);
    let closing = summary::sentences(report);
    out.extend(closing.iter().map(|(head, text)| format!("{root}: {head}: {}\n", plain::line(text))));
    out
}

/// The lines of the errors and findings alone.
#[must_use]
pub fn lines(report: &Report<'_>) -> String {
    let errors = report.verdict.errors.iter().map(|error| error_line(report, error));
    let findings = report.verdict.findings.iter().map(|finding| finding_line(report, finding));
    errors.chain(findings).collect()
}

fn error_line(report: &Report<'_>, error: &TextError) -> String {
    format!("{}: error[{}] {}\n", report.place(error.span), error.name, plain::line(&error.message))
}

fn finding_line(report: &Report<'_>, finding: &Finding) -> String {
    let place = report.place(finding.span);
    let message = plain::line(&finding.message);
    let accepted = match &finding.accepted {
        Some(Acceptance { reason, until: None }) => format!(" (accepted: {})", plain::line(reason)),
        Some(Acceptance { reason, until: Some(last) }) => {
            format!(" (accepted until {last}: {})", plain::line(reason))
        }
        None => String::new(),
    };
    format!("{place}: {}[{}] {message}{accepted}\n", finding.severity.word(), finding.rule)
}

fn not_assessed_line(report: &Report<'_>, entry: &NotAssessed) -> String {
    let place = report.place(entry.span);
    format!("{place}: not assessed: {}\n", plain::line(&summary::missing(entry)))
}
