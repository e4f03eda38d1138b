//! The wording of mistakes that the parser knows by name: what was found, what is wrong, what would be right.

mod braces;
mod characters;
mod digits;
mod edition;
mod marks;
mod names;
mod numbers;
mod texts;
mod trap;

pub(super) use braces::{missing_open, stray_close, unclosed};
pub(super) use characters::unknown_character;
pub(super) use digits::{
    decimal_comma, grouped_digits, leading_point, odd_digit, other_base, second_sign, trailing_point,
    two_points,
};
pub(super) use edition::{again, late_edition, missing_edition, unknown_edition};
pub(super) use marks::{arrow, comment_sign, comparison, full_stop, not_equal, range_dots};
pub(super) use names::{bad_name, blank_in_path, bracketed_terminal, digit_first, hyphen_last};
pub(super) use numbers::{
    aught_alone, bad_date, bad_gauge, bare_number, dashed_range, date_form, inch_mark, number_range,
    parallel, resistor_code, split_prefix, unit_by_hyphen, unknown_unit, unspaced_sign,
};
pub(super) use texts::{
    bad_escape, control_in_text, curly_quote_alone, curly_quotes, over_lines, single_quotes, unclosed_text,
};
pub(super) use trap::{alternating, direct, split_unit, trap};

use super::{synonyms, words};
pub(super) use crate::error::quoted as quote;
use crate::{error::TextError, kind, nearest::nearest, span::Span};

/// A word at the start of a statement that is no statement's word and no kind.
pub(super) fn unknown_beginning(span: Span, word: &str, more: &[&'static str]) -> TextError {
    let known = words::beginnings().chain(more.iter().copied());
    let error = TextError::new(
        "language.unknown-statement",
        span,
        format!("{} begins no statement", quote(word)),
        "a kind of part or a statement's word is due here",
    );
    match (nearest(word, known), synonyms::beginning(word)) {
        (Some(near), _) => error.help(format!("did you mean `{near}`?")).mend(span, near),
        (None, Some(ours)) if kind::by_word(ours).is_some() => {
            error.help(format!("the word for it is `{ours}`")).mend(span, ours)
        }
        (None, Some(ours)) => error.help(format!("the word for it is `{ours}`")),
        (None, None) if is_key(word) => {
            error.help("settings stand in the block of their statement: `{`, the settings, `}`")
        }
        (None, None) => error.help(FIRST_WORDS),
    }
}

const FIRST_WORDS: &str = "a line begins with what it is about: `wire`, `fuse`, `motor`, `place`, `mode` …";

/// Whether some kind has a rating of this key.
pub(super) fn is_key(word: &str) -> bool {
    kind::ALL.iter().any(|kind| kind.rating(word).is_some())
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
        Some(near) => error.help(format!("did you mean `{near}`?")).mend(span, near),
        None => error.help("limits can be set on these and nothing else"),
    }
}

/// A statement that begins with something other than a word.
pub(super) fn no_beginning(span: Span, found: &str, behind_semicolon: bool) -> TextError {
    let help = match found {
        "{" => "a block opens on the line of its statement: put the `{` at the end of the line above",
        _ if behind_semicolon => "`;` ends a statement: take it out if the line goes on",
        _ => FIRST_WORDS,
    };
    TextError::new(
        "language.unknown-statement",
        span,
        format!("{} begins no statement", quote(found)),
        "a kind of part or a statement's word is due here",
    )
    .help(help)
}

/// Something that may stand once stands twice.
pub(super) fn twice(span: Span, first: Span, what: &str) -> TextError {
    TextError::new("language.twice", span, format!("two {what} on one line"), "the second one")
        .related(first, "the first one")
        .help("take one of them out")
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
