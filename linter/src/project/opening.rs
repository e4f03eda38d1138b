//! The walk over a project's files, breadth first from the root.

use std::{
    collections::{BTreeMap, VecDeque},
    path::{Path, PathBuf},
    sync::Arc,
};

use wattle_grammar::{
    Parse,
    error::{TextError, quoted},
    line_index::LineIndex,
    parse,
    span::{FileId, Span},
    syntax::{Item, Use},
};

use super::{
    FILE_CYCLE, Loader, MAX_FILE_BYTES, MAX_FILES, Project, SourceFile, encoding,
    route::{follow, tidy_path},
};
use crate::{
    complaint::{around, chain},
    order::order,
    settings,
};

pub(super) fn open(
    root: &Path,
    folder: Option<&Path>,
    loader: &dyn Loader,
    previous: Option<&Project>,
) -> Project {
    let (folder, root) = split(root, folder);
    let mut opening = Opening {
        loader,
        folder,
        previous,
        project: Project::default(),
        inside: Vec::new(),
        known: BTreeMap::new(),
        edges: Vec::new(),
        waiting: VecDeque::new(),
        full: false,
    };
    opening.root(root);
    while let Some(file) = opening.waiting.pop_front() {
        opening.follow_uses(file);
    }
    opening.tell_cycles();
    opening.settings();
    opening.project.errors.sort_by(|a, b| (a.span, a.name).cmp(&(b.span, b.name)));
    opening.project
}

/// The project's folder, and the root below it.
fn split(root: &Path, folder: Option<&Path>) -> (PathBuf, PathBuf) {
    let root = tidy_path(root);
    let given = folder.map(tidy_path);
    let folder = given
        .filter(|folder| root.starts_with(folder))
        .or_else(|| root.parent().map(Path::to_path_buf))
        .unwrap_or_default();
    let inside = root.strip_prefix(&folder).map(Path::to_path_buf).unwrap_or_else(|_| root.clone());
    (folder, inside)
}

/// What a file holds.
enum Content {
    /// Its text.
    Read(String),
    /// A text that is shown in the report and not read.
    Shown(String),
}

/// Why a file is not read.
pub(super) struct Refused {
    pub(super) error: TextError,
    /// Of a file whose bytes are no text, the lines up to the bad byte.
    pub(super) shown: Option<String>,
}

struct Opening<'a> {
    loader: &'a dyn Loader,
    folder: PathBuf,
    previous: Option<&'a Project>,
    project: Project,
    /// The path of each file below the folder.
    inside: Vec<PathBuf>,
    /// The file at each path below the folder; nothing where it cannot be read, which has been told.
    known: BTreeMap<PathBuf, Option<usize>>,
    /// For each file, the files it uses and where it says so.
    edges: Vec<Vec<(usize, Span)>>,
    waiting: VecDeque<usize>,
    /// Whether the number of files has been told to be too large.
    full: bool,
}

