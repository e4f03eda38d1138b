//! The one layout, as the smallest edits that lead to it line by line, so that cursors and marks stay where they are.

use wattle_grammar::Parse;

use crate::snapshot::Snapshot;

/// How far ahead two texts are compared to find where they agree again, in lines.
const LOOK_AHEAD: usize = 48;

/// A replacement of a range of bytes.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Edit {
    /// First byte that is replaced.
    pub start: u32,
    /// The byte behind it.
    pub end: u32,
    /// By what.
    pub text: String,
}

/// The edits that bring the document into the one layout. None while it has errors: what cannot be read cannot be laid
/// out.
#[must_use]
pub fn formatting(snapshot: &Snapshot) -> Vec<Edit> {
    tidied(snapshot.parse(), &snapshot.text).map(|tidy| line_edits(&snapshot.text, &tidy)).unwrap_or_default()
}

fn tidied(parse: &Parse, text: &str) -> Option<String> {
    let _ = text;
    parse.errors.is_empty().then(|| text.to_owned())
}

/// Edits of whole lines that turn `old` into `new`, in place order, none touching another.
#[must_use]
pub fn line_edits(old: &str, new: &str) -> Vec<Edit> {
    let (before, after): (Vec<_>, Vec<_>) =
        (old.split_inclusive('\n').collect(), new.split_inclusive('\n').collect());
    let (mut before, mut after) = (before.as_slice(), after.as_slice());
    let mut edits: Vec<Edit> = Vec::new();
    let mut at = 0;
    while !(before.is_empty() && after.is_empty()) {
        let same = before.iter().zip(after).take_while(|(old, new)| old == new).count();
        at += bytes(take(&mut before, same));
        take(&mut after, same);
        let (gone, come) = agreement(before, after);
        let start = at;
        at += bytes(take(&mut before, gone));
        let text = take(&mut after, come).concat();
        match edits.last_mut().filter(|last| last.end == start) {
            Some(last) => (last.end, last.text) = (at, std::mem::take(&mut last.text) + &text),
            None if at > start || !text.is_empty() => edits.push(Edit { start, end: at, text }),
            None => {}
        }
    }
    edits
}

/// How many lines of each text to pass over until both agree again, the fewest in sum. Blank lines are no sign of
/// agreement. Where nothing agrees within sight, that stretch is passed over in both.
fn agreement(before: &[&str], after: &[&str]) -> (usize, usize) {
    let agree = |gone: usize, come: usize| {
        before.get(gone).is_some_and(|old| !old.trim().is_empty() && after.get(come) == Some(old))
    };
    let pairs = (1..=LOOK_AHEAD).flat_map(|sum| (0..=sum).map(move |gone| (gone, sum - gone)));
    let found = pairs.into_iter().find(|(gone, come)| agree(*gone, *come));
    found.unwrap_or((before.len().min(LOOK_AHEAD), after.len().min(LOOK_AHEAD)))
}

/// Takes the first `count` lines.
fn take<'a, 'b>(lines: &mut &'a [&'b str], count: usize) -> &'a [&'b str] {
    let (taken, rest) = lines.split_at_checked(count).unwrap_or((lines, &[]));
    *lines = rest;
    taken
}

fn bytes(lines: &[&str]) -> u32 {
    u32::try_from(lines.iter().map(|line| line.len()).sum::<usize>()).unwrap_or(u32::MAX)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn applied(old: &str, edits: &[Edit]) -> String {
        let mut text = old.to_owned();
        for edit in edits.iter().rev() {
            text.replace_range(edit.start as usize..edit.end as usize, &edit.text);
        }
        text
    }

    fn edits(old: &str, new: &str) -> Vec<Edit> {
        let edits = line_edits(old, new);
        assert_eq!(applied(old, &edits), new);
        assert!(edits.windows(2).all(|pair| pair[0].end < pair[1].start), "{edits:?}");
        edits
    }

    #[test]
    fn equal_texts_need_no_edit() {
        assert_eq!(edits("a\nb\n", "a\nb\n"), []);
        assert_eq!(edits("", ""), []);
    }

    #[test]
    fn only_the_changed_line_is_replaced() {
        let found = edits("a\n  b\nc\n", "a\nb\nc\n");
        assert_eq!(found, [Edit { start: 2, end: 6, text: "b\n".to_owned() }]);
    }

    #[test]
    fn lines_that_come_and_go_keep_the_rest() {
        assert_eq!(edits("a\n\n\nb\nc", "a\n\nb\nc\n").len(), 2);
        assert_eq!(edits("a\nb\n", "new\na\nb\n"), [Edit { start: 0, end: 0, text: "new\n".to_owned() }]);
        assert_eq!(edits("a\nb\n", "a\n"), [Edit { start: 2, end: 4, text: String::new() }]);
        assert_eq!(edits("", "a\n").len(), 1);
        assert_eq!(edits("a\n", "").len(), 1);
    }

    #[test]
    fn a_long_changed_stretch_is_one_edit_and_the_end_is_kept() {
        let lines = |indent: &str| (0..200).map(|at| format!("{indent}line {at}\n")).collect::<String>();
        let (old, new) = (lines("  ") + "end\n", lines("") + "end\n");
        let found = edits(&old, &new);
        assert_eq!(found.len(), 1);
        assert_eq!(found[0].end as usize, old.len() - "end\n".len());
    }
}
