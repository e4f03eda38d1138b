//! What closes an account in every form: errors, what is incomplete, what was not assessed, and the basis.

use std::collections::BTreeMap;

use super::Entry;
use crate::{
    explained::Amount,
    report::{Report, summary},
};

/// The lists that close an account, each with its word; empty ones are left out.
pub(super) fn lists(report: &Report<'_>) -> Vec<(&'static str, Vec<String>)> {
    let verdict = report.verdict;
    let error =
        |error: &wattle_grammar::error::TextError| format!("{}: {}", report.place(error.span), error.message);
    let all = [
        ("errors", verdict.errors.iter().map(error).collect::<Vec<_>>()),
        ("incomplete", verdict.incomplete.clone()),
        ("not assessed", verdict.not_assessed.iter().map(summary::missing).collect()),
        ("basis", verdict.basis.clone()),
    ];
    all.into_iter().filter(|(_, sentences)| !sentences.is_empty()).collect()
}

/// A sentence for each figure that could not be told in some entries: why, and of which.
pub(super) fn missing(entries: &[&Entry]) -> Vec<String> {
    let mut by_reason: BTreeMap<(&str, &str), Vec<&str>> = BTreeMap::new();
    for entry in entries {
        for figure in &entry.figures {
            if let Amount::NotAssessed(missing) = &figure.amount {
                let names = by_reason.entry((&figure.what, missing)).or_default();
                if names.last() != Some(&entry.name.as_str()) {
                    names.push(&entry.name);
                }
            }
        }
    }
    let sentence = |((what, missing), names): ((&str, &str), Vec<&str>)| {
        let lacks = if missing.contains(' ') { missing.to_owned() } else { format!("`{missing}`") };
        format!("{what} not assessed for want of {lacks}: {}", listed(&names))
    };
    by_reason.into_iter().map(sentence).collect()
}

/// How many names a sentence lists before it only counts.
const NAMED: usize = 12;

/// Names in backticks, the first of them when there are many.
pub(super) fn listed(names: &[&str]) -> String {
    let shown: Vec<String> = names.iter().take(NAMED).map(|name| format!("`{name}`")).collect();
    let more = names.len().saturating_sub(NAMED);
    if more > 0 { format!("{} and {more} more", shown.join(", ")) } else { shown.join(", ") }
}
