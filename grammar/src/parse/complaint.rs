//! The wording of mistakes that the parser knows by name: what was found, what is wrong, what would be right.

mod braces;
mod characters;
mod numbers;
mod trap;

pub(super) use braces::{missing_open, stray_close, unclosed};
pub(super) use characters::{
    arrow, bad_escape, bad_name, comparison, control_in_text, curly_quotes, unclosed_text, unknown_character,
};
pub(super) use numbers::{
    bad_date, bad_gauge, bare_number, dashed_range, decimal_comma, inch_mark, leading_point, number_range,
    resistor_code, unit_by_hyphen, unknown_unit, unspaced_sign,
};
pub(super) use trap::{alternating, direct, split_unit, trap};

use super::words;
use crate::{error::TextError, nearest::nearest, span::Span};

/// A piece of the text in back quotes, shortened so that a message stays one line.
pub(super) fn quote(text: &str) -> String {
    const LONGEST: usize = 40;
    match text.char_indices().nth(LONGEST) {
        None => format!("`{text}`"),
        Some((end, _)) => format!("`{}…`", text.get(..end).unwrap_or("")),
    }
}

/// A word at the start of a statement that is no statement's word and no kind.
pub(super) fn unknown_beginning(span: Span, word: &str, more: &[&'static str]) -> TextError {
    let known = words::beginnings().chain(more.iter().copied());
    let error = TextError::new(
        "language.unknown-statement",
        span,
        format!("{} begins no statement", quote(word)),
        "a kind of part or a statement's word is due here",
    );
    match nearest(word, known) {
        Some(near) => error.help(format!("write `{near}`")).mend(span, near),
        None => error.help("a line begins with what it is about: `wire`, `fuse`, `motor`, `place`, `mode` …"),
    }
}

/// An expectation of something that is not computed.
pub(super) fn unknown_expectation(span: Span, word: &str) -> TextError {
    let error = TextError::new(
        "language.unexpected",
        span,
        format!("{} cannot be expected", quote(word)),
        "`voltage`, `current`, `temperature`, `runtime` or `dead` is due here",
    );
    match nearest(word, ["voltage", "current", "temperature", "runtime", "dead"]) {
        Some(near) => error.help(format!("write `{near}`")).mend(span, near),
        None => error,
    }
}

/// A statement that begins with something other than a word.
pub(super) fn no_beginning(span: Span, found: &str) -> TextError {
    let help = match found {
        "{" => "a block opens on the line of its statement: put the `{` at the end of the line above",
        _ => "a line begins with what it is about: `wire`, `fuse`, `motor`, `place`, `mode` …",
    };
    TextError::new(
        "language.unknown-statement",
        span,
        format!("{} begins no statement", quote(found)),
        "a kind of part or a statement's word is due here",
    )
    .help(help)
}

/// The first statement is not the edition.
pub(super) fn missing_edition(first: Span, insert: Span) -> TextError {
    TextError::new(
        "language.missing-edition",
        first,
        "the file does not say its edition of the language",
        "the first statement must be the edition",
    )
    .help("begin the file with `wattle 1`")
    .mend(insert, "wattle 1\n")
}

/// An edition that this tool does not know.
pub(super) fn unknown_edition(span: Span, number: &str) -> TextError {
    TextError::new(
        "language.unknown-edition",
        span,
        format!("edition {} is not known", quote(number)),
        "the newest known edition is 1",
    )
    .help("use a newer version of this tool, or write `wattle 1`; the file is read as edition 1")
}

/// An edition that is not the first statement.
pub(super) fn misplaced_edition(span: Span) -> TextError {
    TextError::new(
        "language.misplaced-edition",
        span,
        "the edition stands once, as the first statement",
        "not the first statement",
    )
    .help("take this line out")
}

/// Something that may stand once stands twice.
pub(super) fn twice(span: Span, first: Span, what: &str) -> TextError {
    TextError::new("language.twice", span, format!("{what} stands twice on this line"), "the second one")
        .related(first, "the first one")
}

/// Two ends in a harness without the word between them.
pub(super) fn missing_to(first: Span, second: Span, text: &str) -> TextError {
    let gap = Span::new(first.file, first.end, second.start);
    let (from, to) = (first.slice(text), second.slice(text));
    TextError::new(
        "language.unexpected",
        first.to(second),
        format!("expected `to` between the ends {} and {}", quote(from), quote(to)),
        "two ends without `to`",
    )
    .help(format!("write `{from} to {to}`"))
    .mend(gap, " to ")
}

/// Blocks or parentheses nested beyond all use.
pub(super) fn too_deep(span: Span, what: &str, limit: usize) -> TextError {
    TextError::new(
        "language.too-deep",
        span,
        format!("more than {limit} {what} inside each other"),
        "this statement is not read",
    )
}

/// A file beyond the limit.
pub(super) fn too_large(span: Span, bytes: usize, limit: usize) -> TextError {
    TextError::new(
        "language.too-large",
        span,
        format!("the file has {} MB, the limit is {} MB", bytes.div_ceil(1_000_000), limit / 1_000_000),
        "nothing of it is read",
    )
}
