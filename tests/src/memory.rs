//! Robots held in memory: analysed without touching the disk.

use std::{
    collections::BTreeMap,
    path::{Path, PathBuf},
};

use wattle_grammar::syntax::Date;
use wattle_linter::{
    analysis::{self, Analysis},
    project::{self, Loader},
};

/// Files by path.
#[derive(Clone, Debug, Default)]
pub struct Memory(pub BTreeMap<PathBuf, Vec<u8>>);

impl Loader for Memory {
    fn load(&self, path: &Path) -> Result<Vec<u8>, String> {
        self.0.get(path).cloned().ok_or_else(|| "no such file".to_owned())
    }
}

/// The day on which accepted risks are judged in tests.
const TODAY: Date = Date { year: 2025, month: 1, day: 1 };

/// Analyses one text as a robot's only file, as of a fixed day.
#[must_use]
pub fn analyse(text: &str) -> Analysis {
    let root = PathBuf::from("robot.wattle");
    let memory = Memory(BTreeMap::from([(root.clone(), text.as_bytes().to_vec())]));
    analysis::analyse(project::open(&root, &memory), Some(TODAY))
}
