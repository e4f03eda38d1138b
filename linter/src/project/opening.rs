//! The walk over a project's files, breadth first from the root.

use std::{
    collections::{BTreeMap, VecDeque},
    path::{Path, PathBuf},
    sync::Arc,
};

use wattle_grammar::{
    Parse,
    error::TextError,
    line_index::LineIndex,
    parse,
    span::{FileId, Span},
    syntax::{Item, Use},
};

use super::{
    FILE_CYCLE, Loader, MAX_FILE_BYTES, MAX_FILES, Project, SourceFile,
    route::{follow, tidy_path},
};
use crate::{complaint::chain, order::order};

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
            Ok(text) => self.add(root.clone(), Some(text)),
            Err(error) => {
                self.project.errors.push(*error);
                self.add(root.clone(), None)
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
            Err(refusal) => {
                let (end, label) = refusal.words();
                let message = format!("`{}` {end}", found.path.text);
                let name = "language.outside-project";
                return self.project.errors.push(TextError::new(name, found.path.span, message, label));
            }
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
            Ok(text) => Some(self.add(inside.clone(), Some(text))),
            Err(error) => {
                // Bad bytes have their place in the file itself, so the file must exist for the report.
                let in_itself = error.span.file != found.path.span.file;
                self.project.errors.push(*error);
                in_itself.then(|| self.add(inside.clone(), None))
            }
        };
        self.known.insert(inside, target);
        target
    }

    fn tell_full(&mut self, found: &Use) {
        if !self.full {
            let message =
                format!("`{}` is one file too many: a project has at most {MAX_FILES}", found.path.text);
            self.project.errors.push(TextError::new(
                "language.too-many-files",
                found.path.span,
                message,
                "not read, nor is any further file",
            ));
        }
        self.full = true;
    }

    fn add(&mut self, inside: PathBuf, text: Option<String>) -> usize {
        let at = self.project.files.len();
        let id = next_id(at);
        let path = self.folder.join(&inside);
        let file = match text {
            Some(text) => self.reused(id, &path, &text).unwrap_or_else(|| read_file(id, path, text)),
            None => SourceFile {
                id,
                path,
                text: "".into(),
                parse: Arc::new(Parse::default()),
                lines: Arc::new(LineIndex::new("")),
            },
        };
        self.project.files.push(file);
        self.inside.push(inside);
        self.edges.push(Vec::new());
        self.waiting.push_back(at);
        at
    }

    fn reused(&self, id: FileId, path: &Path, text: &str) -> Option<SourceFile> {
        let file = self.previous?.file(id)?;
        // An unreadable file has an empty text too, but no tokens and no errors: an empty file must be parsed.
        (file.path == path && *file.text == *text && !text.is_empty()).then(|| file.clone())
    }

    /// The text of a file. `named` is where an error stands, unless it is about a byte of the file.
    fn read(&self, inside: &Path, named: Span) -> Result<String, Box<TextError>> {
        let path = self.folder.join(inside);
        let shown = path.display();
        let bytes = self.loader.load(&path).map_err(|why| {
            Box::new(TextError::new(
                "language.missing-file",
                named,
                format!("cannot read `{shown}`: {why}"),
                why,
            ))
        })?;
        if bytes.len() > MAX_FILE_BYTES {
            let size = bytes.len() >> 20;
            let limit = MAX_FILE_BYTES >> 20;
            let message = format!("`{shown}` has {size} MB, the limit is {limit} MB");
            return Err(Box::new(TextError::new("language.too-large", named, message, "not read")));
        }
        String::from_utf8(bytes).map_err(|error| {
            let file = next_id(self.project.files.len());
            Box::new(not_utf8(error.as_bytes(), error.utf8_error().valid_up_to(), file, named))
        })
    }

    fn tell_cycles(&mut self) {
        let plain: Vec<Vec<usize>> =
            self.edges.iter().map(|edges| edges.iter().map(|(target, _)| *target).collect()).collect();
        for cycle in order(&plain).cycles {
            let names: Vec<String> = cycle.iter().map(|file| self.shown(*file)).collect();
            let Some(span) = self.closing_use(&cycle) else { continue };
            let message =
                format!("files use each other in a circle: {}", chain(names.iter().map(String::as_str)));
            self.project.errors.push(TextError::new(FILE_CYCLE, span, message, "this closes the circle"));
        }
    }

    fn closing_use(&self, cycle: &[usize]) -> Option<Span> {
        let (first, last) = cycle.first().zip(cycle.last())?;
        let edges = self.edges.get(*last)?;
        edges.iter().find(|(target, _)| target == first).map(|(_, span)| *span)
    }

    fn shown(&self, file: usize) -> String {
        self.inside.get(file).map(|path| path.display().to_string()).unwrap_or_default()
    }
}

fn next_id(at: usize) -> FileId {
    FileId(u32::try_from(at).unwrap_or(u32::MAX))
}

fn read_file(id: FileId, path: PathBuf, text: String) -> SourceFile {
    let parse = Arc::new(parse(id, &text));
    let lines = Arc::new(LineIndex::new(&text));
    SourceFile { id, path, text: text.into(), parse, lines }
}

fn not_utf8(bytes: &[u8], good: usize, file: FileId, named: Span) -> TextError {
    let at = u32::try_from(good).unwrap_or(u32::MAX);
    let lines = bytes.iter().take(good).filter(|byte| **byte == b'\n').count() + 1;
    let byte = bytes.get(good).copied().unwrap_or_default();
    let message = format!("byte {byte:#04x} at offset {good} (line {lines}) is not UTF-8");
    let place = Span::new(file, at, at);
    let error = TextError::new("language.not-utf-8", place, message, "the text is not read from here on")
        .help("save the file as UTF-8");
    if named.file == file { error } else { error.related(named, "used here") }
}

#[cfg(test)]
mod tests;
