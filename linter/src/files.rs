//! The disk: the only place in the library that touches it.

use std::{
    fs::{File, canonicalize},
    io::{ErrorKind, Read},
    path::{Path, PathBuf},
};

use crate::{
    project::{Loader, MAX_FILE_BYTES},
    settings,
};

mod walk;

pub use walk::{Found, wattle_files};

/// Reads files from the disk, and only ordinary ones. With a folder set, links that lead out of it are refused.
#[derive(Clone, Debug, Default)]
pub struct DiskLoader {
    folder: Option<PathBuf>,
}

impl DiskLoader {
    /// A loader that follows links wherever they lead.
    #[must_use]
    pub fn new() -> Self {
        Self::default()
    }

    /// A loader that refuses files which, links followed, lie outside `folder`.
    #[must_use]
    pub fn within(folder: &Path) -> Self {
        let folder = if folder.as_os_str().is_empty() { Path::new(".") } else { folder };
        Self { folder: canonicalize(folder).ok() }
    }
}

impl DiskLoader {
    /// The settings file at a path; nothing where there is no such file. It may lie above the folder that fences the rest.
    #[must_use]
    pub fn settings_at(path: &Path) -> Option<settings::Found> {
        let there = path.symlink_metadata().is_ok_and(|data| !data.is_dir());
        there.then(|| (path.to_path_buf(), Self::new().load(path)))
    }
}

impl Loader for DiskLoader {
    /// Looks through the folders as the disk has them, links followed, and names the file from the working folder on where
    /// it lies below that.
    fn settings(&self, folder: &Path) -> Option<settings::Found> {
        let folder =
            canonicalize(if folder.as_os_str().is_empty() { Path::new(".") } else { folder }).ok()?;
        let (path, text) =
            folder.ancestors().find_map(|folder| Self::settings_at(&folder.join(settings::FILE_NAME)))?;
        let here = canonicalize(".").ok();
        let below = here.and_then(|here| path.strip_prefix(here).map(Path::to_path_buf).ok());
        Some((below.unwrap_or(path), text))
    }

    fn load(&self, path: &Path) -> Result<Vec<u8>, String> {
        let real = canonicalize(path).map_err(|error| plain(error.kind()))?;
        if self.folder.as_ref().is_some_and(|folder| !real.starts_with(folder)) {
            return Err("a link leads out of the project's folder".to_owned());
        }
        if real.is_dir() {
            return Err("it is a folder".to_owned());
        }
        // A pipe or device would block or never end, so the kind is looked at before opening.
        if !real.is_file() {
            return Err("not an ordinary file".to_owned());
        }
        let mut bytes = Vec::new();
        let file = File::open(&real).map_err(|error| plain(error.kind()))?;
        // One byte past the limit is enough for the project to see that it is too large.
        let limit = u64::try_from(MAX_FILE_BYTES).unwrap_or(u64::MAX).saturating_add(1);
        file.take(limit).read_to_end(&mut bytes).map_err(|error| plain(error.kind()))?;
        Ok(bytes)
    }
}

fn plain(kind: ErrorKind) -> String {
    match kind {
        ErrorKind::NotFound | ErrorKind::NotADirectory => "no such file".to_owned(),
        ErrorKind::PermissionDenied => "reading it is not permitted".to_owned(),
        other => other.to_string(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn here(name: &str) -> PathBuf {
        Path::new(env!("CARGO_MANIFEST_DIR")).join(name)
    }

    #[test]
    fn ordinary_files_are_read_and_others_refused() {
        let loader = DiskLoader::new();
        assert!(loader.load(&here("Cargo.toml")).is_ok_and(|bytes| bytes.starts_with(b"[package]")));
        assert_eq!(loader.load(&here("src")), Err("it is a folder".to_owned()));
        assert_eq!(loader.load(&here("none.wattle")), Err("no such file".to_owned()));
        assert_eq!(loader.load(&here("Cargo.toml/none")), Err("no such file".to_owned()));
    }

    #[test]
    fn a_folder_fences_the_loader() {
        let fenced = DiskLoader::within(&here("src"));
        assert!(fenced.load(&here("src/lib.rs")).is_ok());
        let refused = fenced.load(&here("Cargo.toml"));
        assert_eq!(refused, Err("a link leads out of the project's folder".to_owned()));
    }
}
