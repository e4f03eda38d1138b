//! Properties: no text makes the parser fail, and one damaged line costs at most one error and its own statement.

use proptest::prelude::*;

use super::{meaning, read};

/// Long statements, and every form in one line each.
const PROGRAMS: [&str; 2] = [include_str!("taste.wattle"), include_str!("every_form.wattle")];

/// Pieces that people and paste buffers put in wrong places.
const JUNK: [&str; 28] = [
    "x",
    " to ",
    "..",
    "(",
    ")",
    ",",
    "=",
    ":",
    "@",
    "“",
    "”",
    "\"",
    " 5 ",
    "5 Q",
    "Amps",
    ".",
    "-",
    "->",
    "±",
    "/",
    "%",
    "ä",
    " at ",
    " not ",
    "3,5",
    "4k7",
    "\u{7}",
    "2027-13-01",
];

/// Replaces `length` characters at character `at` of a line.
fn hurt(line: &str, at: usize, length: usize, junk: &str) -> String {
    let characters: Vec<char> = line.chars().collect();
    let at = at.min(characters.len());
    let end = (at + length).min(characters.len());
    characters[..at].iter().collect::<String>() + junk + &characters[end..].iter().collect::<String>()
}

/// A program with one line replaced, and that line's byte range before.
fn damaged(program: &str, number: usize, change: impl Fn(&str) -> String) -> (String, usize, usize) {
    let lines: Vec<&str> = program.split('\n').collect();
    let number = number % lines.len();
    let start: usize = lines[..number].iter().map(|line| line.len() + 1).sum();
    let mut new: Vec<String> = lines.iter().map(|line| (*line).to_owned()).collect();
    new[number] = change(lines[number]);
    (new.join("\n"), start, start + lines[number].len())
}

/// The statements of a program that lie outside a byte range, and how many stand before it.
fn untouched(program: &str, start: usize, end: usize) -> (Vec<String>, usize) {
    let items = read(program).file.items;
    let before = items.iter().filter(|item| (item.span().end as usize) < start).count();
    let outside =
        items.iter().filter(|item| (item.span().end as usize) < start || (item.span().start as usize) > end);
    (outside.map(meaning).collect(), before)
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 400, ..ProptestConfig::default() })]

    #[test]
    fn any_text_is_parsed(text in any::<String>()) {
        check(&text);
    }

    #[test]
    fn any_mixture_of_words_and_marks_is_parsed(
        pieces in proptest::collection::vec(proptest::sample::select(vec![
            "wattle", "1", "wire", "W1", "K1.13", "to", "motor", "M", "{", "}", "(", ")", ",", ";", "\n", " ", "  ", ":", "..", "±",
            "+", "-", "*", "/", "=", ">=", "24 V", "5 mA", "not", "assembly", "harness", "mode", "expect", "dead", "when", "in",
            "under", "any-fault", "reading", "through", "on", "2027-03-01", "accept", "because", "\"text\"", "\"", "part", "is",
            "fit", "as", "at", "let", "%", "AWG", "12", "2/0", "“", "\\", "#", ".", "3,5", "tie", "mate", "with", "'", "-(",
        ]), 0..60)
    ) {
        check(&pieces.join(" "));
        check(&pieces.concat());
    }

    #[test]
    fn damaged_programs_are_parsed(
        program in proptest::sample::select(PROGRAMS.to_vec()),
        cuts in proptest::collection::vec((any::<usize>(), any::<usize>(), 0_usize..30), 1..6)
    ) {
        let mut text: Vec<char> = program.chars().collect();
        for (at, junk, length) in cuts {
            let at = at % text.len();
            let end = (at + length).min(text.len());
            text.splice(at..end, JUNK[junk % JUNK.len()].chars());
        }
        check(&text.into_iter().collect::<String>());
    }

    #[test]
    fn one_damaged_line_costs_one_error_and_its_statement(
        program in proptest::sample::select(PROGRAMS.to_vec()),
        number in any::<usize>(), at in 0_usize..80, length in 0_usize..6, junk in proptest::sample::select(JUNK.to_vec())
    ) {
        let (text, start, end) = damaged(program, number, |line| hurt(line, at, length, junk));
        let parsed = read(&text);
        prop_assert!(parsed.errors.len() <= 1, "{:?}\n{text}", parsed.errors);
        let (whole, before) = untouched(program, start, end);
        let found: Vec<String> = parsed.file.items.iter().map(meaning).collect();
        prop_assert_eq!(&found[..before.min(found.len())], &whole[..before], "\n{}", text);
        prop_assert!(found.ends_with(&whole[before..]), "\n{}", text);
    }
}

/// Spans lie in the text and on characters, errors are in order.
fn check(text: &str) {
    let parsed = read(text);
    let fits = |start: u32, end: u32| text.get(start as usize..end as usize).is_some();
    for item in parsed.file.all_items() {
        assert!(fits(item.span().start, item.span().end), "{item:?} of {text:?}");
    }
    for error in &parsed.errors {
        assert!(fits(error.span.start, error.span.end), "{error:?} of {text:?}");
        if let Some((span, _)) = &error.mend {
            assert!(fits(span.start, span.end), "{error:?} of {text:?}");
        }
    }
    let places: Vec<u32> = parsed.errors.iter().map(|error| error.span.start).collect();
    assert!(places.is_sorted(), "{places:?} of {text:?}");
    let broken = parsed.file.items.iter().any(|item| matches!(item, crate::syntax::Item::Broken(_)));
    assert!(!broken || !parsed.errors.is_empty(), "broken without an error: {text:?}");
}
