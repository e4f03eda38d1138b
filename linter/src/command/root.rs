//! From the paths on the command line to the robots that are checked.

use std::{
    borrow::Cow,
    collections::BTreeSet,
    fs::canonicalize,
    io::{self, Read},
    path::{Path, PathBuf},
    sync::Mutex,
};

use wattle_grammar::syntax::Date;
use wattle_linter::{
    analysis::{self, Analysis},
    files::{DiskLoader, wattle_files},
    finding::Verdict,
    fragment,
    project::{self, Loader, MAX_FILE_BYTES, Project},
    report::Report,
    settings,
};

/// One checked root: its files and what was found. A folder in which nothing could be checked has no files.
pub(super) struct Checked {
    root: String,
    project: Project,
    verdict: Verdict,
}

impl Checked {
    /// The report on it.
    pub(super) fn report(&self) -> Report<'_> {
        Report::new(&self.root, &self.project, &self.verdict)
    }

    fn new(found: Found, today: Option<Date>) -> Self {
        let root = found.root.clone();
        match found.judge(today) {
            Judged::Robot(analysis) => Self { root, project: analysis.project, verdict: analysis.verdict },
            Judged::Other(project, verdict) => Self { root, project: *project, verdict },
        }
    }
}

/// A root that a path leads to: a file with all that it uses, or a folder of which only something is to be told.
pub(super) struct Found {
    /// Its path as the user would write it.
    pub(super) root: String,
    project: Project,
    trouble: Option<String>,
}

/// What is known of a root.
pub(super) enum Judged {
    /// A robot.
    Robot(Box<Analysis>),
    /// Something else, with what is to be told of it.
    Other(Box<Project>, Verdict),
}

impl Found {
    fn file(project: Project) -> Self {
        let first = project.files.first();
        let root = first.map_or(Cow::Borrowed(""), |file| file.path.to_string_lossy()).into_owned();
        Self { root, project, trouble: None }
    }

    /// A folder of which something is to be told; nothing in it counts as checked.
    fn folder(folder: &Path, why: String) -> Self {
        Self { root: folder.display().to_string(), project: Project::default(), trouble: Some(why) }
    }

    /// Analyses it.
    pub(super) fn judge(self, today: Option<Date>) -> Judged {
        if let Some(why) = self.trouble {
            let verdict = Verdict { incomplete: vec![why], ..Verdict::default() };
            return Judged::Other(Box::new(self.project), verdict);
        }
        if self.project.files.first().is_some_and(fragment::is_robot) {
            return Judged::Robot(Box::new(analysis::analyse(self.project, today)));
        }
        let verdict = fragment::judge(&self.project);
        Judged::Other(Box::new(self.project), verdict)
    }
}

/// Why the paths cannot be taken as they are, for every verb that reads them.
pub(super) fn wrong_use(paths: &[PathBuf], under: Option<&Path>) -> Option<&'static str> {
    let inputs = paths.iter().filter(|path| *path == Path::new("-")).count();
    if inputs > 1 {
        return Some("standard input, `-`, can be read once only");
    }
    let lost = under.is_some() && inputs == 0;
    lost.then_some("`--under` names standard input, so `-` must be among the paths")
}

/// Checks every root that the paths lead to, in the order of their names, each once. `under` names standard input.
pub(super) fn check(paths: &[PathBuf], under: Option<&Path>, today: Option<Date>) -> Vec<Checked> {
    find(paths, under).into_iter().map(|found| Checked::new(found, today)).collect()
}

/// Every root that the paths lead to, in the order of their names, each once. `under` names standard input.
pub(super) fn find(paths: &[PathBuf], under: Option<&Path>) -> Vec<Found> {
    let mut named = Vec::new();
    let mut met = BTreeSet::new();
    let mut roots = Vec::new();
    for path in paths {
        if path == Path::new("-") {
            roots.push(Found::file(standard_input(under.unwrap_or(path))));
        } else if !path.is_dir() {
            named.push(path.clone());
        }
    }
    for path in named {
        if met.insert(identity(&path)) {
            roots.push(Found::file(open(&path)));
        }
    }
    for folder in paths.iter().filter(|path| path.is_dir()) {
        below(folder, &mut met, &mut roots);
    }
    roots.sort_by(|a, b| a.root.cmp(&b.root));
    roots
}

/// Leaves out errors that were told of an earlier robot already: a file that several robots use has its errors once.
/// The later robot still says that it is not analysed completely, and why.
pub(super) fn tell_errors_once(checked: &mut [Checked]) {
    let mut told = BTreeSet::new();
    for one in checked {
        let project = &one.project;
        let before = one.verdict.errors.len();
        one.verdict.errors.retain(|error| {
            let path = project.file(error.span.file).map(|file| identity(&file.path));
            told.insert((path, error.span.start, error.span.end, error.name, error.message.clone()))
        });
        let repeated = before - one.verdict.errors.len();
        if repeated > 0 {
            let errors = if repeated == 1 { "error" } else { "errors" };
            one.verdict
                .incomplete
                .push(format!("{repeated} {errors} of files that a robot above uses as well: told there"));
        }
    }
}

