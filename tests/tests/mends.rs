//! Every mend that edits the text: applied, its finding is gone and nothing as bad has come in its place.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on has failed")]

use std::{collections::BTreeMap, path::Path};

use wattle_linter::{
    analysis::Analysis,
    finding::{Edit, Finding, Severity},
    rules,
};
use wattle_tests::{fixture, memory};

/// Every text there is: the fixtures of the rules and the examples in the rules' pages.
fn texts() -> std::io::Result<Vec<(String, String)>> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("fixtures/rules");
    let mut texts: Vec<(String, String)> =
        rules::ALL.iter().map(|rule| (format!("{}: bad", rule.name), rule.bad.to_owned())).collect();
    for file in fixture::files_below(&folder)? {
        let marked = std::fs::read_to_string(&file)?;
        texts.push((file.display().to_string(), fixture::Fixture::read(&marked).text));
    }
    Ok(texts)
}

/// The text with the edits made, from the last to the first so that spans stay true.
fn apply(text: &str, edits: &[Edit]) -> String {
    let mut edits: Vec<&Edit> = edits.iter().collect();
    edits.sort_by_key(|edit| (edit.span.start, edit.span.end));
    let mut mended = text.to_owned();
    for edit in edits.into_iter().rev() {
        mended.replace_range(edit.span.start as usize..edit.span.end as usize, &edit.text);
    }
    mended
}

/// How many findings there are of each rule and subject, by severity.
fn count(analysis: &Analysis, least: Severity) -> BTreeMap<(&str, &str), usize> {
    let mut found = BTreeMap::new();
    for finding in analysis.verdict.findings.iter().filter(|finding| finding.severity >= least) {
        *found.entry((finding.rule, finding.subject.as_str())).or_default() += 1;
    }
    found
}

/// What is wrong with a mended text, in words.
fn objections(before: &Analysis, finding: &Finding, mended: &str) -> Vec<String> {
    let after = memory::analyse(mended);
    let mut wrong: Vec<String> =
        after.verdict.errors.iter().map(|error| format!("an error: {}", error.message)).collect();
    let is_left = |other: &Finding| other.rule == finding.rule && other.message == finding.message;
    if after.verdict.findings.iter().any(is_left) {
        wrong.push("the finding is left".to_owned());
    }
    let (old, new) = (count(before, finding.severity), count(&after, finding.severity));
    for (key, number) in &new {
        if *number > old.get(key).copied().unwrap_or(0) {
            wrong.push(format!("new: {} on {}", key.0, key.1));
        }
    }
    let key = (finding.rule, finding.subject.as_str());
    if new.get(&key).copied().unwrap_or(0) >= old.get(&key).copied().unwrap_or(0) {
        wrong.push("no fewer findings on the same subject".to_owned());
    }
    if after.verdict.incomplete.len() > before.verdict.incomplete.len() {
        wrong.push("the analysis is no longer complete".to_owned());
    }
    wrong
}

#[test]
fn a_mend_that_edits_the_text_mends_it_and_makes_nothing_as_bad() {
    let mut wrong = Vec::new();
    let mut tried = 0;
    for (name, text) in texts().unwrap() {
        let before = memory::analyse(&text);
        for finding in &before.verdict.findings {
            for mend in finding.help.iter().filter(|mend| !mend.edits.is_empty()) {
                tried += 1;
                let mended = apply(&text, &mend.edits);
                for objection in objections(&before, finding, &mended) {
                    wrong.push(format!("{name}: {}: `{}`: {objection}", finding.message, mend.title));
                }
            }
        }
    }
    assert!(tried > 20, "only {tried} mends have edits");
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn a_line_that_names_several_fuses_is_not_edited_for_one() {
    let text = "wattle 1\nrobot \"Hut\" { ambient 30 degC }\nbattery PACK lead-acid 6S 7 Ah 20 mohm\n\
        fuse FA, FB 30 A blade\nlight LA, LB 12 V { typical 1 A }\ntie PACK.pos to FA.line, FB.line\n\
        wire W1 FA.load to LA.pos 18 AWG red 300 mm\nwire W2 LA.neg to PACK.neg 10 AWG black 400 mm\n\
        wire W3 FB.load to LB.pos 10 AWG red 300 mm\nwire W4 LB.neg to PACK.neg 10 AWG black 400 mm\n";
    let analysis = memory::analyse(text);
    let [finding] = analysis.verdict.findings.as_slice() else { panic!("{:?}", analysis.verdict.findings) };
    let smaller: Vec<_> = finding.help.iter().filter(|mend| mend.title.contains("`FA`")).collect();
    assert!(smaller.iter().all(|mend| mend.edits.is_empty()) && smaller.len() == 1, "{:?}", finding.help);
}
