//! Tests of edits: they make the new text, and touch no more than they must.

use super::*;
use proptest::prelude::*;

fn apply(before: &str, edits: &[(Range<u32>, String)]) -> String {
    let mut after = String::new();
    let mut at = 0;
    for (range, text) in edits {
        assert!(at <= range.start as usize, "edits overlap or are out of order: {edits:?}");
        after.push_str(&before[at..range.start as usize]);
        after.push_str(text);
        at = range.end as usize;
    }
    after.push_str(&before[at..]);
    after
}

/// The edits as (old text, new text), after a look whether they do what they should.
fn changes(before: &str, after: &str) -> Vec<(String, String)> {
    let edits = edits(before, after);
    assert_eq!(apply(before, &edits), after);
    let old = |range: &Range<u32>| before[range.start as usize..range.end as usize].to_owned();
    edits.iter().map(|(range, text)| (old(range), text.clone())).collect()
}

fn change(old: &str, new: &str) -> (String, String) {
    (old.to_owned(), new.to_owned())
}

#[test]
fn equal_texts_need_no_edit() {
    assert_eq!(edits("", ""), []);
    assert_eq!(edits("a\nb", "a\nb"), []);
}

#[test]
fn a_line_is_edited_where_it_differs() {
    assert_eq!(changes("wire W1  A\nfuse F\n", "wire W1 A\nfuse F\n"), [change(" ", "")]);
    assert_eq!(changes("a 12V\nb\n", "a 12 V\nb\n"), [change("", " ")]);
}

#[test]
fn each_line_has_an_edit_of_its_own_even_where_lines_come_and_go() {
    let before = "one  1\n\n\n\ntwo  2\nthree  3\n";
    let after = "one 1\n\ntwo 2\nthree 3\n";
    assert_eq!(
        changes(before, after),
        [change(" ", ""), change("\n\n", ""), change(" ", ""), change(" ", "")]
    );
}

#[test]
fn lines_that_occur_often_do_not_lead_astray() {
    let before = "a {\n  x\n}\nb {\n  x\n}\n";
    let after = "a {\n  x\n}\n\nb {\n  x\n}\n";
    assert_eq!(changes(before, after), [change("", "\n")]);
}

#[test]
fn line_ends_and_characters_stay_whole() {
    assert_eq!(changes("a\r\nb\r\n", "a\nb\n"), [change("\r\n", "\n"), change("\r\n", "\n")]);
    assert_eq!(changes("a µ", "a Ω"), [change("µ", "Ω")]);
    assert_eq!(changes("18 mohm", "18 mΩ\n"), [change("ohm", "Ω\n")]);
}

#[test]
fn moved_lines_keep_the_longest_part_that_did_not_move() {
    assert_eq!(changes("z\na\nb\nc\n", "a\nb\nc\nz\n"), [change("z\n", ""), change("", "z\n")]);
}

proptest! {
    #[test]
    fn edits_make_the_new_text(before in any::<String>(), after in any::<String>()) {
        changes(&before, &after);
    }

    #[test]
    fn edits_of_similar_texts_make_the_new_text(
        lines in proptest::collection::vec("[ab{}] {0,2}[1µ]\r?", 0..12),
        other in proptest::collection::vec("[ab{}] {0,2}[1µ]\r?", 0..12),
    ) {
        let (before, after) = (lines.join("\n"), other.join("\n"));
        changes(&before, &after);
        for (range, text) in edits(&before, &after) {
            let (start, end) = (range.start as usize, range.end as usize);
            prop_assert!(may_cut(&before, start) && may_cut(&before, end));
            prop_assert!(before[start..end] != text);
        }
    }
}