/// The robots below a folder, and the files there that no robot uses.
fn below(folder: &Path, met: &mut BTreeSet<PathBuf>, roots: &mut Vec<Found>) {
    let found = wattle_files(folder);
    for (unreadable, why) in &found.unreadable {
        roots.push(Found::folder(unreadable, format!("the folder cannot be read: {why}")));
    }
    if found.files.is_empty() && found.unreadable.is_empty() {
        roots.push(Found::folder(folder, "there is no `.wattle` file below this folder".to_owned()));
    }
    let fresh = found.files.iter().filter(|path| met.insert(identity(path)));
    let (robots, others): (Vec<_>, Vec<_>) = fresh
        .map(|path| open(path))
        .partition(|project| project.files.first().is_some_and(fragment::is_robot));
    let used: BTreeSet<PathBuf> =
        robots.iter().flat_map(|project| &project.files).map(|file| identity(&file.path)).collect();
    let unused =
        others.into_iter().filter(|project| !first_of(project).is_some_and(|path| used.contains(&path)));
    roots.extend(robots.into_iter().chain(unused).map(Found::file));
}

fn first_of(project: &Project) -> Option<PathBuf> {
    project.files.first().map(|file| identity(&file.path))
}

/// One name for one file, however it was reached.
fn identity(path: &Path) -> PathBuf {
    canonicalize(path).unwrap_or_else(|_| path.to_path_buf())
}

fn open(path: &Path) -> Project {
    project::open(path, &DiskLoader::within(path.parent().unwrap_or(Path::new(""))))
}

/// The text on standard input as the file `name`; what it uses is read from the disk.
fn standard_input(name: &Path) -> Project {
    let disk = DiskLoader::within(name.parent().unwrap_or(Path::new("")));
    project::open(name, &Given { text: Mutex::new(Some(read_standard_input())), disk })
}

fn read_standard_input() -> Result<Vec<u8>, String> {
    let mut bytes = Vec::new();
    let limit = u64::try_from(MAX_FILE_BYTES).unwrap_or(u64::MAX).saturating_add(1);
    io::stdin().lock().take(limit).read_to_end(&mut bytes).map_err(|error| error.to_string())?;
    Ok(bytes)
}

/// A project reads its root first: that is the given text, whatever is on the disk under its name.
struct Given {
    text: Mutex<Option<Result<Vec<u8>, String>>>,
    disk: DiskLoader,
}

impl Loader for Given {
    fn load(&self, path: &Path) -> Result<Vec<u8>, String> {
        let given = self.text.lock().map_or(None, |mut text| text.take());
        given.unwrap_or_else(|| self.disk.load(path))
    }

    fn settings(&self, folder: &Path) -> Option<settings::Found> {
        self.disk.settings(folder)
    }
}

#[cfg(test)]
mod tests {
    use wattle_grammar::{error::TextError, span::Span};

    use super::*;

    struct Nothing;

    impl Loader for Nothing {
        fn load(&self, _: &Path) -> Result<Vec<u8>, String> {
            Ok(b"wattle 1".to_vec())
        }
    }

    fn checked(root: &str, errors: &[&str]) -> Checked {
        let error = |message: &&str| TextError {
            name: "language.unknown-unit",
            span: Span::default(),
            message: (*message).to_owned(),
            label: String::new(),
            help: None,
            related: vec![],
            mend: None,
        };
        let verdict = Verdict { errors: errors.iter().map(error).collect(), ..Verdict::default() };
        Checked {
            root: root.to_owned(),
            project: project::open(Path::new("shared.wattle"), &Nothing),
            verdict,
        }
    }

    #[test]
    fn errors_of_a_shared_file_are_told_once_and_both_robots_stay_incomplete() {
        let mut all = [checked("a", &["x"]), checked("b", &["x", "y"]), checked("c", &["x", "y"])];
        tell_errors_once(&mut all);
        let left: Vec<usize> = all.iter().map(|one| one.verdict.errors.len()).collect();
        assert_eq!(left, [1, 1, 0]);
        assert_eq!(
            all[1].verdict.incomplete,
            ["1 error of files that a robot above uses as well: told there"]
        );
        assert_eq!(
            all[2].verdict.incomplete,
            ["2 errors of files that a robot above uses as well: told there"]
        );
        assert!(all.iter().all(|one| !one.report().complete()));
    }
}
