//! Where the analysis reads files: the client's open documents first, then the disk. Notes what was read, so that an
//! analysis is only made again when something it read has changed.

use std::{
    cell::RefCell,
    collections::BTreeMap,
    fs,
    path::{Component, Path, PathBuf},
    sync::Arc,
    time::SystemTime,
};

use crate::engine::{DiskLoader, Loader, settings};

/// An open document as it stood when an analysis was asked for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct OpenText {
    /// The client's version of it.
    pub version: i32,
    /// The whole text.
    pub text: Arc<str>,
}

/// The open documents by path.
pub type OpenTexts = BTreeMap<PathBuf, OpenText>;

/// By what a file that was read is known again.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Stamp {
    /// The text of an open document.
    Open(Arc<str>),
    /// Time of last change and length in bytes of a file on the disk.
    Disk(Option<SystemTime>, u64),
    /// Nothing was there.
    Missing,
}

/// The files that one analysis read.
pub type Read = Vec<(PathBuf, Stamp)>;

/// A loader that prefers open documents and notes what was read.
pub struct Library<'a> {
    open: &'a OpenTexts,
    disk: DiskLoader,
    read: RefCell<Read>,
}

impl<'a> Library<'a> {
    /// A library for the project whose root file is `root`.
    #[must_use]
    pub fn new(open: &'a OpenTexts, root: &Path) -> Self {
        let disk = root.parent().map_or_else(DiskLoader::new, DiskLoader::within);
        Self { open, disk, read: RefCell::default() }
    }

    /// What was read, in the order it was read.
    #[must_use]
    pub fn into_read(self) -> Read {
        self.read.into_inner()
    }
}

impl Loader for Library<'_> {
    fn load(&self, path: &Path) -> Result<Vec<u8>, String> {
        let path = plain_path(path);
        let stamp = stamp(&path, self.open);
        self.read.borrow_mut().push((path.clone(), stamp));
        match self.open.get(&path) {
            Some(open) => Ok(open.text.as_bytes().to_vec()),
            None => self.disk.load(&path),
        }
    }

    /// Every folder that is looked into is noted, so that a settings file which comes nearer is noticed.
    fn settings(&self, folder: &Path) -> Option<settings::Found> {
        plain_path(folder).ancestors().find_map(|folder| {
            let path = folder.join(settings::FILE_NAME);
            self.read.borrow_mut().push((path.clone(), stamp(&path, self.open)));
            match self.open.get(&path) {
                Some(open) => Some((path, Ok(open.text.as_bytes().to_vec()))),
                None => DiskLoader::settings_at(&path),
            }
        })
    }
}

/// Whether everything that was read still stands as it did.
#[must_use]
pub fn unchanged(read: &Read, open: &OpenTexts) -> bool {
    read.iter().all(|(path, before)| stamp(path, open) == *before)
}

fn stamp(path: &Path, open: &OpenTexts) -> Stamp {
    if let Some(open) = open.get(path) {
        return Stamp::Open(Arc::clone(&open.text));
    }
    fs::metadata(path).map_or(Stamp::Missing, |data| Stamp::Disk(data.modified().ok(), data.len()))
}

/// A path without `.` and `x/..`, looked at as text only, as open documents are filed.
#[must_use]
pub fn plain_path(path: &Path) -> PathBuf {
    let mut plain = PathBuf::new();
    for component in path.components() {
        let turns_back = component == Component::ParentDir
            && matches!(plain.components().next_back(), Some(Component::Normal(_)));
        match component {
            Component::CurDir => {}
            _ if turns_back => drop(plain.pop()),
            other => plain.push(other),
        }
    }
    plain
}

#[cfg(test)]
mod tests {
    use super::*;

    fn open(path: &str, text: &str) -> OpenTexts {
        OpenTexts::from([(PathBuf::from(path), OpenText { version: 1, text: text.into() })])
    }

    #[test]
    fn open_documents_come_before_the_disk() {
        let here = concat!(env!("CARGO_MANIFEST_DIR"), "/src/../Cargo.toml");
        let texts = open(concat!(env!("CARGO_MANIFEST_DIR"), "/Cargo.toml"), "from the editor");
        let library = Library::new(&texts, Path::new(here));
        assert_eq!(library.load(Path::new(here)), Ok(b"from the editor".to_vec()));
        let none = OpenTexts::new();
        let library = Library::new(&none, Path::new(here));
        assert!(library.load(Path::new(here)).is_ok_and(|bytes| bytes.starts_with(b"[package]")));
    }

    #[test]
    fn a_changed_text_and_a_vanished_document_are_noticed() {
        let texts = open("/none/a.wattle", "one");
        let library = Library::new(&texts, Path::new("/none/a.wattle"));
        assert!(library.load(Path::new("/none/a.wattle")).is_ok());
        assert!(library.load(Path::new("/none/b.wattle")).is_err());
        let read = library.into_read();
        assert!(unchanged(&read, &texts));
        assert!(unchanged(&read, &open("/none/a.wattle", "one")));
        assert!(!unchanged(&read, &open("/none/a.wattle", "two")));
        assert!(!unchanged(&read, &OpenTexts::new()));
        let mut more = texts.clone();
        more.extend(open("/none/b.wattle", ""));
        assert!(!unchanged(&read, &more));
    }
}
