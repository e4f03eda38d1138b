//! The final order of a verdict: the same input gives the same report, byte for byte.

use std::{
    cmp::{Ordering, Reverse},
    collections::BTreeMap,
    path::Path,
};

use wattle_grammar::span::Span;

use crate::{
    finding::{Finding, NotAssessed, Verdict},
    project::Project,
};

/// Puts everything in order of place (path, then byte range); at one place the worst finding first, then by rule and
/// message. Entries on the same missing rating become one that names every rule it blocks.
pub fn settle(verdict: &mut Verdict, project: &Project) {
    let place = |span: Span| (path_of(project, span), span.start, span.end);
    verdict
        .errors
        .sort_by(|a, b| (place(a.span), a.name, &a.message).cmp(&(place(b.span), b.name, &b.message)));
    verdict.errors.dedup();
    verdict.findings.sort_by(|a, b| place(a.span).cmp(&place(b.span)).then_with(|| at_one_place(a, b)));
    merge(&mut verdict.not_assessed);
    verdict.not_assessed.sort_by(|a, b| {
        (place(a.span), &a.subject, &a.missing).cmp(&(place(b.span), &b.subject, &b.missing))
    });
}

fn path_of(project: &Project, span: Span) -> &Path {
    project.file(span.file).map_or(Path::new(""), |file| &file.path)
}

fn at_one_place(a: &Finding, b: &Finding) -> Ordering {
    let key = |finding: &Finding| (Reverse(finding.severity), finding.rule);
    key(a).cmp(&key(b)).then_with(|| (&a.message, &a.subject).cmp(&(&b.message, &b.subject)))
}

/// Joins the entries that lack the same rating of the same thing.
fn merge(entries: &mut Vec<NotAssessed>) {
    let mut joined: BTreeMap<(String, Span, String), Vec<&'static str>> = BTreeMap::new();
    for entry in entries.drain(..) {
        joined.entry((entry.subject, entry.span, entry.missing)).or_default().extend(entry.blocks);
    }
    entries.extend(joined.into_iter().map(|((subject, span, missing), mut blocks)| {
        blocks.sort_unstable();
        blocks.dedup();
        NotAssessed { subject, span, missing, blocks }
    }));
}

#[cfg(test)]
mod tests {
    use wattle_grammar::span::FileId;

    use super::*;
    use crate::{finding::Severity, project};

    /// Two files, the root later in the alphabet than what it uses.
    fn project() -> Project {
        struct Empty;
        impl project::Loader for Empty {
            fn load(&self, _: &Path) -> Result<Vec<u8>, String> {
                Ok(Vec::new())
            }
        }
        let mut project = project::open(Path::new("z.wattle"), &Empty);
        let mut second = project.files.first().cloned().unwrap();
        second.id = FileId(1);
        second.path = "a.wattle".into();
        project.files.push(second);
        project
    }

    fn finding(file: u32, start: u32, severity: Severity, rule: &'static str, message: &str) -> Finding {
        Finding {
            rule,
            severity,
            span: Span::new(FileId(file), start, start + 1),
            subject: "X".into(),
            message: message.into(),
            label: String::new(),
            related: vec![],
            figures: vec![],
            because: vec![],
            mode: None,
            help: vec![],
            accepted: None,
        }
    }

    #[test]
    fn path_then_place_then_worst_then_rule_then_message() {
        let sorted = [
            finding(1, 9, Severity::Untidy, "z", "m"),
            finding(0, 1, Severity::Danger, "b", "m"),
            finding(0, 1, Severity::Damage, "a", "m"),
            finding(0, 1, Severity::Damage, "a", "n"),
            finding(0, 1, Severity::Damage, "b", "a"),
            finding(0, 2, Severity::Danger, "a", "m"),
        ];
        for turn in 0..sorted.len() {
            let mut verdict = Verdict { findings: sorted.to_vec(), ..Verdict::default() };
            verdict.findings.rotate_left(turn);
            settle(&mut verdict, &project());
            assert_eq!(verdict.findings, sorted);
        }
    }

    #[test]
    fn one_missing_rating_is_one_entry() {
        let entry = |missing: &str, rule| NotAssessed {
            subject: "F".into(),
            span: Span::file_start(FileId(0)),
            missing: missing.into(),
            blocks: vec![rule],
        };
        let not_assessed =
            vec![entry("style", "b"), entry("melting", "c"), entry("style", "a"), entry("style", "b")];
        let mut verdict = Verdict { not_assessed, ..Verdict::default() };
        settle(&mut verdict, &project());
        let merged = NotAssessed { blocks: vec!["a", "b"], ..entry("style", "a") };
        assert_eq!(verdict.not_assessed, [entry("melting", "c"), merged]);
    }
}
