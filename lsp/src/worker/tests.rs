//! The order of events, waiting for an analysis, and what a failure costs.

use std::path::Path;

use tokio::sync::mpsc::{UnboundedReceiver, unbounded_channel};
use wattle_grammar::line_index::LineColumn;

use super::*;
use crate::{document::Change, testing::ENGINE};

const PATH: &str = "/none/a.wattle";

fn opened(text: &str) -> (Worker, UnboundedReceiver<Outgoing>) {
    let (client, outbox) = unbounded_channel();
    let worker = Worker::start(ENGINE, client).unwrap();
    worker.tell(Event::Opened(PathBuf::from(PATH), "file:///none/a.wattle".to_owned(), 1, text.to_owned()));
    (worker, outbox)
}

fn insert_at_start(text: &str) -> Vec<Change> {
    let start = LineColumn::default();
    vec![Change { range: Some((start, start)), text: text.to_owned() }]
}

#[tokio::test]
async fn two_hundred_edits_are_applied_in_order_and_the_last_is_published_last() {
    let (worker, mut outbox) = opened("");
    for version in 2..=200 {
        worker.tell(Event::Changed(
            PathBuf::from(PATH),
            version,
            insert_at_start(&format!("bad {version}\n")),
        ));
    }
    let look = |snapshot: &Snapshot| {
        let found = snapshot.findings.get(&snapshot.path).map(|file| file.diagnostics.len());
        (snapshot.version, snapshot.text.to_string(), found)
    };
    let (version, text, found) = worker.ask(PathBuf::from(PATH), Need::Figures, look).await.unwrap();
    let expected: String = (2..=200).rev().map(|version| format!("bad {version}\n")).collect();
    assert_eq!((version, text, found), (200, expected, Some(199)));
    let mut versions = Vec::new();
    while let Ok(Outgoing::Publish(publication)) = outbox.try_recv() {
        versions.push(publication.findings[Path::new(PATH)].version.unwrap());
    }
    assert!(versions.is_sorted(), "{versions:?}");
    assert_eq!(versions.last(), Some(&200));
}

#[tokio::test]
async fn a_document_that_is_not_open_has_no_answer() {
    let (worker, _outbox) = opened("robot\n");
    worker.tell(Event::Closed(PathBuf::from(PATH)));
    for need in [Need::Text, Need::Figures] {
        assert_eq!(worker.ask(PathBuf::from(PATH), need, |_| ()).await, Err(Unanswered::NotOpen));
    }
}

#[tokio::test]
async fn a_failing_feature_and_a_failing_analysis_leave_the_server_alive() {
    let (worker, mut outbox) = opened("robot\nburst\n");
    let path = || PathBuf::from(PATH);
    let failing = |_: &Snapshot| -> () { panic!("on purpose") };
    assert_eq!(worker.ask(path(), Need::Text, failing).await, Err(Unanswered::Failed));
    let parts = |snapshot: &Snapshot| snapshot.parts.len();
    assert_eq!(worker.ask(path(), Need::Figures, parts).await, Ok(0));
    assert!(matches!(outbox.recv().await, Some(Outgoing::Log(_))));
    let all = Change { range: None, text: "robot\n".to_owned() };
    worker.tell(Event::Changed(path(), 2, vec![all]));
    assert_eq!(worker.ask(path(), Need::Figures, parts).await, Ok(1));
}
