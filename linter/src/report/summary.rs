//! What closes every report: the counts, the accepted risks, what was not assessed, the basis, and the caution.

use super::{Report, ink::Role, ink::ink, plain, text::Style};
use crate::{
    finding::{NotAssessed, Severity},
    paragraph::hanging,
};

/// The last words of every report.
pub const CAUTION: &str = "this tells what was checked, on the basis above, and what was not; no finding is no proof \
that nothing can burn, move or shock: lithium packs, mains supplies and chargers, heavy currents and stop functions \
need the local codes and a qualified person, and the first power-on a current limit and a hand on the switch";

/// The closing block of one robot for a terminal; [`caution`] follows once, behind the last robot.
#[must_use]
pub fn render(report: &Report<'_>, style: Style) -> String {
    let mut out = hanging(&format!("{}: ", plain::line(&report.root)), &counted(report), style.width);
    out.push_str(&accepted_block(report, style));
    out.push_str(&not_assessed_block(report, style));
    out.push_str(&list("incomplete", &report.verdict.incomplete, style));
    out.push_str(&list("basis", &report.verdict.basis, style));
    out
}

/// The caution, broken to the width.
#[must_use]
pub fn caution(style: Style) -> String {
    hanging("caution: ", CAUTION, style.width)
}

/// The closing lines of one robot as pairs of a word and a sentence: counts, incomplete, basis.
pub(super) fn sentences(report: &Report<'_>) -> Vec<(&'static str, String)> {
    let verdict = report.verdict;
    let mut out = vec![("counts", counted(report))];
    out.extend(verdict.incomplete.iter().map(|sentence| ("incomplete", sentence.clone())));
    out.extend(verdict.basis.iter().map(|sentence| ("basis", sentence.clone())));
    out
}

/// `2 errors, 1 danger, 3 malfunction, 1 accepted, 4 not assessed, not analysed completely`: what is zero is left out.
fn counted(report: &Report<'_>) -> String {
    let counts = report.counts();
    let errors = if counts.errors == 1 { "error" } else { "errors" };
    let severities = Severity::ALL.into_iter().rev().map(|severity| (counts.of(severity), severity.word()));
    let all = std::iter::once((counts.errors, errors)).chain(severities);
    let mut parts: Vec<String> =
        all.filter(|(count, _)| *count > 0).map(|(count, word)| format!("{count} {word}")).collect();
    if parts.is_empty() && report.complete() {
        parts.push("no findings".to_owned());
    }
    let rest = [(counts.accepted, "accepted"), (counts.not_assessed, "not assessed")];
    parts.extend(rest.iter().filter(|(count, _)| *count > 0).map(|(count, word)| format!("{count} {word}")));
    if !report.complete() {
        parts.push("not analysed completely".to_owned());
    }
    parts.join(", ")
}

/// What a missing rating keeps from being checked, in one sentence.
pub(crate) fn missing(entry: &NotAssessed) -> String {
    let subject = &entry.subject;
    // A key is quoted as it would be written; anything else is prose already.
    let lacks =
        if entry.missing.contains(' ') { entry.missing.clone() } else { format!("`{}`", entry.missing) };
    let blocked: Vec<String> = entry.blocks.iter().map(|rule| format!("`{rule}`")).collect();
    match blocked.as_slice() {
        [] => format!("`{subject}` lacks {lacks}"),
        _ => format!("`{subject}` lacks {lacks}, so {} cannot be checked", blocked.join(", ")),
    }
}

fn accepted_block(report: &Report<'_>, style: Style) -> String {
    let accepted = report.accepted();
    if accepted.is_empty() {
        return String::new();
    }
    let mut out = "accepted risks:\n".to_owned();
    for (finding, accepted) in accepted {
        let word = ink(finding.severity.word(), Role::Severity(finding.severity), style.colour);
        let place = report.place(finding.span);
        out.push_str(&format!("  {word}[{}] {}\n", finding.rule, place));
        out.push_str(&hanging("    ", &plain::line(&finding.message), style.width));
        out.push_str(&hanging("    because ", &plain::line(&accepted.reason), style.width));
        let until =
            accepted.until.map_or_else(|| "without a last day".to_owned(), |last| format!("until {last}"));
        out.push_str(&hanging("    ", &until, style.width));
    }
    out
}

fn not_assessed_block(report: &Report<'_>, style: Style) -> String {
    let entries: Vec<String> = report.verdict.not_assessed.iter().map(missing).collect();
    list("not assessed", &entries, style)
}

/// A word with sentences below it, or nothing when there are none.
fn list(word: &str, sentences: &[String], style: Style) -> String {
    if sentences.is_empty() {
        return String::new();
    }
    let lines = sentences.iter().map(|sentence| hanging("  - ", &plain::line(sentence), style.width));
    std::iter::once(format!("{word}:\n")).chain(lines).collect()
}
