//! The name that was probably meant: the nearest by single-character edits.

/// The candidate with the fewest insertions, deletions, replacements and swaps of neighbours from `word`, if it is
/// near enough to be worth offering: at most a third of the word's length, and at least one. Of equals the first.
#[must_use]
pub fn nearest<'a>(word: &str, candidates: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    let word: Vec<char> = word.chars().take(LONGEST).collect();
    let limit = (word.len() / 3).max(1);
    let measured = candidates.into_iter().map(|candidate| (distance(&word, candidate), candidate));
    measured
        .filter(|(distance, _)| *distance <= limit)
        .min_by_key(|(distance, _)| *distance)
        .map(|(_, name)| name)
}

/// Longer words are compared by their beginning only: the work grows with the square of the length.
const LONGEST: usize = 64;

/// Edit distance with swaps of neighbours (restricted Damerau–Levenshtein distance), by the usual table of three rows.
fn distance(word: &[char], candidate: &str) -> usize {
    let candidate: Vec<char> = candidate.chars().take(LONGEST).collect();
    let mut before = Vec::new();
    let mut above: Vec<usize> = (0..=candidate.len()).collect();
    for (row, letter) in word.iter().enumerate() {
        let mut here = vec![row + 1];
        for (column, other) in candidate.iter().enumerate() {
            let at = |cells: &[usize], column: usize| cells.get(column).copied().unwrap_or(usize::MAX / 2);
            let replaced = at(&above, column) + usize::from(letter != other);
            let mut least = replaced.min(at(&above, column + 1) + 1).min(at(&here, column) + 1);
            let swapped = row > 0
                && column > 0
                && word.get(row - 1) == Some(other)
                && candidate.get(column - 1) == Some(letter);
            if swapped {
                least = least.min(at(&before, column - 1) + 1);
            }
            here.push(least);
        }
        before = std::mem::replace(&mut above, here);
    }
    above.last().copied().unwrap_or(0)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn between(a: &str, b: &str) -> usize {
        distance(&a.chars().collect::<Vec<_>>(), b)
    }

    #[test]
    fn distances() {
        assert_eq!(between("", ""), 0);
        assert_eq!(between("", "abc"), 3);
        assert_eq!(between("fuse", "fuse"), 0);
        assert_eq!(between("fues", "fuse"), 1);
        assert_eq!(between("kitten", "sitting"), 3);
        assert_eq!(between("é😀", "e😀"), 1);
    }

    #[test]
    fn only_near_names_are_offered() {
        let names = ["wire.undersized", "wire.unprotected", "fuse.oversized"];
        assert_eq!(nearest("wire.undersised", names), Some("wire.undersized"));
        assert_eq!(nearest("wire.unprotetced", names), Some("wire.unprotected"));
        assert_eq!(nearest("battery.flat", names), None);
        assert_eq!(nearest("x", ["a", "b"]), Some("a"));
        assert_eq!(nearest("x", []), None);
    }
}
