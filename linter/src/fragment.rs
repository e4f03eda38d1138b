//! A file that is no robot by itself, such as a list of parts: its text can be checked, and nothing else.

use wattle_grammar::{error::TextError, syntax::Item};

use crate::{
    finding::Verdict,
    project::{Project, SourceFile},
    settle::settle,
};

/// Whether a file has a `robot` statement, which makes it the root of a robot.
#[must_use]
pub fn is_robot(file: &SourceFile) -> bool {
    file.parse.file.items.iter().any(|item| matches!(item, Item::Robot(_)))
}

/// The errors of a project's files as such and of their text, before any name is looked up.
#[must_use]
pub fn errors(project: &Project) -> Vec<TextError> {
    let of_text = project.files.iter().flat_map(|file| &file.parse.errors);
    project.errors.iter().chain(of_text).cloned().collect()
}

/// The verdict on a file that is no robot. Names are not looked up: what the file means may stand in the robot that
/// uses it.
#[must_use]
pub fn judge(project: &Project) -> Verdict {
    let read = project.files.first().is_some_and(|file| !file.parse.tokens.is_empty());
    let basis = read.then(|| {
        "no `robot` statement was read in this file: only its text was checked, nothing electrical".to_owned()
    });
    let mut verdict =
        Verdict { errors: errors(project), basis: basis.into_iter().collect(), ..Verdict::default() };
    settle(&mut verdict, project);
    verdict
}
