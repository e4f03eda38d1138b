//! Robots held in memory: analysed without touching the disk.

use std::{
    collections::BTreeMap,
    path::{Path, PathBuf},
};

use wattle_grammar::syntax::Date;
use wattle_linter::{
    analysis::{self, Analysis},
    project::{self, Loader},
    settings,
};

/// Files by path.
#[derive(Clone, Debug, Default)]
pub struct Memory(pub BTreeMap<PathBuf, Vec<u8>>);

impl Loader for Memory {
    fn load(&self, path: &Path) -> Result<Vec<u8>, String> {
        self.0.get(path).cloned().ok_or_else(|| "no such file".to_owned())
    }

    fn settings(&self, folder: &Path) -> Option<settings::Found> {
        let paths = folder.ancestors().map(|folder| folder.join(settings::FILE_NAME));
        let mut found = paths.filter_map(|path| self.0.get(&path).map(|bytes| (path, Ok(bytes.clone()))));
        found.next()
    }
}

/// The day on which accepted risks are judged in tests.
const TODAY: Date = Date { year: 2025, month: 1, day: 1 };

/// Analyses one text as a robot's only file, as of a fixed day.
#[must_use]
pub fn analyse(text: &str) -> Analysis {
    analyse_files(&[("robot.wattle", text)])
}

/// Analyses files as one robot, the first of them its root, as of a fixed day.
#[must_use]
pub fn analyse_files(files: &[(&str, &str)]) -> Analysis {
    let root = PathBuf::from(files.first().map_or("", |(path, _)| *path));
    let held = files.iter().map(|(path, text)| (PathBuf::from(path), text.as_bytes().to_vec()));
    let memory = Memory(held.collect());
    analysis::analyse(project::open(&root, &memory), Some(TODAY))
}
