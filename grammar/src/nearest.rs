//! The nearest name: what somebody who mistyped a word most likely meant.

/// The candidate that `word` most likely stands for: the same but for case, or else the fewest slips away, at most one
/// slip for every three letters. The first of equally near ones wins, so the order of candidates is the order of
/// preference. `None` when nothing is near.
pub fn nearest<'a>(word: &str, candidates: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    let limit = (word.chars().count().max(2) / 3).clamp(1, 3);
    let mut best: Option<(usize, &'a str)> = None;
    for candidate in candidates {
        let slips =
            if candidate.eq_ignore_ascii_case(word) { Some(0) } else { distance(word, candidate, limit) };
        if let Some(slips) = slips
            && best.is_none_or(|(fewest, _)| slips < fewest)
        {
            best = Some((slips, candidate));
        }
    }
    best.map(|(_, candidate)| candidate)
}

/// The number of slips between two words, if it is at most `limit`. A slip is a letter too many, too few, wrong, or
/// swapped with its neighbour (the restricted Damerau–Levenshtein distance).
pub(crate) fn distance(one: &str, other: &str, limit: usize) -> Option<usize> {
    // A character has at most four bytes: words of very different length are not looked at letter by letter.
    if one.len() > 4 * (other.len() + limit) || other.len() > 4 * (one.len() + limit) {
        return None;
    }
    let one: Vec<char> = one.chars().collect();
    let other: Vec<char> = other.chars().collect();
    if one.len().abs_diff(other.len()) > limit {
        return None;
    }
    let mut before_last: Vec<usize> = Vec::new();
    let mut last: Vec<usize> = (0..=other.len()).collect();
    for (row, letter) in one.iter().enumerate() {
        let mut current = vec![row + 1];
        for (column, against) in other.iter().enumerate() {
            let at = |line: &[usize], index: usize| line.get(index).copied().unwrap_or(usize::MAX - 1);
            let mut slips = (at(&last, column) + usize::from(letter != against))
                .min(at(&last, column + 1) + 1)
                .min(at(&current, column) + 1);
            let swapped = row > 0
                && column > 0
                && one.get(row - 1) == Some(against)
                && other.get(column - 1) == Some(letter);
            if swapped {
                slips = slips.min(at(&before_last, column - 1) + 1);
            }
            current.push(slips);
        }
        if current.iter().min().is_none_or(|fewest| *fewest > limit) {
            return None;
        }
        before_last = std::mem::replace(&mut last, current);
    }
    last.last().copied().filter(|slips| *slips <= limit)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn slips_are_counted() {
        assert_eq!(distance("motor", "motor", 2), Some(0));
        assert_eq!(distance("mtoor", "motor", 2), Some(1));
        assert_eq!(distance("moter", "motor", 2), Some(1));
        assert_eq!(distance("motr", "motor", 2), Some(1));
        assert_eq!(distance("contakter", "contactor", 1), None);
        assert_eq!(distance("", "ab", 2), Some(2));
        assert_eq!(distance("fuse", "wire", 2), None);
    }

    #[test]
    fn the_nearest_is_found_and_far_ones_are_not_offered() {
        let kinds = ["motor", "meter", "fuse", "wire", "contactor"];
        assert_eq!(nearest("moter", kinds), Some("motor"));
        assert_eq!(nearest("FUSE", kinds), Some("fuse"));
        assert_eq!(nearest("contacter", kinds), Some("contactor"));
        assert_eq!(nearest("banana", kinds), None);
        assert_eq!(nearest("", kinds), None);
    }
}
