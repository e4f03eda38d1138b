//! The analyst: finds the robots that the open documents belong to and has each analysed, only when something it read
//! has changed. It works on its own thread, on a copy of the texts; a failing analysis costs a message, never the server.

use std::{
    any::Any,
    collections::{BTreeMap, BTreeSet},
    panic::{AssertUnwindSafe, catch_unwind},
    path::{Path, PathBuf},
    sync::Arc,
};

use wattle_grammar::syntax::Date;

use crate::{
    engine::{Analysed, Engine, Project, is_root, settings},
    feature::diagnostics::{self, Findings},
    library::{Library, OpenTexts, Read, unchanged},
    roots,
};

/// One request for an analysis of everything that is open.
#[derive(Clone, Debug, Default)]
pub struct Job {
    /// The state that it describes; a later state has a higher number.
    pub revision: u64,
    /// The open documents.
    pub open: OpenTexts,
    /// The workspace folders.
    pub folders: Vec<PathBuf>,
    /// Goes up whenever other files may have come, gone or changed.
    pub surroundings: u64,
    /// Today, for accepted risks that end.
    pub today: Option<Date>,
}

/// What came of a [`Job`].
#[derive(Clone, Debug, Default)]
pub struct Outcome {
    /// The job's revision.
    pub revision: u64,
    /// One analysis for each robot that an open document belongs to, and for each open document that belongs to none.
    pub analyses: Vec<Arc<Analysed>>,
    /// What there is to say about each file of these.
    pub findings: Arc<Findings>,
    /// Plain sentences on what went wrong in the analyst itself.
    pub failures: Vec<String>,
}

struct Kept {
    read: Read,
    today: Option<Date>,
    analysed: Arc<Analysed>,
}

/// Which files each root on the disk reads, as long as the surroundings stay.
#[derive(Default)]
struct Reach {
    surroundings: Option<u64>,
    roots: BTreeMap<PathBuf, BTreeSet<PathBuf>>,
}

/// The analyst and what it remembers between jobs.
pub struct Analyst {
    engine: Engine,
    kept: BTreeMap<PathBuf, Kept>,
    reach: Reach,
}

impl Analyst {
    /// An analyst that remembers nothing.
    #[must_use]
    pub fn new(engine: Engine) -> Self {
        Self { engine, kept: BTreeMap::new(), reach: Reach::default() }
    }

    /// Does a job. Never panics, whatever the engine does.
    #[must_use]
    pub fn work(&mut self, job: &Job) -> Outcome {
        let mut round = Round { analyst: self, job, used: BTreeMap::new(), failures: BTreeMap::new() };
        if let Err(panic) = catch_unwind(AssertUnwindSafe(|| round.run())) {
            round.fail(Path::new("the workspace"), &*panic);
        }
        let Round { used, failures, .. } = round;
        let analyses: Vec<_> = used.values().map(|kept| Arc::clone(&kept.analysed)).collect();
        self.kept = used;
        let mut findings = diagnostics::collect(&analyses, &job.open);
        for (root, sentence) in &failures {
            let open = job.open.get(root);
            findings.extend(open.map(|open| (root.clone(), Arc::new(diagnostics::failed(open, sentence)))));
        }
        let failures = failures.into_values().collect();
        Outcome { revision: job.revision, analyses, findings: Arc::new(findings), failures }
    }

    /// How many analyses are remembered.
    #[must_use]
    pub fn remembered(&self) -> usize {
        self.kept.len() + self.reach.roots.len()
    }
}

/// One job at work.
struct Round<'a> {
    analyst: &'a mut Analyst,
    job: &'a Job,
    used: BTreeMap<PathBuf, Kept>,
    /// What went wrong, by root.
    failures: BTreeMap<PathBuf, String>,
}

