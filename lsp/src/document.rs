//! An open document: the client's text, edit by edit. The only file that names the rope library.
//!
//! Only its checked calls are used, and only whole texts leave this file. An edit that does not fit the text is
//! rejected as a whole and leaves the document as it was; a place past the end of a line or of the text means that
//! end, as the protocol has it.

use std::{
    fmt,
    sync::{Arc, OnceLock},
};

use ropey::Rope;
use wattle_grammar::line_index::{Encoding, LineColumn};

/// One edit: a range of the text as the edit before left it, and what stands there afterwards.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Change {
    /// What is replaced, from its first place to the place behind it; the whole text when there is no range.
    pub range: Option<(LineColumn, LineColumn)>,
    /// By what.
    pub text: String,
}

/// Why an edit was not applied.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Rejected {
    /// The range ends before it starts.
    Reversed,
    /// A column lies inside a character.
    InsideCharacter,
    /// The text would not take it.
    Unfit,
}

impl fmt::Display for Rejected {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Reversed => "the range ends before it starts",
            Self::InsideCharacter => "a column lies inside a character",
            Self::Unfit => "the range does not fit the text",
        })
    }
}

/// A document that the client holds open.
#[derive(Clone, Debug)]
pub struct Document {
    uri: String,
    version: i32,
    rope: Rope,
    text: OnceLock<Arc<str>>,
}

impl Document {
    /// A document as the client opened it. `uri` is kept as the client wrote it, to answer in its own words.
    #[must_use]
    pub fn new(uri: String, version: i32, text: &str) -> Self {
        Self { uri, version, rope: Rope::from_str(text), text: OnceLock::new() }
    }

    /// The document's URI as the client wrote it.
    #[must_use]
    pub fn uri(&self) -> &str {
        &self.uri
    }

    /// The version that the client gave the text.
    #[must_use]
    pub const fn version(&self) -> i32 {
        self.version
    }

    /// The whole text; made once for each version.
    #[must_use]
    pub fn text(&self) -> Arc<str> {
        Arc::clone(self.text.get_or_init(|| self.rope.to_string().into()))
    }

    /// Applies the changes of one notification, one after another, each to the text that the one before left.
    ///
    /// # Errors
    /// [`Rejected`] when one of them does not fit; then none is applied and the version stays.
    pub fn apply(&mut self, version: i32, changes: &[Change], encoding: Encoding) -> Result<(), Rejected> {
        let mut rope = self.rope.clone();
        for change in changes {
            edit(&mut rope, change, encoding)?;
        }
        self.rope = rope;
        self.version = version;
        self.text = OnceLock::new();
        Ok(())
    }
}

fn edit(rope: &mut Rope, change: &Change, encoding: Encoding) -> Result<(), Rejected> {
    let Some((from, to)) = change.range else {
        *rope = Rope::from_str(&change.text);
        return Ok(());
    };
    if to < from {
        return Err(Rejected::Reversed);
    }
    let (start, end) = (char_at(rope, from, encoding)?, char_at(rope, to, encoding)?);
    rope.try_remove(start..end).map_err(|_| Rejected::Unfit)?;
    rope.try_insert(start, &change.text).map_err(|_| Rejected::Unfit)
}

/// The character index of a place. The library rounds a column inside a character down without a word; the way back
/// shows it.
fn char_at(rope: &Rope, place: LineColumn, encoding: Encoding) -> Result<usize, Rejected> {
    let line = place.line as usize;
    let (Ok(start), Some(slice)) = (rope.try_line_to_char(line), rope.get_line(line)) else {
        return Ok(rope.len_chars());
    };
    let column = place.column as usize;
    let (found, back) = match encoding {
        Encoding::Utf8 => {
            let found = slice.try_byte_to_char(column).ok();
            (found, found.and_then(|at| slice.try_char_to_byte(at).ok()))
        }
        Encoding::Utf16 => {
            let found = slice.try_utf16_cu_to_char(column).ok();
            (found, found.and_then(|at| slice.try_char_to_utf16_cu(at).ok()))
        }
        Encoding::Utf32 => (Some(column), Some(column)),
    };
    if back.is_some_and(|back| back != column) {
        return Err(Rejected::InsideCharacter);
    }
    let width = visible_chars(slice);
    Ok(start + found.map_or(width, |at| at.min(width)))
}

/// How many characters a line has before its line end.
fn visible_chars(line: ropey::RopeSlice<'_>) -> usize {
    let mut count = line.len_chars();
    while count > 0 && matches!(line.get_char(count - 1), Some('\n' | '\r')) {
        count -= 1;
    }
    count
}

#[cfg(test)]
mod tests {
    use wattle_grammar::line_index::LineIndex;

    use super::*;

