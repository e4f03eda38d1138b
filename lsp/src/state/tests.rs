//! What is published when, and that nothing is kept of what was closed.

use std::path::Path;

use super::*;
use crate::{analyst::Analyst, testing::ENGINE};

/// The state and an analyst at its side.
struct Bench {
    state: State,
    analyst: Analyst,
}

impl Bench {
    fn new(pulls: bool) -> Self {
        let mut bench = Self { state: State::default(), analyst: Analyst::new(ENGINE) };
        let abilities = Abilities { pulls, refreshes: pulls, watches: true, ..Abilities::default() };
        assert_eq!(bench.state.apply(Event::Started(abilities, Vec::new())), []);
        assert_eq!(bench.state.apply(Event::Ready), [Outgoing::Watch]);
        bench
    }

    fn open(&mut self, path: &str, text: &str) {
        let uri = format!("file://{path}");
        assert_eq!(self.state.apply(Event::Opened(PathBuf::from(path), uri, 1, text.to_owned())), []);
    }

    fn rewrite(&mut self, path: &str, version: i32, text: &str) {
        let change = Change { range: None, text: text.to_owned() };
        assert_eq!(self.state.apply(Event::Changed(PathBuf::from(path), version, vec![change])), []);
    }

    fn close(&mut self, path: &str) {
        assert_eq!(self.state.apply(Event::Closed(PathBuf::from(path))), []);
    }

    /// Analyses and gives for each publication the path, the version and the number of findings.
    fn published(&mut self) -> Vec<(String, Option<i32>, usize)> {
        let outcome = self.analyst.work(&self.state.job());
        self.state.accept(outcome).into_iter().map(told).collect()
    }
}

fn told(outgoing: Outgoing) -> (String, Option<i32>, usize) {
    let Outgoing::Publish(publication) = outgoing else { panic!("{outgoing:?}") };
    let file = publication.findings.get(&publication.path);
    let version = file.and_then(|file| file.version);
    let count = file.map_or(0, |file| file.diagnostics.len());
    (publication.path.to_string_lossy().into_owned(), version, count)
}

fn row(path: &str, version: Option<i32>, count: usize) -> (String, Option<i32>, usize) {
    (path.to_owned(), version, count)
}

#[test]
fn a_document_is_told_at_once_and_then_only_what_changed() {
    let mut bench = Bench::new(false);
    bench.open("/r/a.wattle", "robot\n");
    bench.open("/r/b.wattle", "robot\nbad\n");
    assert_eq!(bench.published(), [row("/r/a.wattle", Some(1), 0), row("/r/b.wattle", Some(1), 1)]);
    bench.rewrite("/r/a.wattle", 2, "robot\nbad\nbad\n");
    assert_eq!(bench.published(), [row("/r/a.wattle", Some(2), 2)]);
    bench.close("/r/b.wattle");
    assert_eq!(bench.published(), [row("/r/b.wattle", None, 0)]);
}

#[test]
fn what_is_stale_is_never_published() {
    let mut bench = Bench::new(false);
    bench.open("/r/a.wattle", "robot\nbad\n");
    let stale = bench.analyst.work(&bench.state.job());
    bench.rewrite("/r/a.wattle", 2, "robot\n");
    assert_eq!(bench.state.accept(stale), []);
    assert!(!bench.state.is_analysed());
    assert_eq!(bench.published(), [row("/r/a.wattle", Some(2), 0)]);
    assert!(bench.state.is_analysed());
}

#[test]
fn a_result_for_a_closed_and_reopened_document_is_stale() {
    let mut bench = Bench::new(false);
    bench.open("/r/a.wattle", "robot\nbad\n");
    let stale = bench.analyst.work(&bench.state.job());
    bench.close("/r/a.wattle");
    bench.open("/r/a.wattle", "robot\n");
    assert_eq!(bench.state.accept(stale), []);
    assert_eq!(bench.published(), [row("/r/a.wattle", Some(1), 0)]);
}

#[test]
fn a_client_that_pulls_is_told_about_closed_files_only() {
    let mut bench = Bench::new(true);
    let folder = std::env::temp_dir().join(format!("wattle-state-{}", std::process::id()));
    std::fs::create_dir_all(&folder).unwrap();
    std::fs::write(folder.join("leg.wattle"), "bad leg\n").unwrap();
    let (root, leg) = (folder.join("robot.wattle"), folder.join("leg.wattle"));
    let (root, leg) = (root.to_str().unwrap(), leg.to_str().unwrap());
    bench.open(root, "robot\nuse \"leg.wattle\"\nbad root\n");
    assert_eq!(bench.published(), [row(leg, None, 1)]);
    bench.open(leg, "bad leg\n");
    assert_eq!(bench.published(), [row(leg, None, 0)], "it will pull this now");
    assert_eq!(
        bench.state.snapshot(&PathBuf::from(leg)).unwrap().findings[Path::new(leg)].diagnostics.len(),
        1
    );
    assert_eq!(bench.state.apply(Event::DiskChanged), [Outgoing::Refresh]);
    std::fs::remove_dir_all(folder).unwrap();
}

#[test]
fn an_edit_that_does_not_fit_is_left_out_and_logged() {
    let mut bench = Bench::new(false);
    bench.open("/r/a.wattle", "robot\n");
    let place = |column| wattle_grammar::line_index::LineColumn { line: 0, column };
    let reversed = Change { range: Some((place(2), place(1))), text: String::new() };
    let logged = bench.state.apply(Event::Changed(PathBuf::from("/r/a.wattle"), 2, vec![reversed]));
    assert!(matches!(logged.as_slice(), [Outgoing::Log(_)]));
    assert_eq!(bench.published(), [row("/r/a.wattle", Some(1), 0)]);
    let logged = bench.state.apply(Event::Changed(PathBuf::from("/r/none.wattle"), 2, Vec::new()));
    assert!(matches!(logged.as_slice(), [Outgoing::Log(_)]));
}

#[test]
fn nothing_is_kept_of_five_hundred_closed_documents() {
    let mut bench = Bench::new(false);
    let path = |at: usize| format!("/none/{at}.wattle");
    for at in 0..500 {
        bench.open(&path(at), "robot\nbad\n");
        if at % 50 == 0 {
            assert_eq!(bench.published().len(), if at == 0 { 1 } else { 50 });
        }
    }
    assert!(bench.state.entries() > 500);
    for at in 0..500 {
        bench.close(&path(at));
    }
    assert_eq!(bench.published().len(), 451, "the findings of each are cleared");
    assert_eq!((bench.state.entries(), bench.analyst.remembered()), (0, 0));
}