impl Round<'_> {
    fn run(&mut self) {
        let job = self.job;
        for (path, open) in &job.open {
            // Only a text with the word in it can be a root; the tree then tells for sure.
            if open.text.contains("robot") {
                self.analyse(path, is_root);
            }
        }
        let orphans = self.orphans();
        if !orphans.is_empty() {
            self.look_around(&orphans);
        } else if job.open.is_empty() {
            self.analyst.reach = Reach::default();
        }
        // A settings file that no robot reads says nothing of any.
        let is_settings = |path: &PathBuf| path.file_name().is_some_and(|name| name == settings::FILE_NAME);
        for path in self.orphans().into_iter().filter(|path| !is_settings(path)) {
            self.analyse(&path, |_| true);
        }
    }

    /// The open documents that no analysis has read or failed on.
    fn orphans(&self) -> Vec<PathBuf> {
        let read: BTreeSet<&PathBuf> =
            self.used.values().flat_map(|kept| kept.read.iter().map(|(path, _)| path)).collect();
        let is_orphan = |path: &&PathBuf| !read.contains(path) && !self.failures.contains_key(*path);
        self.job.open.keys().filter(is_orphan).cloned().collect()
    }

    /// Analyses the roots on the disk that read one of the documents.
    fn look_around(&mut self, orphans: &[PathBuf]) {
        self.survey(orphans);
        let reach = &self.analyst.reach.roots;
        let reads_one = |read: &BTreeSet<PathBuf>| orphans.iter().any(|orphan| read.contains(orphan));
        let roots: Vec<_> =
            reach.iter().filter(|(_, read)| reads_one(read)).map(|(root, _)| root.clone()).collect();
        for root in roots {
            self.analyse(&root, is_root);
        }
    }

    /// Finds out which files the roots on the disk read, once for each state of the surroundings.
    fn survey(&mut self, orphans: &[PathBuf]) {
        if self.analyst.reach.surroundings == Some(self.job.surroundings) {
            return;
        }
        let found = orphans.iter().flat_map(|orphan| roots::candidates(orphan, &self.job.folders));
        let found: BTreeSet<_> = found.filter(|path| !self.job.open.contains_key(path)).collect();
        let roots =
            found.into_iter().filter_map(|root| self.reached(&root).map(|read| (root, read))).collect();
        self.analyst.reach = Reach { surroundings: Some(self.job.surroundings), roots };
    }

    /// The files that a root on the disk reads; `None` when it is no root.
    fn reached(&self, root: &Path) -> Option<BTreeSet<PathBuf>> {
        let library = Library::new(&self.job.open, root);
        let project = (self.analyst.engine.open)(root, &library, None);
        is_root(&project).then(|| library.into_read().into_iter().map(|(path, _)| path).collect())
    }

    /// Analyses the robot of a root file, or takes what is remembered; files that `wanted` refuses are left alone.
    fn analyse(&mut self, root: &Path, wanted: fn(&Project) -> bool) {
        let job = self.job;
        let before = self.analyst.kept.get(root);
        if before.is_some_and(|kept| kept.today == job.today && unchanged(&kept.read, &job.open)) {
            return self.take(root, wanted);
        }
        let (engine, before) = (self.analyst.engine, before.map(|kept| Arc::clone(&kept.analysed)));
        let made = catch_unwind(AssertUnwindSafe(|| {
            let library = Library::new(&job.open, root);
            let project = (engine.open)(root, &library, before.as_deref().map(|analysed| &analysed.project));
            wanted(&project).then(|| (library.into_read(), (engine.analyse)(project, job.today)))
        }));
        match made {
            Ok(Some((read, analysed))) => {
                let kept = Kept { read, today: job.today, analysed: Arc::new(analysed) };
                self.used.insert(root.to_path_buf(), kept);
            }
            Ok(None) => {}
            Err(panic) => self.fail(root, &*panic),
        }
    }

    /// Takes what is remembered of a root.
    fn take(&mut self, root: &Path, wanted: fn(&Project) -> bool) {
        if let Some(kept) = self.analyst.kept.remove(root) {
            let kept_on =
                if wanted(&kept.analysed.project) { &mut self.used } else { &mut self.analyst.kept };
            kept_on.insert(root.to_path_buf(), kept);
        }
    }

    fn fail(&mut self, root: &Path, panic: &(dyn Any + Send)) {
        let sentence = format!("the analysis of `{}` failed: {}", root.display(), panic_text(panic));
        self.failures.insert(root.to_path_buf(), sentence);
    }
}

/// What a panic said.
#[must_use]
pub fn panic_text(panic: &(dyn Any + Send)) -> &str {
    let text = panic.downcast_ref::<&str>().copied();
    text.or_else(|| panic.downcast_ref::<String>().map(String::as_str)).unwrap_or("no reason given")
}

#[cfg(test)]
mod tests;