    const ENCODINGS: [Encoding; 3] = [Encoding::Utf8, Encoding::Utf16, Encoding::Utf32];

    fn place(line: u32, column: u32) -> LineColumn {
        LineColumn { line, column }
    }

    fn change(from: (u32, u32), to: (u32, u32), text: &str) -> Change {
        Change { range: Some((place(from.0, from.1), place(to.0, to.1))), text: text.to_owned() }
    }

    fn applied(text: &str, changes: &[Change], encoding: Encoding) -> Result<String, Rejected> {
        let mut document = Document::new("file:///a.wattle".to_owned(), 1, text);
        document.apply(2, changes, encoding).map(|()| document.text().to_string())
    }

    #[test]
    fn several_changes_apply_one_after_another() {
        let changes =
            [change((0, 0), (0, 0), "one\ntwo\n"), change((1, 0), (1, 3), "2"), change((1, 1), (2, 0), "")];
        assert_eq!(applied("three", &changes, Encoding::Utf16).as_deref(), Ok("one\n2three"));
    }

    #[test]
    fn a_change_without_a_range_replaces_everything() {
        let changes = [Change { range: None, text: "new\n".to_owned() }, change((0, 3), (0, 3), "er")];
        assert_eq!(applied("old", &changes, Encoding::Utf8).as_deref(), Ok("newer\n"));
    }

    #[test]
    fn the_column_behind_a_character_in_each_encoding() {
        for (encoding, column) in ENCODINGS.into_iter().zip([7, 4, 3]) {
            let changes = [change((0, column), (0, column), "!")];
            assert_eq!(applied(" µ😀b", &changes, encoding).as_deref(), Ok(" µ😀!b"), "{encoding:?}");
        }
    }

    #[test]
    fn a_column_inside_a_character_is_rejected() {
        for (encoding, column) in [(Encoding::Utf8, 1), (Encoding::Utf8, 3), (Encoding::Utf16, 1)] {
            let changes = [change((0, column), (0, column), "!")];
            assert_eq!(applied("😀", &changes, encoding), Err(Rejected::InsideCharacter));
        }
    }

    #[test]
    fn a_rejected_change_leaves_text_and_version() {
        let mut document = Document::new("file:///a.wattle".to_owned(), 1, "ab");
        let changes = [change((0, 0), (0, 1), "x"), change((0, 2), (0, 1), "y")];
        assert_eq!(document.apply(2, &changes, Encoding::Utf16), Err(Rejected::Reversed));
        assert_eq!((document.version(), &*document.text()), (1, "ab"));
    }

    #[test]
    fn places_past_the_end_mean_the_end() {
        for encoding in ENCODINGS {
            let past_line = [change((0, 99), (0, u32::MAX), "!")];
            assert_eq!(applied("a\r\nb", &past_line, encoding).as_deref(), Ok("a!\r\nb"));
            let past_text = [change((7, 0), (u32::MAX, u32::MAX), "!")];
            assert_eq!(applied("a\nb", &past_text, encoding).as_deref(), Ok("a\nb!"));
            let between = [change((0, 2), (0, 2), "!")];
            assert_eq!(applied("a\r\nb", &between, encoding).as_deref(), Ok("a!\r\nb"));
        }
    }

    #[test]
    fn only_the_protocols_line_ends_count() {
        let text = "a\u{b}b\u{c}c\u{85}d\u{2028}e\u{2029}f\rg\nh";
        let changes = [change((2, 0), (2, 1), "H")];
        let expected = text.replace('h', "H");
        assert_eq!(applied(text, &changes, Encoding::Utf16), Ok(expected));
    }

    /// The same edit on a plain text through the line index, which knows nothing of the rope.
    fn expected(text: &str, change: &Change, encoding: Encoding) -> String {
        let lines = LineIndex::new(text);
        let (from, to) = change.range.unwrap();
        let offset = |place| lines.offset(text, place, encoding) as usize;
        let mut text = text.to_owned();
        text.replace_range(offset(from)..offset(to), &change.text);
        text
    }

    #[test]
    fn every_range_in_every_encoding_is_applied_as_the_line_index_has_it_or_rejected() {
        let text = "µ😀\r\n\rx";
        let mut applied_edits = 0;
        for encoding in ENCODINGS {
            for at in 0..4096u32 {
                let [a, b, c, d] = [at & 7, (at >> 3) & 7, (at >> 6) & 7, (at >> 9) & 7];
                let change = change((a, b), (c, d), "é");
                if let Ok(found) = applied(text, std::slice::from_ref(&change), encoding) {
                    assert_eq!(found, expected(text, &change, encoding), "{encoding:?} {change:?}");
                    applied_edits += 1;
                }
            }
        }
        assert!(applied_edits > 3000, "{applied_edits}");
    }
}
