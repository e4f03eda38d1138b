//! Accepted risks: which findings an `accept` covers, and which `accept` covers nothing or no longer holds.

use std::collections::BTreeSet;

use wattle_grammar::{
    error::{TextError, quoted},
    nearest::nearest,
    syntax::Date,
};

use crate::{
    design::Accept,
    finding::{Acceptance, Edit, Finding, Mend, Verdict},
    rules::accept::{expired, unused},
};

/// Marks the findings that the builder has accepted and judges every `accept`: one that names no rule is an error of
/// the text, one that covers nothing or whose last day is before `today` is a finding. `rules` are the names of all
/// rules. Without a `today` no date is judged.
///
/// Whether an `accept` covers nothing is only told when everything was analysed: a statement that could not be read
/// may hold what it is about. One that stands in an assembly covers something when it does in any of its fits.
pub fn apply(accepts: &[Accept], rules: &[&'static str], today: Option<Date>, verdict: &mut Verdict) {
    let complete = verdict.errors.is_empty() && verdict.incomplete.is_empty();
    let (mut covering, mut idle) = (BTreeSet::new(), Vec::new());
    for (at, accept) in accepts.iter().enumerate() {
        if !rules.contains(&accept.rule.as_str()) {
            verdict.errors.push(unknown_rule(accept, rules));
            continue;
        }
        let before = accepts.get(..at).unwrap_or_default();
        let twin = before.iter().find(|earlier| same_risk(earlier, accept) && !is_over(earlier, today));
        if is_over(accept, today) {
            verdict.findings.push(has_expired(accept));
        } else if let Some(twin) = twin.filter(|_| complete) {
            verdict.findings.push(accepted_twice(accept, twin));
        } else if cover(accept, verdict) || undecided(accept, verdict) {
            covering.insert(accept.span);
        } else if complete {
            idle.push(accept);
        }
    }
    let idle = idle.into_iter().filter(|accept| !covering.contains(&accept.span));
    verdict.findings.extend(idle.map(covers_nothing));
}

/// Whether the last day on which it holds is before `today`.
fn is_over(accept: &Accept, today: Option<Date>) -> bool {
    accept.until.zip(today).is_some_and(|((last, _), today)| last < today)
}

fn same_risk(a: &Accept, b: &Accept) -> bool {
    a.rule == b.rule && a.subject == b.subject
}

/// Marks what the `accept` covers; whether there was any.
fn cover(accept: &Accept, verdict: &mut Verdict) -> bool {
    let mut any = false;
    let about = |finding: &&mut Finding| finding.rule == accept.rule && finding.subject == accept.subject;
    for finding in verdict.findings.iter_mut().filter(about) {
        let until = accept.until.map(|(last, _)| last);
        finding.accepted.get_or_insert_with(|| Acceptance { reason: accept.reason.clone(), until });
        any = true;
    }
    any
}

/// Whether the rule could not be judged on the thing for want of a rating.
fn undecided(accept: &Accept, verdict: &Verdict) -> bool {
    let rule = accept.rule.as_str();
    verdict.not_assessed.iter().any(|entry| entry.subject == accept.subject && entry.blocks.contains(&rule))
}

fn unknown_rule(accept: &Accept, rules: &[&'static str]) -> TextError {
    let near = nearest(&accept.rule, rules.iter().copied());
    let written = quoted(&accept.rule);
    if accept.rule.starts_with("language.") {
        let message = format!("{written} is an error of the language and cannot be accepted");
        return TextError::new(
            "language.unknown-rule",
            accept.rule_span,
            message,
            "the name of a rule is due here",
        )
        .help("the statement that it stands on is not analysed: put it right");
    }
    let message = format!("there is no rule {written}");
    TextError {
        help: Some(near.map_or_else(
            || "`wattle rules` lists every rule".to_owned(),
            |near| format!("did you mean `{near}`?"),
        )),
        mend: near.map(|near| (accept.rule_span, near.to_owned())),
        ..TextError::new("language.unknown-rule", accept.rule_span, message, "no rule has this name")
    }
}

fn finding(rule: &'static crate::rule::Rule, accept: &Accept, message: String, label: &str) -> Finding {
    Finding {
        rule: rule.name,
        severity: rule.severity,
        span: accept.span,
        subject: accept.subject.clone(),
        message,
        label: label.to_owned(),
        related: Vec::new(),
        figures: Vec::new(),
        because: Vec::new(),
        mode: None,
        help: Vec::new(),
        accepted: None,
    }
}

/// Taking the statement away changes nothing electrical.
fn removal(accept: &Accept, title: &str) -> Mend {
    Mend { title: title.to_owned(), edits: vec![Edit { span: accept.span, text: String::new() }], sure: true }
}

fn covers_nothing(accept: &Accept) -> Finding {
    let message =
        format!("`{}` is accepted on `{}`, which gives no such finding", accept.rule, accept.subject);
    Finding {
        help: vec![removal(accept, "remove this line")],
        ..finding(&unused::RULE, accept, message, "covers nothing")
    }
}

fn accepted_twice(accept: &Accept, twin: &Accept) -> Finding {
    let message = format!("`{}` is accepted on `{}` twice", accept.rule, accept.subject);
    Finding {
        related: vec![(twin.span, "first accepted here".to_owned())],
        help: vec![removal(accept, "remove this line")],
        ..finding(&unused::RULE, accept, message, "accepted before")
    }
}

fn has_expired(accept: &Accept) -> Finding {
    let (span, last) =
        accept.until.map_or((accept.span, String::new()), |(last, span)| (span, last.to_string()));
    let message = format!("`{}` was accepted on `{}` until {last} only", accept.rule, accept.subject);
    let remove = Mend { sure: false, ..removal(accept, "mend what was accepted, then remove this line") };
    let prolong = Mend {
        title: "look at the robot again, then write a later date".to_owned(),
        edits: vec![],
        sure: false,
    };
    Finding {
        span,
        help: vec![remove, prolong],
        ..finding(&expired::RULE, accept, message, "this day is over")
    }
}

#[cfg(test)]
mod tests;
