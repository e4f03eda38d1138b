//! The class of a byte, by table, so that one look decides which shape a token has.

/// What a byte can begin.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Class {
    /// An ASCII letter or `_`.
    Letter,
    /// `0` to `9`.
    Digit,
    /// A blank or a tab.
    Blank,
    /// `\n` or `\r`.
    LineEnd,
    /// `"`
    Quote,
    /// `#`
    Hash,
    /// `.`
    Dot,
    /// Any other ASCII punctuation that means something.
    Mark,
    /// A byte of a character outside ASCII.
    Wide,
    /// Anything else.
    Other,
}

/// The class of `byte`.
#[inline]
pub(super) fn of(byte: u8) -> Class {
    CLASSES[byte as usize]
}

/// Whether a word goes on with `byte`.
#[inline]
pub(super) fn continues_word(byte: u8) -> bool {
    CONTINUES[byte as usize]
}

const CLASSES: [Class; 256] = classes();
const CONTINUES: [bool; 256] = continues();

const fn classes() -> [Class; 256] {
    let mut table = [Class::Other; 256];
    let mut byte = 0;
    while byte < 256 {
        table[byte] = class(byte as u8);
        byte += 1;
    }
    table
}

const fn class(byte: u8) -> Class {
    match byte {
        b'a'..=b'z' | b'A'..=b'Z' | b'_' => Class::Letter,
        b'0'..=b'9' => Class::Digit,
        b' ' | b'\t' => Class::Blank,
        b'\n' | b'\r' => Class::LineEnd,
        b'"' => Class::Quote,
        b'#' => Class::Hash,
        b'.' => Class::Dot,
        b'{' | b'}' | b'(' | b')' | b',' | b';' | b':' | b'=' | b'>' | b'<' | b'+' | b'-' | b'*' | b'/'
        | b'%' => Class::Mark,
        128.. => Class::Wide,
        _ => Class::Other,
    }
}

const fn continues() -> [bool; 256] {
    let mut table = [false; 256];
    let mut byte = 0;
    while byte < 256 {
        table[byte] = matches!(class(byte as u8), Class::Letter | Class::Digit) || byte as u8 == b'-';
        byte += 1;
    }
    table
}
