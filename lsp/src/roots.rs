//! Looks on the disk for files that may be the root of a robot that an open document belongs to.

use std::{
    collections::BTreeSet,
    fs,
    path::{Path, PathBuf},
};

/// Folders deeper than this below a workspace folder are not looked into.
const DEEPEST: usize = 12;
/// After so many entries a search ends: a workspace folder may be somebody's whole disk.
const MOST_ENTRIES: usize = 20_000;
/// Where no workspace folder holds a document, this many folders above it are looked into, without those below them.
const FOLDERS_ABOVE: usize = 3;

/// Every Wattle file that may belong together with `document`: those in the workspace folder that holds it, or else
/// those beside it and above it. In path order.
#[must_use]
pub fn candidates(document: &Path, folders: &[PathBuf]) -> Vec<PathBuf> {
    let mut search = Search::default();
    let mut holding = folders.iter().filter(|folder| document.starts_with(folder)).peekable();
    if holding.peek().is_none() {
        for folder in document.ancestors().skip(1).take(FOLDERS_ABOVE) {
            search.look_into(folder, DEEPEST);
        }
    }
    for folder in holding {
        search.look_into(folder, 0);
    }
    search.found.into_iter().collect()
}

#[derive(Default)]
struct Search {
    found: BTreeSet<PathBuf>,
    entries: usize,
}

impl Search {
    fn look_into(&mut self, folder: &Path, depth: usize) {
        let Ok(entries) = fs::read_dir(folder) else { return };
        for entry in entries.flatten() {
            self.entries += 1;
            if self.entries > MOST_ENTRIES {
                return;
            }
            // Links are not followed: they may lead in circles.
            let Ok(kind) = entry.file_type() else { continue };
            let path = entry.path();
            if kind.is_file() && path.extension().is_some_and(|ending| ending == "wattle") {
                self.found.insert(path);
            } else if kind.is_dir() && depth < DEEPEST && !is_passed_over(&path) {
                self.look_into(&path, depth + 1);
            }
        }
    }
}

/// Hidden folders and those that build tools fill hold no robots.
fn is_passed_over(folder: &Path) -> bool {
    let name = folder.file_name().unwrap_or_default().to_string_lossy();
    name.starts_with('.') || name == "target" || name == "node_modules"
}

#[cfg(test)]
mod tests {
    use super::*;

    fn folder(name: &str) -> PathBuf {
        let folder = std::env::temp_dir().join(format!("wattle-roots-{name}-{}", std::process::id()));
        let _ = fs::remove_dir_all(&folder);
        for file in
            ["robot.wattle", "parts/leg.wattle", "parts/deep/foot.wattle", ".git/x.wattle", "other/r.wattle"]
        {
            let path = folder.join(file);
            fs::create_dir_all(path.parent().unwrap()).unwrap();
            fs::write(path, "").unwrap();
        }
        folder
    }

    fn names(found: &[PathBuf], folder: &Path) -> Vec<String> {
        let below = found.iter().filter_map(|path| path.strip_prefix(folder).ok());
        below.map(|path| path.to_string_lossy().replace('\\', "/")).collect()
    }

    #[test]
    fn the_workspace_folder_is_searched_wholly() {
        let folder = folder("whole");
        let found = candidates(&folder.join("parts/leg.wattle"), std::slice::from_ref(&folder));
        let expected = ["other/r.wattle", "parts/deep/foot.wattle", "parts/leg.wattle", "robot.wattle"];
        assert_eq!(names(&found, &folder), expected);
        fs::remove_dir_all(folder).unwrap();
    }

    #[test]
    fn without_a_workspace_folder_only_the_folders_above_are() {
        let folder = folder("above");
        let found = candidates(&folder.join("parts/deep/foot.wattle"), &[]);
        assert_eq!(names(&found, &folder), ["parts/deep/foot.wattle", "parts/leg.wattle", "robot.wattle"]);
        fs::remove_dir_all(folder).unwrap();
    }
}
