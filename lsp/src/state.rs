//! What the server knows: the open documents, the workspace folders, the newest analysis, what was published. One
//! owner changes it, event by event; nothing here waits, reads files or speaks the protocol.

use std::{
    collections::{BTreeMap, BTreeSet},
    path::PathBuf,
    sync::Arc,
};

use crate::{
    abilities::Abilities,
    analyst::{Job, Outcome},
    document::{Change, Document},
    feature::diagnostics::Findings,
    library::{OpenText, OpenTexts},
    snapshot::Snapshot,
    stock_copy,
    today::today,
};

/// Something that changes what the server knows.
#[derive(Clone, Debug)]
pub enum Event {
    /// The client said what it can take, and which folders it works in.
    Started(Abilities, Vec<PathBuf>),
    /// The client is ready to be spoken to.
    Ready,
    /// A document was opened: its path, the client's URI for it, its version, its text.
    Opened(PathBuf, String, i32, String),
    /// A document was edited: its path, its new version, the changes in order.
    Changed(PathBuf, i32, Vec<Change>),
    /// A document was closed.
    Closed(PathBuf),
    /// A document was saved.
    Saved,
    /// Files on the disk came, went or changed.
    DiskChanged,
    /// Workspace folders came and went.
    Folders(Vec<PathBuf>, Vec<PathBuf>),
}

/// Something for the client.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Outgoing {
    /// All there is to say about one file.
    Publish(Publication),
    /// It should ask for diagnostics again.
    Refresh,
    /// It should watch the files of the language.
    Watch,
    /// Something for its log.
    Log(String),
}

/// All there is to say about one file, replacing what was said before.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Publication {
    /// The file.
    pub path: PathBuf,
    /// The client's own URI for it, when it is open.
    pub uri: Option<String>,
    /// Every file's findings, for the texts that related places lie in.
    pub findings: Arc<Findings>,
    /// What the client can take.
    pub abilities: Arc<Abilities>,
}

/// The state.
#[derive(Debug, Default)]
pub struct State {
    abilities: Arc<Abilities>,
    folders: Vec<PathBuf>,
    documents: BTreeMap<PathBuf, Document>,
    revision: u64,
    surroundings: u64,
    outcome: Outcome,
    published: Findings,
}

impl State {
    /// Takes in an event. What comes back is for the client.
    pub fn apply(&mut self, event: Event) -> Vec<Outgoing> {
        self.revision += 1;
        match event {
            Event::Started(abilities, folders) => {
                self.abilities = Arc::new(abilities);
                self.folders = folders;
            }
            Event::Ready if self.abilities.watches => return vec![Outgoing::Watch],
            Event::Ready => {}
            Event::Saved => self.surroundings += 1,
            Event::Changed(path, version, changes) => return self.change(path, version, &changes),
            Event::Opened(path, uri, version, text) => self.open(path, uri, version, &text),
            Event::Closed(path) => self.close(&path),
            Event::DiskChanged => return self.look_again(),
            Event::Folders(added, removed) => {
                self.folders.retain(|folder| !removed.contains(folder));
                self.folders.extend(added);
                return self.look_again();
            }
        }
        Vec::new()
    }

    /// The number of the state; it goes up with every event.
    #[must_use]
    pub const fn revision(&self) -> u64 {
        self.revision
    }

    /// Whether the newest analysis is of this very state.
    #[must_use]
    pub const fn is_analysed(&self) -> bool {
        self.outcome.revision == self.revision
    }

    /// What there is to analyse.
    #[must_use]
    pub fn job(&self) -> Job {
        let open_text = |document: &Document| OpenText { version: document.version(), text: document.text() };
        let all = self.documents.iter().map(|(path, document)| (path.clone(), open_text(document)));
        // A copy of the stock is to be read, not judged.
        let open: OpenTexts = all.filter(|(path, open)| !stock_copy::is_copy(path, &open.text)).collect();
        Job {
            revision: self.revision,
            open,
            folders: self.folders.clone(),
            surroundings: self.surroundings,
            today: today(),
        }
    }

