//! A robot's files: the root and everything it uses, each read once through a [`Loader`].

use std::{path::{Path, PathBuf}, sync::Arc};

use wattle_grammar::{Parse, error::TextError, line_index::LineIndex, span::FileId};

/// Where files come from: the disk, an editor's open documents, a test's memory.
pub trait Loader {
    /// The bytes of a file.
    ///
    /// # Errors
    /// A plain sentence on why it cannot be read, without the path: `no such file`.
    fn load(&self, path: &Path) -> Result<Vec<u8>, String>;
}

/// One file of a project.
#[derive(Clone, Debug)]
pub struct SourceFile {
    /// Its id: its position in [`Project::files`].
    pub id: FileId,
    /// Its path as the user would write it.
    pub path: PathBuf,
    /// Its text. Bytes that are not UTF-8 are an error and leave an empty text.
    pub text: Arc<str>,
    /// The tree, tokens and errors.
    pub parse: Arc<Parse>,
    /// Its lines.
    pub lines: Arc<LineIndex>,
}

/// The root file first, then the files it uses in the order they are first named.
#[derive(Clone, Debug, Default)]
pub struct Project {
    /// The files; the index is the [`FileId`].
    pub files: Vec<SourceFile>,
    /// Errors of the files as such: missing, not UTF-8, too large, used in a cycle, outside the project.
    pub errors: Vec<TextError>,
}