impl Opening<'_> {
    fn root(&mut self, root: PathBuf) {
        let at = Span::file_start(FileId(0));
        let known = match self.read(&root, at) {
            Ok(text) => self.add(root.clone(), Content::Read(text)),
            Err(refused) => {
                self.project.errors.push(refused.error);
                self.add(root.clone(), Content::Shown(refused.shown.unwrap_or_default()))
            }
        };
        self.known.insert(root, Some(known));
    }

    fn follow_uses(&mut self, file: usize) {
        let Some(parse) = self.project.files.get(file).map(|file| Arc::clone(&file.parse)) else { return };
        for item in &parse.file.items {
            if let Item::Use(found) = item {
                self.follow_use(file, found);
            }
        }
    }

    fn follow_use(&mut self, file: usize, found: &Use) {
        let from = self.inside.get(file).cloned().unwrap_or_default();
        let inside = match follow(&from, &found.path.text) {
            Ok(inside) => inside,
            Err(refusal) => return self.project.errors.push(refusal.error(&found.path)),
        };
        let target = match self.known.get(&inside) {
            Some(target) => *target,
            None => self.load_used(inside, found),
        };
        if let (Some(target), Some(edges)) = (target, self.edges.get_mut(file)) {
            edges.push((target, found.path.span));
        }
    }

    fn load_used(&mut self, inside: PathBuf, found: &Use) -> Option<usize> {
        if self.project.files.len() >= MAX_FILES {
            self.tell_full(found);
            return None;
        }
        let target = match self.read(&inside, found.path.span) {
            Ok(text) => Some(self.add(inside.clone(), Content::Read(text))),
            Err(refused) => {
                self.project.errors.push(refused.error);
                // Bad bytes have their place in the file itself, so the file must exist for the report.
                refused.shown.map(|shown| self.add(inside.clone(), Content::Shown(shown)))
            }
        };
        self.known.insert(inside, target);
        target
    }

    /// Reads the settings file nearest to the root.
    fn settings(&mut self) {
        let folder = self.project.files.first().and_then(|root| root.path.parent()).map(Path::to_path_buf);
        let Some((path, found)) = folder.and_then(|folder| self.loader.settings(&folder)) else { return };
        let id = next_id(self.project.files.len());
        let (text, read) = settings::read(found, id);
        self.project.files.push(shown_file(id, path, text));
        self.project.settings = Some(read);
    }

    fn tell_full(&mut self, found: &Use) {
        if !self.full {
            let message = format!(
                "{} is one file too many: a project has at most {MAX_FILES}",
                quoted(&found.path.text)
            );
            let label = "not read, nor is any further file";
            let error = TextError::new("language.too-many-files", found.path.span, message, label);
            self.project.errors.push(error.help("put several lists of parts into one file"));
        }
        self.full = true;
    }

    fn add(&mut self, inside: PathBuf, content: Content) -> usize {
        let at = self.project.files.len();
        let id = next_id(at);
        let path = self.folder.join(&inside);
        let file = match content {
            Content::Read(text) => self.reused(id, &path, &text).unwrap_or_else(|| read_file(id, path, text)),
            Content::Shown(text) => shown_file(id, path, text),
        };
        self.project.files.push(file);
        self.inside.push(inside);
        self.edges.push(Vec::new());
        self.waiting.push_back(at);
        at
    }

    fn reused(&self, id: FileId, path: &Path, text: &str) -> Option<SourceFile> {
        let file = self.previous?.file(id)?;
        // What was only shown has no tokens.
        let was_read = !file.parse.tokens.is_empty();
        (was_read && file.path == path && *file.text == *text).then(|| file.clone())
    }

    /// The text of a file. `named` is where an error stands, unless it is about a byte of the file.
    fn read(&self, inside: &Path, named: Span) -> Result<String, Box<Refused>> {
        let path = self.folder.join(inside);
        let shown = path.display();
        let refuse = |error: TextError| Box::new(Refused { error, shown: None });
        let bytes = self.loader.load(&path).map_err(|why| {
            let message = format!("cannot read `{shown}`: {why}");
            let error = TextError::new("language.missing-file", named, message, why);
            let used = !named.is_empty();
            refuse(if used { error.help("a path is relative to the file that uses it") } else { error })
        })?;
        if bytes.len() > MAX_FILE_BYTES {
            let size = bytes.len() >> 20;
            let limit = MAX_FILE_BYTES >> 20;
            let message = format!("`{shown}` has {size} MB, the limit is {limit} MB");
            return Err(refuse(TextError::new("language.too-large", named, message, "not read")));
        }
        String::from_utf8(bytes).map_err(|error| {
            let file = next_id(self.project.files.len());
            Box::new(encoding::refused(error.as_bytes(), error.utf8_error().valid_up_to(), file, named))
        })
    }

    fn tell_cycles(&mut self) {
        let plain: Vec<Vec<usize>> =
            self.edges.iter().map(|edges| edges.iter().map(|(target, _)| *target).collect()).collect();
        for cycle in order(&plain).cycles {
            let names: Vec<String> = cycle.iter().map(|file| self.shown(*file)).collect();
            let uses = cycle.iter().zip(cycle.iter().cycle().skip(1));
            let mut uses: Vec<Span> = uses.filter_map(|(file, used)| self.use_of(*file, *used)).collect();
            let Some(closing) = uses.pop() else { continue };
            let message = match names.as_slice() {
                [only] => format!("`{only}` uses itself"),
                _ => format!("files use each other in a circle: {}", chain(names.iter().map(String::as_str))),
            };
            let error = TextError::new(FILE_CYCLE, closing, message, "this closes the circle");
            let error = around(error, uses.into_iter()).help(if names.len() == 1 {
                "take this line out"
            } else {
                "take one of these lines out"
            });
            self.project.errors.push(error);
        }
    }

    /// Where a file uses another.
    fn use_of(&self, file: usize, used: usize) -> Option<Span> {
        self.edges.get(file)?.iter().find(|(target, _)| *target == used).map(|(_, span)| *span)
    }

    fn shown(&self, file: usize) -> String {
        self.inside.get(file).map(|path| path.display().to_string()).unwrap_or_default()
    }
}

fn next_id(at: usize) -> FileId {
    FileId(u32::try_from(at).unwrap_or(u32::MAX))
}

/// A file that is shown in a report and is no text of the language.
fn shown_file(id: FileId, path: PathBuf, text: String) -> SourceFile {
    let lines = Arc::new(LineIndex::new(&text));
    SourceFile { id, path, lines, text: text.into(), parse: Arc::new(Parse::default()) }
}

fn read_file(id: FileId, path: PathBuf, text: String) -> SourceFile {
    let parse = Arc::new(parse(id, &text));
    let lines = Arc::new(LineIndex::new(&text));
    SourceFile { id, path, text: text.into(), parse, lines }
}

#[cfg(test)]
mod tests;
