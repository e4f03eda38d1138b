//! The stock as a file that an editor can open: a copy in the user's folder for caches, which nobody is to edit. Its
//! name holds a digest of its text, so that a copy is known again wherever an editor says that it lies.

use std::{
    env, fs, io,
    path::{Path, PathBuf},
    process,
    sync::LazyLock,
};

use wattle_linter::stock;

/// How the names of copies begin and end.
const HEAD: &str = concat!("stock-", env!("CARGO_PKG_VERSION"), "-");
const TAIL: &str = ".wattle";

static NAME: LazyLock<String> = LazyLock::new(|| name(stock::TEXT));

/// The copy, written when it is not there as it should be.
///
/// # Errors
/// A plain sentence on why there is none.
pub fn file() -> Result<PathBuf, String> {
    let folder = folder(|name| env::var_os(name).map(PathBuf::from))
        .ok_or_else(|| "the stock cannot be shown: there is no folder for caches".to_owned())?;
    write(&folder).map_err(|error| format!("the stock cannot be shown: {}: {error}", folder.display()))
}

/// Whether a document is a copy of the stock, of this or another version: by its name and the digest of its text, or
/// by its name and the folder for caches when somebody has changed it.
#[must_use]
pub fn is_copy(path: &Path, text: &str) -> bool {
    let Some(found) = path.file_name().and_then(|name| name.to_str()) else { return false };
    if !found.starts_with("stock-") || !found.ends_with(TAIL) {
        return false;
    }
    let cached = || folder(|name| env::var_os(name).map(PathBuf::from));
    digest_of(found) == Some(digest(text)) || path.parent().map(Path::to_path_buf) == cached()
}

/// The folder for the copy: that of the platform for caches, and in it ours.
fn folder(variable: impl Fn(&str) -> Option<PathBuf>) -> Option<PathBuf> {
    let absolute = |name: &str| variable(name).filter(|path| path.is_absolute());
    let home = |below: &str| absolute("HOME").map(|home| home.join(below));
    let usual = if cfg!(windows) {
        absolute("LOCALAPPDATA")
    } else if cfg!(target_os = "macos") {
        home("Library/Caches")
    } else {
        home(".cache")
    };
    absolute("XDG_CACHE_HOME").or(usual).map(|folder| folder.join("wattle"))
}

/// Writes the copy unless it is there, beside its place first, so that no reader sees half of it.
fn write(folder: &Path) -> io::Result<PathBuf> {
    let path = folder.join(&*NAME);
    if fs::read(&path).is_ok_and(|bytes| bytes == stock::TEXT.as_bytes()) {
        return Ok(path);
    }
    fs::create_dir_all(folder)?;
    let beside = folder.join(format!(".{}.{}", *NAME, process::id()));
    let made = fs::write(&beside, stock::TEXT)
        .and_then(|()| protect(&beside))
        .and_then(|()| fs::rename(&beside, &path));
    if made.is_err() {
        // What is left beside the place helps nobody; that it cannot be removed either changes nothing.
        let _ = fs::remove_file(&beside);
    }
    made.map(|()| path)
}

fn protect(path: &Path) -> io::Result<()> {
    let mut permissions = fs::metadata(path)?.permissions();
    permissions.set_readonly(true);
    fs::set_permissions(path, permissions)
}

fn name(text: &str) -> String {
    format!("{HEAD}{:016x}{TAIL}", digest(text))
}

/// The digest in a copy's name.
fn digest_of(name: &str) -> Option<u64> {
    let (_, digits) = name.strip_suffix(TAIL)?.rsplit_once('-')?;
    (digits.len() == 16).then(|| u64::from_str_radix(digits, 16).ok()).flatten()
}

/// FNV-1a of 64 bits: tells texts apart, protects against nothing.
fn digest(text: &str) -> u64 {
    text.bytes().fold(0xcbf2_9ce4_8422_2325, |digest, byte| {
        (digest ^ u64::from(byte)).wrapping_mul(0x0000_0100_0000_01b3)
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn empty_folder(name: &str) -> PathBuf {
        let folder = env::temp_dir().join(format!("wattle-copy-{name}-{}", process::id()));
        let _ = fs::remove_dir_all(&folder);
        folder
    }

    #[test]
    fn the_digest_is_the_published_one() {
        // FNV-1a test vectors: the empty text and "foobar".
        assert_eq!(digest(""), 0xcbf2_9ce4_8422_2325);
        assert_eq!(digest("foobar"), 0x8594_4171_f739_67e8);
    }

    #[test]
    fn the_copy_is_written_whole_once_and_again_when_it_was_changed() {
        let folder = empty_folder("write");
        let path = write(&folder.join("deep")).unwrap();
        assert_eq!(fs::read_to_string(&path).unwrap(), stock::TEXT);
        assert!(fs::metadata(&path).unwrap().permissions().readonly());
        assert!(is_copy(&path, stock::TEXT));
        let written = fs::metadata(&path).unwrap().modified().unwrap();
        assert_eq!(write(&folder.join("deep")).unwrap(), path);
        assert_eq!(fs::metadata(&path).unwrap().modified().unwrap(), written, "written again");
        fs::remove_file(&path).unwrap();
        fs::write(&path, "changed").unwrap();
        write(&folder.join("deep")).unwrap();
        assert_eq!(fs::read_to_string(&path).unwrap(), stock::TEXT);
        assert_eq!(fs::read_dir(folder.join("deep")).unwrap().count(), 1, "nothing is left beside it");
        fs::remove_dir_all(folder).unwrap();
    }

    #[test]
    fn a_folder_that_cannot_be_is_an_error() {
        let folder = empty_folder("error");
        fs::write(&folder, "a file").unwrap();
        assert!(write(&folder.join("in-a-file")).is_err());
        fs::remove_file(folder).unwrap();
    }

    #[test]
    fn the_folder_is_the_one_for_caches() {
        let of = |pairs: &[(&str, &str)]| {
            folder(|name| pairs.iter().find(|(key, _)| *key == name).map(|(_, path)| PathBuf::from(path)))
        };
        if cfg!(unix) {
            assert_eq!(of(&[("XDG_CACHE_HOME", "/c"), ("HOME", "/h")]), Some(PathBuf::from("/c/wattle")));
            let relative = of(&[("XDG_CACHE_HOME", "c"), ("HOME", "/h")]);
            assert!(relative.is_some_and(|folder| folder.starts_with("/h")), "a relative one is not meant");
        }
        assert_eq!(of(&[]), None);
    }

    #[test]
    fn a_copy_is_known_by_its_name_and_text() {
        let path = PathBuf::from("/elsewhere").join(name("some stock"));
        assert!(is_copy(&path, "some stock"));
        assert!(!is_copy(&path, "some other text"));
        assert!(!is_copy(Path::new("/elsewhere/stock-parts.wattle"), stock::TEXT));
    }
}
