//! Files that people read: the layout changes nothing in them but the layout.

// A test may read the examples; the ban is for the library.
#![allow(clippy::disallowed_methods)]

use std::{
    fs,
    path::{Path, PathBuf},
};

use super::same::check;

/// Every file of the language below a folder.
fn files(folder: &Path, found: &mut Vec<PathBuf>) {
    for entry in fs::read_dir(folder).into_iter().flatten().flatten() {
        let path = entry.path();
        if path.is_dir() {
            files(&path, found);
        } else if path.extension().is_some_and(|ending| ending == "wattle") {
            found.push(path);
        }
    }
}

#[test]
fn example_robots_keep_their_meaning() {
    let mut found = Vec::new();
    files(&Path::new(env!("CARGO_MANIFEST_DIR")).join("../examples"), &mut found);
    files(&Path::new(env!("CARGO_MANIFEST_DIR")).join("src"), &mut found);
    assert!(found.len() >= 5, "the examples were looked for in the wrong place");
    for path in found {
        let text = fs::read_to_string(&path).expect("an example can be read");
        let after = check(&text);
        assert!(after.starts_with("wattle 1\n"), "{}", path.display());
    }
}
