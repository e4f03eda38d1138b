//! What an `accept` covers, and when it is itself reported.

use wattle_grammar::{
    span::{FileId, Span},
    syntax::Date,
};

use super::*;
use crate::finding::{NotAssessed, Severity};

const RULES: &[&str] = &["wire.loose", "wire.thin"];
const TODAY: Option<Date> = Some(Date { year: 2025, month: 6, day: 15 });

fn span(start: u32) -> Span {
    Span::new(FileId(0), start, start + 5)
}

fn accept(at: u32, rule: &str, subject: &str) -> Accept {
    Accept {
        rule: rule.into(),
        rule_span: span(at + 1),
        subject: subject.into(),
        subject_span: span(at + 2),
        reason: format!("reason {at}"),
        until: None,
        span: span(at),
    }
}

fn until(year: u16, month: u8, day: u8, accept: Accept) -> Accept {
    Accept { until: Some((Date { year, month, day }, span(99))), ..accept }
}

fn found(rule: &'static str, subject: &str) -> Finding {
    Finding {
        severity: Severity::Danger,
        subject: subject.into(),
        rule,
        ..finding(&unused::RULE, &accept(500, rule, subject), "found".into(), "here")
    }
}

fn judged(accepts: &[Accept], findings: Vec<Finding>) -> Verdict {
    let mut verdict = Verdict { findings, ..Verdict::default() };
    apply(accepts, RULES, TODAY, &mut verdict);
    verdict
}

fn rules_of(verdict: &Verdict) -> Vec<&str> {
    verdict.findings.iter().map(|finding| finding.rule).collect()
}

#[test]
fn rule_and_thing_must_both_match() {
    let findings = vec![found("wire.thin", "W1"), found("wire.thin", "W2"), found("wire.loose", "W1")];
    let verdict = judged(&[accept(0, "wire.thin", "W1")], findings);
    let accepted: Vec<_> = verdict
        .findings
        .iter()
        .map(|finding| finding.accepted.as_ref().map(|accepted| accepted.reason.as_str()))
        .collect();
    assert_eq!(accepted, [Some("reason 0"), None, None]);
}

#[test]
fn one_that_covers_nothing_is_reported() {
    let verdict = judged(&[accept(7, "wire.thin", "W9")], vec![]);
    assert_eq!(rules_of(&verdict), ["accept.unused"]);
    let finding = &verdict.findings[0];
    assert_eq!(finding.message, "`wire.thin` is accepted on `W9`, which gives no such finding");
    assert_eq!((finding.span, finding.subject.as_str()), (span(7), "W9"));
    assert!(finding.help[0].sure && finding.help[0].edits[0].text.is_empty());
}

#[test]
fn the_last_day_still_counts() {
    let verdict = judged(&[until(2025, 6, 15, accept(0, "wire.thin", "W1"))], vec![found("wire.thin", "W1")]);
    assert_eq!(rules_of(&verdict), ["wire.thin"]);
    assert!(verdict.findings[0].accepted.is_some());
}

#[test]
fn from_the_day_after_the_finding_counts_again_and_the_accept_is_reported() {
    let verdict = judged(&[until(2025, 6, 14, accept(0, "wire.thin", "W1"))], vec![found("wire.thin", "W1")]);
    assert_eq!(rules_of(&verdict), ["wire.thin", "accept.expired"]);
    assert!(verdict.findings[0].accepted.is_none());
    assert_eq!(verdict.findings[1].message, "`wire.thin` was accepted on `W1` until 2025-06-14 only");
    assert_eq!(verdict.findings[1].span, span(99));
}

#[test]
fn an_expired_one_without_a_finding_is_one_finding() {
    let verdict = judged(&[until(2001, 1, 1, accept(0, "wire.thin", "W1"))], vec![]);
    assert_eq!(rules_of(&verdict), ["accept.expired"]);
}

#[test]
fn without_a_calendar_no_date_is_judged() {
    let mut verdict = Verdict { findings: vec![found("wire.thin", "W1")], ..Verdict::default() };
    apply(&[until(2001, 1, 1, accept(0, "wire.thin", "W1"))], RULES, None, &mut verdict);
    assert_eq!(rules_of(&verdict), ["wire.thin"]);
    assert!(verdict.findings[0].accepted.is_some());
}

#[test]
fn a_renewed_one_beside_the_expired_one_covers() {
    let accepts = [until(2001, 1, 1, accept(0, "wire.thin", "W1")), accept(20, "wire.thin", "W1")];
    let verdict = judged(&accepts, vec![found("wire.thin", "W1")]);
    assert_eq!(rules_of(&verdict), ["wire.thin", "accept.expired"]);
    assert_eq!(
        verdict.findings[0].accepted.as_ref().map(|accepted| accepted.reason.as_str()),
        Some("reason 20")
    );
}

#[test]
fn the_second_of_two_equal_ones_is_reported_with_the_first() {
    let accepts = [accept(0, "wire.thin", "W1"), accept(20, "wire.thin", "W1")];
    let verdict = judged(&accepts, vec![found("wire.thin", "W1")]);
    assert_eq!(rules_of(&verdict), ["wire.thin", "accept.unused"]);
    assert_eq!(
        verdict.findings[0].accepted.as_ref().map(|accepted| accepted.reason.as_str()),
        Some("reason 0")
    );
    assert_eq!(verdict.findings[1].related[0].0, span(0));
}

#[test]
fn an_unknown_rule_is_an_error_with_the_nearest_name() {
    let verdict = judged(&[accept(0, "wire.thinn", "W1")], vec![]);
    let error = &verdict.errors[0];
    assert_eq!(
        (error.name, error.message.as_str()),
        ("language.unknown-rule", "there is no rule `wire.thinn`")
    );
    assert_eq!(error.help.as_deref(), Some("did you mean `wire.thin`?"));
    assert_eq!(error.mend, Some((span(1), "wire.thin".into())));
    assert_eq!(rules_of(&verdict), [""; 0]);

    let verdict = judged(&[accept(0, "name.quite-other", "W1")], vec![]);
    assert_eq!(verdict.errors[0].mend, None);
}

#[test]
fn what_may_have_been_missed_is_not_called_unused() {
    let accepts = [accept(0, "wire.thin", "W1")];
    let incomplete = Verdict { incomplete: vec!["no working point".into()], ..Verdict::default() };
    let missing = NotAssessed {
        subject: "W1".into(),
        span: span(0),
        missing: "length".into(),
        blocks: vec!["wire.thin"],
    };
    let lacking = Verdict { not_assessed: vec![missing], ..Verdict::default() };
    for mut verdict in [incomplete, lacking] {
        apply(&accepts, RULES, TODAY, &mut verdict);
        assert_eq!(rules_of(&verdict), [""; 0]);
    }
}
