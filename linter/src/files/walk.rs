//! The walk through folders for files of the language.

use std::{
    fs::read_dir,
    io,
    path::{Path, PathBuf},
};

use super::plain;

/// What lies below a folder.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Found {
    /// The `.wattle` files, sorted by path.
    pub files: Vec<PathBuf>,
    /// Folders that could not be read, each with a plain sentence on why, sorted by path.
    pub unreadable: Vec<(PathBuf, String)>,
}

/// Every `.wattle` file below `folder`, at any depth. Hidden files and folders (their name begins with a full stop)
/// are passed over, and links to folders are not followed, so that the walk ends.
#[must_use]
pub fn wattle_files(folder: &Path) -> Found {
    let mut found = Found::default();
    let mut waiting = vec![folder.to_path_buf()];
    while let Some(folder) = waiting.pop() {
        if let Err(error) = look_into(&folder, &mut waiting, &mut found.files) {
            found.unreadable.push((folder, plain(error.kind())));
        }
    }
    found.files.sort();
    found.unreadable.sort();
    found
}

fn look_into(folder: &Path, waiting: &mut Vec<PathBuf>, files: &mut Vec<PathBuf>) -> io::Result<()> {
    // The folder `.` is left out of the paths: a file in it is named as a person would name it.
    let here = folder == Path::new(".");
    for entry in read_dir(folder)? {
        let entry = entry?;
        let name = entry.file_name();
        if name.as_encoded_bytes().starts_with(b".") {
            continue;
        }
        let path = if here { PathBuf::from(name) } else { folder.join(name) };
        if entry.file_type()?.is_dir() {
            waiting.push(path);
        } else if path.extension().is_some_and(|ending| ending == "wattle") {
            files.push(path);
        }
    }
    Ok(())
}
