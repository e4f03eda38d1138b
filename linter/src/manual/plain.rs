//! Pages for the terminal: headings, text set in by two columns, examples by four.

use super::prose;
use crate::{paragraph::hanging, rule::Rule};

/// One rule's page. `report` is the brief report on its bad example; prose is broken at `width` columns.
#[must_use]
pub fn page(rule: &Rule, report: &str, width: usize) -> String {
    let mut out = format!("{} ({})\n", rule.name, rule.severity.word());
    out.push_str(&hanging("  ", rule.summary, width));
    for (heading, text) in prose(rule) {
        out.push_str(&format!("\n{}\n", heading.to_lowercase()));
        out.push_str(&hanging("  ", &text, width));
    }
    out.push_str(&format!("\nbad example\n{}", set_in(rule.bad)));
    out.push_str(&format!("\nit gives\n{}", set_in(report)));
    out.push_str(&format!("\ngood example\n{}", set_in(rule.good)));
    out
}

/// The catalogue: one entry for each rule, its summary set in below its name.
#[must_use]
pub fn list(rules: &[&Rule], width: usize) -> String {
    let entry = |rule: &&Rule| {
        format!("{} ({})\n{}", rule.name, rule.severity.word(), hanging("  ", rule.summary, width))
    };
    rules.iter().map(entry).collect()
}

fn set_in(text: &str) -> String {
    text.lines().map(|line| if line.is_empty() { "\n".to_owned() } else { format!("    {line}\n") }).collect()
}
