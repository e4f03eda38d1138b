//! The edits that turn one text into another, so that an editor keeps its caret, folds and marks.
//!
//! Lines that differ in blanks only are the same line to the reader. Those that occur once in either text are paired, as
//! many as keep their order; what lies between pairs is paired line by line if it is as many lines, else replaced as a
//! whole. The work grows as n log n with the number of lines.

use std::ops::Range;

/// The edits that turn `before` into `after`: ranges of bytes of `before`, in order and apart from each other, each with
/// its new text. No range and no new text begins or ends inside a character or between `\r` and `\n`. Equal texts give
/// none.
#[must_use]
pub fn edits(before: &str, after: &str) -> Vec<(Range<u32>, String)> {
    let (old, new) = (Lines::of(before), Lines::of(after));
    let mut differ = Differ { old: &old, new: &new, edits: Vec::new() };
    let (mut old_at, mut new_at) = (0, 0);
    for (one, other) in pairs(&old, &new) {
        differ.gap(old_at..one, new_at..other);
        differ.replace(one..one + 1, other..other + 1);
        (old_at, new_at) = (one + 1, other + 1);
    }
    differ.gap(old_at..old.count(), new_at..new.count());
    differ.edits
}

/// A text and where its lines begin.
struct Lines<'t> {
    text: &'t str,
    /// First byte of each line, and the text's length.
    starts: Vec<usize>,
}

impl<'t> Lines<'t> {
    fn of(text: &'t str) -> Self {
        let mut starts = vec![0];
        starts.extend(text.split_inclusive('\n').scan(0, |end, line| {
            *end += line.len();
            Some(*end)
        }));
        Self { text, starts }
    }

    fn count(&self) -> usize {
        self.starts.len() - 1
    }

    /// First byte of a line; the text's length behind the last.
    fn start(&self, line: usize) -> usize {
        self.starts.get(line).copied().unwrap_or(self.text.len())
    }

    fn slice(&self, lines: Range<usize>) -> &'t str {
        self.text.get(self.start(lines.start)..self.start(lines.end)).unwrap_or("")
    }

    fn line(&self, line: usize) -> &'t str {
        self.slice(line..line + 1)
    }

    /// Each line's key, with the line, for those whose key no other line has; in order of keys.
    fn unique(&self) -> Vec<(u64, usize)> {
        let mut keys: Vec<_> = (0..self.count()).map(|line| (key(self.line(line)), line)).collect();
        keys.sort_unstable();
        keys.chunk_by(|one, other| one.0 == other.0)
            .filter_map(|same| if let [single] = same { Some(*single) } else { None })
            .collect()
    }
}

/// A number that lines with the same characters share, blanks apart (the hash FNV-1a, 64 bits). Two lines that share it by
/// chance are paired badly, which makes an edit longer than it need be and nothing worse.
fn key(line: &str) -> u64 {
    let seen = line.bytes().filter(|byte| !byte.is_ascii_whitespace());
    seen.fold(0xcbf2_9ce4_8422_2325, |hash, byte| (hash ^ u64::from(byte)).wrapping_mul(0x0100_0000_01b3))
}

/// Pairs of lines, an old and a new one, with both rising.
fn pairs(old: &Lines<'_>, new: &Lines<'_>) -> Vec<(usize, usize)> {
    let (mut ours, mut theirs) = (old.unique().into_iter().peekable(), new.unique().into_iter().peekable());
    let mut common = Vec::new();
    while let (Some(one), Some(other)) = (ours.peek(), theirs.peek()) {
        match one.0.cmp(&other.0) {
            std::cmp::Ordering::Equal => {
                common.push((one.1, other.1));
                ours.next();
                theirs.next();
            }
            std::cmp::Ordering::Less => drop(ours.next()),
            std::cmp::Ordering::Greater => drop(theirs.next()),
        }
    }
    common.sort_unstable();
    longest_rising(&common)
}

/// The longest part of `pairs` whose second numbers rise as the first do (patience sorting).
fn longest_rising(pairs: &[(usize, usize)]) -> Vec<(usize, usize)> {
    // Of each length the pair that the best sequence so far ends with, by position in `pairs`.
    let mut ends: Vec<usize> = Vec::new();
    let mut before: Vec<Option<usize>> = Vec::with_capacity(pairs.len());
    let second = |at: usize| pairs.get(at).map_or(0, |pair| pair.1);
    for (at, pair) in pairs.iter().enumerate() {
        let length = ends.partition_point(|end| second(*end) < pair.1);
        before.push(length.checked_sub(1).and_then(|shorter| ends.get(shorter)).copied());
        match ends.get_mut(length) {
            Some(end) => *end = at,
            None => ends.push(at),
        }
    }
    let last = ends.last().copied();
    let chain = std::iter::successors(last, |at| before.get(*at).copied().flatten());
    let mut rising: Vec<_> = chain.filter_map(|at| pairs.get(at).copied()).collect();
    rising.reverse();
    rising
}

struct Differ<'d> {
    old: &'d Lines<'d>,
    new: &'d Lines<'d>,
    edits: Vec<(Range<u32>, String)>,
}

impl Differ<'_> {
    /// Lines between two pairs.
    fn gap(&mut self, mut old: Range<usize>, mut new: Range<usize>) {
        while !old.is_empty() && !new.is_empty() && self.old.line(old.start) == self.new.line(new.start) {
            (old.start, new.start) = (old.start + 1, new.start + 1);
        }
        while !old.is_empty() && !new.is_empty() && self.old.line(old.end - 1) == self.new.line(new.end - 1) {
            (old.end, new.end) = (old.end - 1, new.end - 1);
        }
        if old.len() == new.len() {
            old.zip(new).for_each(|(old, new)| self.replace(old..old + 1, new..new + 1));
        } else {
            self.replace(old, new);
        }
    }

    /// Replaces lines by others, the ends that both have in common left out.
    fn replace(&mut self, old: Range<usize>, new: Range<usize>) {
        let start = self.old.start(old.start);
        let (old, new) = (self.old.slice(old), self.new.slice(new));
        if old == new {
            return;
        }
        let front = common_front(old, new);
        let back = common_back(old.get(front..).unwrap_or(""), new.get(front..).unwrap_or(""));
        let range = position(start + front)..position(start + old.len() - back);
        self.edits.push((range, new.get(front..new.len() - back).unwrap_or("").to_owned()));
    }
}

fn position(byte: usize) -> u32 {
    u32::try_from(byte).unwrap_or(u32::MAX)
}

/// How many bytes two texts have in common at their front.
fn common_front(old: &str, new: &str) -> usize {
    let same = old.bytes().zip(new.bytes()).take_while(|(one, other)| one == other).count();
    (0..=same).rev().find(|at| may_cut(old, *at) && may_cut(new, *at)).unwrap_or(0)
}

/// How many bytes two texts have in common at their back.
fn common_back(old: &str, new: &str) -> usize {
    let same = old.bytes().rev().zip(new.bytes().rev()).take_while(|(one, other)| one == other).count();
    let fits = |length: &usize| may_cut(old, old.len() - length) && may_cut(new, new.len() - length);
    (0..=same).rev().find(fits).unwrap_or(0)
}

/// Whether a text may be cut before a byte: not inside a character nor a line end.
fn may_cut(text: &str, at: usize) -> bool {
    let inside = at > 0 && text.as_bytes().get(at - 1..=at) == Some(b"\r\n");
    text.is_char_boundary(at) && !inside
}

#[cfg(test)]
mod tests;
