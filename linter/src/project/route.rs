//! Where a `use` leads: the path relative to the using file, refused when it is absolute or leaves the project's folder.

use std::path::{Component, Path, PathBuf};

use wattle_grammar::{
    error::{TextError, quoted},
    syntax::Text,
};

/// A path without `.` and without `x/..`, looked at as text only: the disk is not asked.
pub(super) fn tidy_path(path: &Path) -> PathBuf {
    let mut result = PathBuf::new();
    for component in path.components() {
        let turns_back = component == Component::ParentDir
            && matches!(result.components().next_back(), Some(Component::Normal(_)));
        match component {
            Component::CurDir => {}
            _ if turns_back => drop(result.pop()),
            other => result.push(other),
        }
    }
    result
}

/// Why a `use` leads nowhere.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Refusal {
    /// Nothing is named.
    Empty,
    /// The path starts at the disk's root.
    Absolute,
    /// Folders are parted by a backslash.
    Backslash,
    /// The path leaves the project's folder.
    Outside,
}

impl Refusal {
    /// The error at the path as written.
    pub(super) fn error(self, path: &Text) -> TextError {
        let shown = quoted(&path.text);
        let (message, label, help) = match self {
            Self::Empty => (
                "`use` names no file".to_owned(),
                "a path is due here",
                "a path is relative to this file: `\"parts/legs.wattle\"`".to_owned(),
            ),
            Self::Absolute => (
                format!("{shown} is a path of this machine only"),
                "begins at the disk's root",
                "write the path from this file's folder: `\"parts/legs.wattle\"`".to_owned(),
            ),
            Self::Backslash => (
                format!("{shown} has backslashes between its folders"),
                "`/` is due between folders",
                format!("write {}", quoted(&slashed(&path.text))),
            ),
            Self::Outside => (
                format!("{shown} leaves the project's folder"),
                "outside the project",
                "move the file into the folder of the robot, or a copy of it".to_owned(),
            ),
        };
        let error = TextError::new("language.outside-project", path.span, message, label).help(help);
        match self {
            Self::Backslash => error.mend(path.span, slashed(&path.text)),
            _ => error,
        }
    }
}

/// The path with `/` between its folders, in quotes.
fn slashed(path: &str) -> String {
    let parts: Vec<&str> = path.split(['\\', '/']).filter(|part| !part.is_empty()).collect();
    format!("\"{}\"", parts.join("/"))
}

/// The path below the project's folder that `written` means in the file `from` (itself below the folder).
pub(super) fn follow(from: &Path, written: &str) -> Result<PathBuf, Refusal> {
    refuse_form(written)?;
    let mut result = from.parent().map(Path::to_path_buf).unwrap_or_default();
    for part in written.split('/') {
        match part {
            "" | "." => {}
            ".." => {
                if !result.pop() {
                    return Err(Refusal::Outside);
                }
            }
            name => result.push(name),
        }
    }
    if result.as_os_str().is_empty() { Err(Refusal::Empty) } else { Ok(result) }
}

fn refuse_form(written: &str) -> Result<(), Refusal> {
    let drive = written.as_bytes().get(1) == Some(&b':')
        && written.as_bytes().first().is_some_and(u8::is_ascii_alphabetic);
    if written.trim().is_empty() {
        Err(Refusal::Empty)
    } else if written.starts_with('/') || written.starts_with('\\') || drive {
        Err(Refusal::Absolute)
    } else if written.contains('\\') {
        Err(Refusal::Backslash)
    } else {
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn paths_are_relative_to_the_using_file() {
        let follow = |from: &str, written: &str| follow(Path::new(from), written);
        assert_eq!(follow("robot.wattle", "parts/legs.wattle"), Ok(PathBuf::from("parts/legs.wattle")));
        assert_eq!(
            follow("parts/legs.wattle", "../stock/./fuses.wattle"),
            Ok(PathBuf::from("stock/fuses.wattle"))
        );
        assert_eq!(follow("parts/legs.wattle", "../../x.wattle"), Err(Refusal::Outside));
        assert_eq!(follow("robot.wattle", "../here/robot.wattle"), Err(Refusal::Outside));
    }

    #[test]
    fn forms_that_do_not_travel_are_refused() {
        let from = Path::new("robot.wattle");
        assert_eq!(follow(from, "/etc/x.wattle"), Err(Refusal::Absolute));
        assert_eq!(follow(from, "C:/x.wattle"), Err(Refusal::Absolute));
        assert_eq!(follow(from, "parts\\x.wattle"), Err(Refusal::Backslash));
        assert_eq!(follow(from, "  "), Err(Refusal::Empty));
        assert_eq!(follow(from, "./"), Err(Refusal::Empty));
    }

    #[test]
    fn tidy_paths_keep_what_cannot_be_resolved() {
        assert_eq!(tidy_path(Path::new("./a/../b/c")), PathBuf::from("b/c"));
        assert_eq!(tidy_path(Path::new("../../a")), PathBuf::from("../../a"));
        assert_eq!(tidy_path(Path::new("/a/./b")), PathBuf::from("/a/b"));
    }
}