    /// Takes in an analysis. One of an earlier state only leaves its complaints in the log: a newer one is on its way,
    /// and nothing stale is ever published.
    pub fn accept(&mut self, outcome: Outcome) -> Vec<Outgoing> {
        let mut outgoing: Vec<_> = outcome.failures.iter().cloned().map(Outgoing::Log).collect();
        if outcome.revision == self.revision {
            self.outcome = outcome;
            outgoing.extend(self.publish());
        }
        outgoing
    }

    /// One document as it stands, with what is known about this very state.
    #[must_use]
    pub fn snapshot(&self, path: &PathBuf) -> Option<Snapshot> {
        let document = self.documents.get(path)?;
        let snapshot =
            Snapshot::new(path.clone(), document.version(), document.text(), Arc::clone(&self.abilities));
        if !self.is_analysed() {
            return Some(snapshot);
        }
        Some(snapshot.with(&self.outcome.analyses, &self.outcome.findings))
    }

    /// How many entries there are in all that grows with open documents.
    #[must_use]
    pub fn entries(&self) -> usize {
        self.documents.len()
            + self.published.len()
            + self.outcome.analyses.len()
            + self.outcome.findings.len()
    }

    fn open(&mut self, path: PathBuf, uri: String, version: i32, text: &str) {
        self.surroundings += 1;
        // A client that is pushed to must hear of the document even when there is nothing to say; one that pulls must
        // have taken back what was pushed before.
        if !self.abilities.pulls {
            self.published.remove(&path);
        }
        self.documents.insert(path, Document::new(uri, version, text));
    }

    fn change(&mut self, path: PathBuf, version: i32, changes: &[Change]) -> Vec<Outgoing> {
        let Some(document) = self.documents.get_mut(&path) else {
            return vec![Outgoing::Log(format!("an edit of `{}`, which is not open", path.display()))];
        };
        match document.apply(version, changes, self.abilities.encoding) {
            Ok(()) => Vec::new(),
            Err(why) => vec![Outgoing::Log(format!("an edit of `{}` was left out: {why}", path.display()))],
        }
    }

    fn close(&mut self, path: &PathBuf) {
        self.surroundings += 1;
        self.documents.remove(path);
    }

    fn look_again(&mut self) -> Vec<Outgoing> {
        self.surroundings += 1;
        if self.abilities.pulls && self.abilities.refreshes { vec![Outgoing::Refresh] } else { Vec::new() }
    }

    /// What the newest analysis changes in what the client was told.
    fn publish(&mut self) -> Vec<Outgoing> {
        let findings = Arc::clone(&self.outcome.findings);
        let told: BTreeSet<PathBuf> = self.published.keys().chain(findings.keys()).cloned().collect();
        told.into_iter().filter_map(|path| self.publish_file(path, &findings)).collect()
    }

    fn publish_file(&mut self, path: PathBuf, findings: &Arc<Findings>) -> Option<Outgoing> {
        let document = self.documents.get(&path);
        let pulled = self.abilities.pulls && document.is_some();
        let now = findings.get(&path).filter(|_| !pulled);
        let before = self.published.get(&path);
        let due = match (before, now) {
            (Some(before), Some(now)) => before != now,
            (Some(before), None) => !before.diagnostics.is_empty(),
            (None, Some(now)) => document.is_some() || !now.diagnostics.is_empty(),
            (None, None) => false,
        };
        let _ = match now {
            Some(now) if due => self.published.insert(path.clone(), Arc::clone(now)),
            Some(_) => None,
            None => self.published.remove(&path),
        };
        due.then(|| {
            Outgoing::Publish(Publication {
                uri: document.map(|document| document.uri().to_owned()),
                path,
                findings: if pulled { Arc::default() } else { Arc::clone(findings) },
                abilities: Arc::clone(&self.abilities),
            })
        })
    }
}

#[cfg(test)]
mod tests;
