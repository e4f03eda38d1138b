//! Pages as Markdown.

use super::prose;
use crate::rule::Rule;

/// One rule's page. `report` is the brief report on its bad example.
#[must_use]
pub fn page(rule: &Rule, report: &str) -> String {
    let mut out =
        format!("# `{}`\n\nSeverity: **{}**\n\n{}\n", rule.name, rule.severity.word(), rule.summary);
    for (heading, text) in prose(rule) {
        out.push_str(&format!("\n## {heading}\n\n{text}\n"));
    }
    out.push_str(&format!("\n## Bad example\n\n{}", fenced("wattle", rule.bad)));
    out.push_str(&format!("\nIt gives:\n\n{}", fenced("text", report)));
    out.push_str(&format!("\n## Good example\n\n{}", fenced("wattle", rule.good)));
    out
}

/// The catalogue as a table; each name links to the page `NAME.md` beside it.
#[must_use]
pub fn list(rules: &[&Rule]) -> String {
    let row = |rule: &&Rule| {
        let (name, severity, summary) = (rule.name, rule.severity.word(), rule.summary.replace('|', "\\|"));
        format!("| [`{name}`]({name}.md) | {severity} | {summary} |\n")
    };
    let rows: String = rules.iter().map(row).collect();
    format!("# Rules\n\n| rule | severity | the mistake |\n|---|---|---|\n{rows}")
}

fn fenced(language: &str, text: &str) -> String {
    format!("```{language}\n{}\n```\n", text.trim_end())
}
