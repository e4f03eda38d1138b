//! Every rule: its own examples, and its fixtures with what must be found and what must not.

use std::path::{Path, PathBuf};

use wattle_linter::rules;
use wattle_tests::{fixture, memory};

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("fixtures/rules")
}

#[test]
fn every_fixture_finds_what_is_marked_and_nothing_else() {
    let files = fixture::files_below(&folder()).unwrap();
    let wrong: Vec<String> = files.iter().filter_map(|file| fixture::check(file).err()).collect();
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn every_fixture_belongs_to_a_rule_and_shows_it() {
    for file in fixture::files_below(&folder()).unwrap() {
        let name = file.parent().and_then(Path::file_name).unwrap().to_string_lossy().into_owned();
        assert!(rules::by_name(&name).is_some(), "{} stands in a folder that is no rule", file.display());
        let marked = std::fs::read_to_string(&file).unwrap();
        let must_find = file.file_name().unwrap().to_string_lossy().starts_with("finds-");
        let shows = marked.contains(&format!("[{name}]"));
        assert_eq!(must_find, shows, "{}: `finds-` and the marks must agree", file.display());
    }
}

#[test]
fn every_rule_finds_its_bad_example_once_and_nothing_in_its_good_one() {
    for rule in rules::ALL {
        let bad = memory::analyse(rule.bad);
        let found: Vec<_> = bad.verdict.findings.iter().map(|finding| finding.rule).collect();
        assert_eq!(found, [rule.name], "{}: {:?} {:?}", rule.name, bad.verdict.errors, bad.verdict.findings);
        assert!(bad.verdict.errors.is_empty(), "{}: {:?}", rule.name, bad.verdict.errors);
        let good = memory::analyse(rule.good);
        assert!(good.verdict.findings.is_empty(), "{}: {:?}", rule.name, good.verdict.findings);
        assert!(good.verdict.errors.is_empty(), "{}: {:?}", rule.name, good.verdict.errors);
    }
}

#[test]
fn messages_follow_the_house_style() {
    for file in fixture::files_below(&folder()).unwrap() {
        let text = fixture::Fixture::read(&std::fs::read_to_string(&file).unwrap()).text;
        for finding in memory::analyse(&text).verdict.findings {
            let message = &finding.message;
            assert!(!message.ends_with('.'), "{message}");
            assert!(!message.contains("NaN") && !message.contains("inf "), "{message}");
            assert!(
                !message.to_lowercase().split(|c: char| !c.is_alphabetic()).any(|word| word == "safe"),
                "{message}"
            );
        }
    }
}
