//! Files whose bytes are no UTF-8: where the first bad byte is, and what can be shown of its line.

use wattle_grammar::{
    error::TextError,
    span::{FileId, Span},
};

use super::opening::Refused;

/// The error at the first bad byte, which is behind `good` good ones. `named` is where the file is used.
pub(super) fn refused(bytes: &[u8], good: usize, file: FileId, named: Span) -> Refused {
    let shown = up_to_its_line(bytes, good);
    let at = u32::try_from(good).unwrap_or(u32::MAX);
    // What stands for the bad byte in the shown text.
    let end = at.saturating_add(u32::try_from(char::REPLACEMENT_CHARACTER.len_utf8()).unwrap_or(0));
    let place = Span::new(file, at, end);
    let byte = bytes.get(good).copied().unwrap_or_default();
    let error = if bytes.starts_with(&[0xff, 0xfe]) || bytes.starts_with(&[0xfe, 0xff]) {
        let message = "the file is written in UTF-16, not in UTF-8";
        TextError::new("language.not-utf-8", place, message, "begins with the mark of UTF-16")
    } else {
        let message = format!("byte {byte:#04x} at offset {good} is not UTF-8");
        TextError::new("language.not-utf-8", place, message, in_latin(byte))
    };
    let error = error.help("save the file as UTF-8; nothing of it was read");
    let used = named.file != file;
    Refused { error: if used { error.related(named, "used here") } else { error }, shown: Some(shown) }
}

/// What the byte is in the encoding that old editors write.
fn in_latin(byte: u8) -> String {
    match byte {
        0xa1..=0xff => format!("perhaps `{}` of an older encoding", char::from(byte)),
        _ => "not a character".to_owned(),
    }
}

/// The text up to the end of the line with the bad byte, with a sign in place of each bad byte.
fn up_to_its_line(bytes: &[u8], good: usize) -> String {
    const FARTHEST: usize = 500;
    let rest = bytes.get(good..).unwrap_or_default();
    let ends_line = |byte: &u8| matches!(byte, b'\n' | b'\r');
    let length = rest.iter().take(FARTHEST).position(ends_line).unwrap_or(rest.len().min(FARTHEST));
    String::from_utf8_lossy(bytes.get(..good + length).unwrap_or_default()).into_owned()
}
