//! Helpers for the tests of lowering: a robot from a text, and its errors in short.

use std::{
    collections::BTreeMap,
    path::{Path, PathBuf},
};

use wattle_grammar::error::TextError;

use super::{Design, lower};
use crate::project::{Loader, Project, open};

struct Memory(BTreeMap<PathBuf, String>);

impl Loader for Memory {
    fn load(&self, path: &Path) -> Result<Vec<u8>, String> {
        self.0.get(path).map(|text| text.clone().into_bytes()).ok_or_else(|| "no such file".to_owned())
    }
}

/// A project of files in memory; the first is the root.
pub(super) fn project(files: &[(&str, &str)]) -> Project {
    let memory =
        files.iter().map(|(path, text)| (PathBuf::from(path), format!("wattle 1\n{text}"))).collect();
    open(Path::new(files[0].0), &Memory(memory))
}

/// What a text without any error gives.
pub(super) fn design(text: &str) -> Design {
    let (design, errors) = parsed(text);
    assert_eq!(errors, [], "the text should have no error");
    design
}

/// What a text with sound statements gives.
pub(super) fn parsed(text: &str) -> (Design, Vec<TextError>) {
    let project = project(&[("robot.wattle", text)]);
    assert_eq!(project.files[0].parse.errors, [], "the text should parse");
    lower(&project)
}

/// The errors of a text, each as `name: message` followed by ` | help` where there is one.
pub(super) fn errors(text: &str) -> Vec<String> {
    short(&parsed(text).1)
}

/// Errors in short.
pub(super) fn short(errors: &[TextError]) -> Vec<String> {
    let short =
        |error: &TextError| format!("{}: {}", error.name.trim_start_matches("language."), error.message);
    errors.iter().map(short).collect()
}
