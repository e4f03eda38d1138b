//! A folder for one test, gone when the test ends.

use std::{
    fs, io,
    path::{Path, PathBuf},
    sync::atomic::{AtomicU32, Ordering},
};

/// A fresh folder below the system's folder for temporary files.
#[derive(Debug)]
pub struct Folder {
    path: PathBuf,
}

impl Folder {
    /// Makes one with these files in it; folders in their paths are made as well.
    ///
    /// # Errors
    /// Those of the disk.
    pub fn with(files: &[(&str, &[u8])]) -> io::Result<Self> {
        static COUNT: AtomicU32 = AtomicU32::new(0);
        let name = format!("wattle-test-{}-{}", std::process::id(), COUNT.fetch_add(1, Ordering::Relaxed));
        let folder = Self { path: std::env::temp_dir().join(name) };
        fs::create_dir_all(&folder.path)?;
        for (name, bytes) in files {
            let path = folder.path.join(name);
            fs::create_dir_all(path.parent().unwrap_or(&folder.path))?;
            fs::write(path, bytes)?;
        }
        Ok(folder)
    }

    /// Where it is.
    #[must_use]
    pub fn path(&self) -> &Path {
        &self.path
    }
}

impl Drop for Folder {
    fn drop(&mut self) {
        // A folder that cannot be removed is left to the system.
        drop(fs::remove_dir_all(&self.path));
    }
}
