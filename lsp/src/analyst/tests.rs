//! Which robots are analysed, when again, and what a failure costs.

use std::fs;

use super::*;
use crate::{library::OpenText, testing::ENGINE};

fn open(texts: &[(&str, &str)]) -> OpenTexts {
    let entry =
        |(path, text): &(&str, &str)| (PathBuf::from(path), OpenText { version: 1, text: (*text).into() });
    texts.iter().map(entry).collect()
}

fn job(open: OpenTexts) -> Job {
    Job { open, ..Job::default() }
}

fn roots(outcome: &Outcome) -> Vec<String> {
    let root = |analysed: &Arc<Analysed>| {
        let path = &analysed.project.files.first().unwrap().path;
        path.file_name().unwrap().to_string_lossy().into_owned()
    };
    outcome.analyses.iter().map(root).collect()
}

fn messages(outcome: &Outcome, path: &str) -> Vec<String> {
    let file = outcome.findings.get(Path::new(path));
    file.map(|file| file.diagnostics.iter().map(|found| found.message.clone()).collect()).unwrap_or_default()
}

#[test]
fn a_used_document_is_analysed_through_its_root() {
    let texts = open(&[("/r/robot.wattle", "robot\nuse \"leg.wattle\"\n"), ("/r/leg.wattle", "bad leg\n")]);
    let outcome = Analyst::new(ENGINE).work(&job(texts));
    assert_eq!(roots(&outcome), ["robot.wattle"]);
    assert_eq!(messages(&outcome, "/r/leg.wattle"), ["`bad leg` is bad"]);
    assert_eq!(messages(&outcome, "/r/robot.wattle"), [""; 0]);
}

#[test]
fn a_document_that_no_robot_uses_is_analysed_alone() {
    let texts = open(&[("/r/robot.wattle", "robot\n"), ("/r/leg.wattle", "bad robot leg\n")]);
    let outcome = Analyst::new(ENGINE).work(&job(texts));
    assert_eq!(roots(&outcome), ["leg.wattle", "robot.wattle"]);
    assert_eq!(messages(&outcome, "/r/leg.wattle"), ["`bad robot leg` is bad"]);
}

#[test]
fn a_document_that_two_robots_use_is_told_equal_things_once() {
    let root = "robot\nuse \"leg.wattle\"\n";
    let texts = open(&[("/r/a.wattle", root), ("/r/b.wattle", root), ("/r/leg.wattle", "bad\n")]);
    let outcome = Analyst::new(ENGINE).work(&job(texts));
    assert_eq!(roots(&outcome), ["a.wattle", "b.wattle"]);
    assert_eq!(messages(&outcome, "/r/leg.wattle"), ["`bad` is bad"]);
}

#[test]
fn a_robot_on_the_disk_is_found_and_forgotten() {
    let folder = std::env::temp_dir().join(format!("wattle-analyst-{}", std::process::id()));
    fs::create_dir_all(&folder).unwrap();
    fs::write(folder.join("robot.wattle"), "robot\nuse \"leg.wattle\"\nbad root\n").unwrap();
    fs::write(folder.join("other.wattle"), "robot\nbad other\n").unwrap();
    let leg = folder.join("leg.wattle");
    let texts = OpenTexts::from([(leg, OpenText { version: 1, text: "bad leg".into() })]);
    let mut analyst = Analyst::new(ENGINE);
    let outcome = analyst.work(&job(texts.clone()));
    assert_eq!(roots(&outcome), ["robot.wattle"]);
    assert_eq!(messages(&outcome, folder.join("robot.wattle").to_str().unwrap()), ["`bad root` is bad"]);
    fs::write(folder.join("robot.wattle"), "robot\nuse \"other.wattle\"\n").unwrap();
    let later = Job { surroundings: 1, ..job(texts) };
    assert_eq!(roots(&analyst.work(&later)), ["leg.wattle"]);
    let _ = analyst.work(&job(OpenTexts::new()));
    assert_eq!(analyst.remembered(), 0);
    fs::remove_dir_all(folder).unwrap();
}

#[test]
fn an_analysis_is_made_again_only_when_something_it_read_changed() {
    let mut analyst = Analyst::new(ENGINE);
    let text = |a: &str| open(&[("/r/a.wattle", a), ("/r/b.wattle", "robot\n")]);
    let first = analyst.work(&job(text("robot\n")));
    let second = analyst.work(&job(text("robot\nbad\n")));
    assert!(!Arc::ptr_eq(&first.analyses[0], &second.analyses[0]));
    assert!(Arc::ptr_eq(&first.analyses[1], &second.analyses[1]));
    let tomorrow = Some(Date { year: 2030, month: 1, day: 2 });
    let third = analyst.work(&Job { today: tomorrow, ..job(text("robot\nbad\n")) });
    assert!(!Arc::ptr_eq(&second.analyses[1], &third.analyses[1]));
}

#[test]
fn a_panic_costs_a_message_and_nothing_else() {
    let mut analyst = Analyst::new(ENGINE);
    let texts = open(&[("/r/a.wattle", "robot\nburst\n"), ("/r/b.wattle", "robot\nbad\n")]);
    let outcome = analyst.work(&job(texts));
    assert_eq!(outcome.failures, ["the analysis of `/r/a.wattle` failed: burst on purpose"]);
    assert_eq!(outcome.findings[Path::new("/r/a.wattle")].diagnostics[0].code, "internal.analysis-failed");
    assert_eq!(messages(&outcome, "/r/b.wattle"), ["`bad` is bad"]);
    let outcome = analyst.work(&job(open(&[("/r/a.wattle", "robot\nbad\n")])));
    assert_eq!((outcome.failures.len(), messages(&outcome, "/r/a.wattle").len()), (0, 1));
}

#[test]
fn a_settings_file_that_is_open_counts_and_its_mistakes_stand_in_it() {
    let robot = "wattle 1\nrobot \"Hut\" { ambient 30 degC }\n";
    let settings = |text: &str| open(&[("/none/a/robot.wattle", robot), ("/none/wattle.toml", text)]);
    let word = |outcome: &Outcome| outcome.analyses[0].robot.as_ref().map(|robot| robot.profile.word);
    let mut analyst = Analyst::new(crate::engine::LINTER);
    let first = analyst.work(&job(settings("profile = \"aircraft\"\n")));
    assert_eq!((roots(&first), word(&first)), (vec!["robot.wattle".to_owned()], Some("aircraft")));
    let second = analyst.work(&job(settings("profile = \"still-air\"\n")));
    assert_eq!(word(&second), Some("still-air"));
    let third = analyst.work(&job(settings("profil = \"boat\"\n")));
    assert_eq!(
        messages(&third, "/none/wattle.toml"),
        ["`profil` is no key of the settings file\nhelp: write `profile`"]
    );
    let nearer = open(&[
        ("/none/a/robot.wattle", robot),
        ("/none/wattle.toml", "profil = \"boat\"\n"),
        ("/none/a/wattle.toml", ""),
    ]);
    let fourth = analyst.work(&job(nearer));
    assert_eq!((word(&fourth), messages(&fourth, "/none/wattle.toml").len()), (Some("boat"), 0));
    let alone = analyst.work(&job(open(&[("/none/wattle.toml", "profil = 3\n")])));
    assert_eq!(alone.analyses.len(), 0);
}
