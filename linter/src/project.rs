//! A robot's files: the root and everything it uses, each read once through a [`Loader`].

use std::{
    path::{Path, PathBuf},
    sync::Arc,
};

use wattle_grammar::{Parse, error::TextError, line_index::LineIndex, span::FileId};

use crate::{
    settings::{self, Settings},
    stock,
};

mod encoding;
mod opening;
mod route;

/// Files larger than this are refused: 64 MB.
pub const MAX_FILE_BYTES: usize = 64 << 20;
/// A project has at most this many files.
pub const MAX_FILES: usize = 1_000;

/// Where files come from: the disk, an editor's open documents, a test's memory.
pub trait Loader {
    /// The bytes of a file.
    ///
    /// # Errors
    /// A plain sentence on why it cannot be read, without the path: `no such file`.
    fn load(&self, path: &Path) -> Result<Vec<u8>, String>;

    /// The settings file that is nearest to `folder`: in it, or in one of the folders above. Nothing when there is none, or
    /// where nobody looks for one.
    fn settings(&self, folder: &Path) -> Option<settings::Found> {
        let _ = folder;
        None
    }
}

/// One file of a project.
#[derive(Clone, Debug)]
pub struct SourceFile {
    /// Its id: its position in [`Project::files`].
    pub id: FileId,
    /// Its path as the user would write it.
    pub path: PathBuf,
    /// Its text. Bytes that are not UTF-8 are an error: then it is the lines up to them, for showing, and nothing is read.
    pub text: Arc<str>,
    /// The tree, tokens and errors. Empty, without errors of its own, when the file could not be read.
    pub parse: Arc<Parse>,
    /// Its lines.
    pub lines: Arc<LineIndex>,
}

/// The root file first, then the files it uses in the order they are first named, then the settings file.
#[derive(Clone, Debug, Default)]
pub struct Project {
    /// The files; the index is the [`FileId`].
    pub files: Vec<SourceFile>,
    /// Errors of the files as such: missing, not UTF-8, too large, used in a cycle, outside the project.
    pub errors: Vec<TextError>,
    /// What the settings file says, where there is one. It is the last of the files, and no text of the language.
    pub settings: Option<Settings>,
}

impl Project {
    /// The file behind an id: one of the project's own, or the stock's.
    #[must_use]
    pub fn file(&self, id: FileId) -> Option<&SourceFile> {
        if id == stock::FILE { Some(stock::file()) } else { self.files.get(id.0 as usize) }
    }

    /// Whether some of the text is missing, so that a name may well be defined where nobody could look.
    #[must_use]
    pub fn lacks_text(&self) -> bool {
        self.errors.iter().any(|error| error.name != FILE_CYCLE)
    }
}

pub(crate) const FILE_CYCLE: &str = "language.file-cycle";

/// Reads a robot: the root file, and every file that `use` names, breadth first in the order of the text, each once.
///
/// Paths after `use` are relative to the file that names them and stay in the folder of the root file. What cannot be
/// read is an error at the `use` that names it, or at the start of the root.
#[must_use]
pub fn open(root: &Path, loader: &dyn Loader) -> Project {
    opening::open(root, None, loader, None)
}

/// Like [`open`], with the project's folder given: files may be used from anywhere in it. Where the root does not lie
/// in that folder, its own folder is taken.
#[must_use]
pub fn open_within(root: &Path, folder: &Path, loader: &dyn Loader) -> Project {
    opening::open(root, Some(folder), loader, None)
}

/// Like [`open_within`], but files whose id, path and text are as in `previous` are not parsed again.
#[must_use]
pub fn reopen(root: &Path, folder: Option<&Path>, loader: &dyn Loader, previous: &Project) -> Project {
    opening::open(root, folder, loader, Some(previous))
}
