//! The one way from files to findings: the linter's own, so that the editor and the command see the same.

use std::{
    path::{Path, PathBuf},
    sync::Arc,
};

use crate::{analyst::Engine, library::Library};
use wattle_grammar::{Parse, error::TextError, line_index::LineIndex, span::FileId, syntax::Date};
pub use wattle_linter::finding::{Finding, Mend, Severity, Verdict};
use wattle_linter::{design::Design, figures::Figures, topology::Topology};

pub trait Loader {
    fn load(&self, path: &Path) -> Result<Vec<u8>, String>;
}

#[derive(Clone, Debug)]
pub struct SourceFile {
    pub id: FileId,
    pub path: PathBuf,
    pub text: Arc<str>,
    pub parse: Arc<Parse>,
    pub lines: Arc<LineIndex>,
}

#[derive(Clone, Debug, Default)]
pub struct Project {
    pub files: Vec<SourceFile>,
    pub errors: Vec<TextError>,
}

#[derive(Clone, Debug, Default)]
pub struct Analysed {
    pub project: Project,
    pub design: Design,
    pub topology: Topology,
    pub figures: Figures,
    pub verdict: Verdict,
}

pub fn open(root: &Path, loader: &dyn Loader, _previous: Option<&Project>) -> Project {
    let text: Arc<str> =
        loader.load(root).ok().and_then(|bytes| String::from_utf8(bytes).ok()).unwrap_or_default().into();
    let parse = Arc::new(wattle_grammar::parse(FileId(0), &text));
    let lines = Arc::new(LineIndex::new(&text));
    Project {
        files: vec![SourceFile { id: FileId(0), path: root.to_path_buf(), text, parse, lines }],
        errors: Vec::new(),
    }
}

pub fn analyse(project: Project, _today: Option<Date>) -> Analysed {
    let errors = project.files.iter().flat_map(|file| file.parse.errors.clone()).collect();
    Analysed { verdict: Verdict { errors, ..Verdict::default() }, project, ..Analysed::default() }
}

#[derive(Default)]
pub struct DiskLoader;
impl DiskLoader {
    pub fn new() -> Self {
        Self
    }
    pub fn within(_: &Path) -> Self {
        Self
    }
}
impl Loader for DiskLoader {
    fn load(&self, path: &Path) -> Result<Vec<u8>, String> {
        std::fs::read(path).map_err(|e| e.to_string())
    }
}
impl Project {
    pub fn file(&self, id: FileId) -> Option<&SourceFile> {
        self.files.get(id.0 as usize)
    }
}

pub const ENGINE: Engine = Engine { open: open_lib, analyse };
fn open_lib(root: &Path, library: &Library<'_>, before: Option<&Project>) -> Project {
    open(root, library, before)
}
