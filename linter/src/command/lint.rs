//! `wattle lint`: checks files, folders or standard input and prints the report.

use std::path::PathBuf;

use clap::{Args, ValueEnum};
use wattle_linter::{
    finding::Severity,
    report::{Report, brief, json, summary, text, text::Style},
};

use super::{Exit, Outcome, Surroundings, look::Look, root};

#[derive(Debug, Args)]
pub(super) struct Options {
    /// Files, folders (every robot below is checked), or `-` for standard input
    #[arg(value_name = "PATH", default_value = ".")]
    paths: Vec<PathBuf>,
    /// The name of standard input: it is reported under this name, and what it uses is looked for beside it
    #[arg(long, value_name = "NAME")]
    under: Option<PathBuf>,
    /// The form of the report
    #[arg(long = "as", value_name = "FORM", value_enum, default_value_t)]
    form: Form,
    /// The lowest severity that makes the exit status 1 [default: malfunction]; `not-assessed` adds checks that could
    /// not be made for want of a rating
    #[arg(long, value_name = "LEVEL", value_enum, value_delimiter = ',')]
    deny: Vec<Deny>,
    #[command(flatten)]
    look: Look,
}

#[derive(Clone, Copy, Debug, Default, ValueEnum)]
enum Form {
    /// Marked source lines with reasons and mends
    #[default]
    Text,
    /// One line for each finding
    Brief,
    /// JSON
    Json,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
enum Deny {
    /// Fire or injury
    Danger,
    /// A part dies
    Damage,
    /// The robot will not do its job
    Malfunction,
    /// A person will be misled later
    Untidy,
    /// A check that could not be made
    NotAssessed,
}

impl Deny {
    const fn severity(self) -> Option<Severity> {
        match self {
            Self::Danger => Some(Severity::Danger),
            Self::Damage => Some(Severity::Damage),
            Self::Malfunction => Some(Severity::Malfunction),
            Self::Untidy => Some(Severity::Untidy),
            Self::NotAssessed => None,
        }
    }
}

pub(super) fn run(options: &Options, surroundings: &Surroundings) -> Outcome {
    if let Some(why) = root::wrong_use(&options.paths, options.under.as_deref()) {
        return Outcome::usage(why);
    }
    let mut checked = root::check(&options.paths, options.under.as_deref(), surroundings.today);
    if !matches!(options.form, Form::Json) {
        root::tell_errors_once(&mut checked);
    }
    let reports: Vec<Report<'_>> = checked.iter().map(root::Checked::report).collect();
    let rendered = match options.form {
        Form::Text => Ok(in_text(&reports, options.look.style(surroundings))),
        Form::Brief => Ok(in_brief(&reports)),
        Form::Json => json::render(&reports),
    };
    match rendered {
        Ok(out) => Outcome { out, trouble: String::new(), exit: exit(&reports, &options.deny) },
        Err(error) => Outcome {
            out: String::new(),
            trouble: format!("wattle: the report cannot be written as JSON: {error}\n"),
            exit: Exit::Fault,
        },
    }
}

fn in_text(reports: &[Report<'_>], style: Style) -> String {
    let one = |report: &Report<'_>| text::render(report, style) + &summary::render(report, style) + "\n";
    reports.iter().map(one).collect::<String>() + &summary::caution(style)
}

fn in_brief(reports: &[Report<'_>]) -> String {
    reports.iter().map(brief::render).collect::<String>() + &format!("caution: {}\n", summary::CAUTION)
}

/// What was not analysed may hide anything, so an incomplete analysis counts before any finding.
fn exit(reports: &[Report<'_>], deny: &[Deny]) -> Exit {
    let level = deny.iter().filter_map(|deny| deny.severity()).min().unwrap_or(Severity::Malfunction);
    let denied = reports.iter().flat_map(Report::open).any(|finding| finding.severity >= level);
    let not_assessed = deny.contains(&Deny::NotAssessed)
        && reports.iter().any(|report| !report.verdict.not_assessed.is_empty());
    if !reports.iter().all(Report::complete) {
        Exit::Incomplete
    } else if denied || not_assessed {
        Exit::Findings
    } else {
        Exit::Clean
    }
}

#[cfg(test)]
mod tests {
    use wattle_grammar::{error::TextError, span::Span};
    use wattle_linter::finding::{Acceptance, Finding, NotAssessed, Verdict};

    use super::*;

    fn finding(severity: Severity, accepted: bool) -> Finding {
        Finding {
            rule: "wire.thin",
            severity,
            span: Span::default(),
            subject: "W1".into(),
            message: String::new(),
            label: String::new(),
            related: vec![],
            figures: vec![],
            because: vec![],
            mode: None,
            help: vec![],
            accepted: accepted.then(|| Acceptance { reason: "known".into(), until: None }),
        }
    }

    fn found(findings: Vec<Finding>) -> Verdict {
        Verdict { findings, ..Verdict::default() }
    }

    fn status(verdict: &Verdict, deny: &[Deny]) -> Exit {
        let clean = Verdict::default();
        let report = |verdict| Report { root: "r".into(), files: vec![], verdict };
        exit(&[report(&clean), report(verdict)], deny)
    }

    #[test]
    fn malfunction_is_the_level_unless_another_is_given() {
        let untidy = found(vec![finding(Severity::Untidy, false)]);
        let malfunction = found(vec![finding(Severity::Malfunction, false)]);
        assert_eq!(status(&Verdict::default(), &[]), Exit::Clean);
        assert_eq!(status(&untidy, &[]), Exit::Clean);
        assert_eq!(status(&malfunction, &[]), Exit::Findings);
        assert_eq!(status(&untidy, &[Deny::Untidy]), Exit::Findings);
        assert_eq!(status(&malfunction, &[Deny::Damage]), Exit::Clean);
        assert_eq!(status(&malfunction, &[Deny::Danger, Deny::Malfunction]), Exit::Findings);
    }

    #[test]
    fn accepted_findings_do_not_count() {
        let accepted = found(vec![finding(Severity::Danger, true)]);
        assert_eq!(status(&accepted, &[Deny::Untidy]), Exit::Clean);
    }

    #[test]
    fn what_was_not_assessed_counts_when_asked_for() {
        let entry = NotAssessed {
            subject: "F1".into(),
            span: Span::default(),
            missing: "style".into(),
            blocks: vec!["fuse.slow"],
        };
        let mut verdict = found(vec![finding(Severity::Malfunction, false)]);
        verdict.not_assessed.push(entry.clone());
        let lacking = Verdict { not_assessed: vec![entry], ..Verdict::default() };
        assert_eq!(status(&lacking, &[]), Exit::Clean);
        assert_eq!(status(&lacking, &[Deny::NotAssessed]), Exit::Findings);
        assert_eq!(status(&verdict, &[Deny::Danger]), Exit::Clean);
        assert_eq!(status(&verdict, &[Deny::NotAssessed]), Exit::Findings);
    }

    #[test]
    fn incomplete_wins_over_findings() {
        let error = TextError {
            name: "language.unknown-unit",
            span: Span::default(),
            message: String::new(),
            label: String::new(),
            help: None,
            related: vec![],
            mend: None,
        };
        let danger = || found(vec![finding(Severity::Danger, false)]);
        let broken = Verdict { errors: vec![error], ..danger() };
        let unsolved = Verdict { incomplete: vec!["no working point".into()], ..danger() };
        assert_eq!(status(&broken, &[]), Exit::Incomplete);
        assert_eq!(status(&unsolved, &[]), Exit::Incomplete);
    }
}
