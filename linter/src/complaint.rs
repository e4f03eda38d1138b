//! Ways to word several names in one sentence.

use wattle_grammar::{error::TextError, span::Span};

/// How many names of a cycle are written out before the middle is left out.
const CYCLE_NAMES: usize = 24;

/// `` `a` → `b` → `a` ``: a cycle named whole, back to its first name. Of a very long one the middle is counted only.
pub(crate) fn chain<'a>(names: impl ExactSizeIterator<Item = &'a str>) -> String {
    let quoted: Vec<String> = names.map(|name| format!("`{name}`")).collect();
    let Some((first, last)) = quoted.first().zip(quoted.last()) else { return String::new() };
    if quoted.len() <= CYCLE_NAMES {
        return format!("{} → {first}", quoted.join(" → "));
    }
    let head = quoted.get(..CYCLE_NAMES - 1).unwrap_or_default().join(" → ");
    format!("{head} → ({} more) → {last} → {first}", quoted.len() - CYCLE_NAMES)
}

/// How many members of a circle are shown beside the first.
const CYCLE_PLACES: usize = 8;

/// The error of a circle with the places of its other members.
pub(crate) fn around(mut error: TextError, others: impl Iterator<Item = Span>) -> TextError {
    error.related.extend(others.take(CYCLE_PLACES).map(|span| (span, "a part of the circle".to_owned())));
    error
}

/// `a, b and c`, or `none` for an empty list.
pub(crate) fn listed<S: AsRef<str>>(words: &[S], joint: &str) -> String {
    match words {
        [] => "none".to_owned(),
        [only] => only.as_ref().to_owned(),
        [head @ .., last] => {
            let head: Vec<&str> = head.iter().map(AsRef::as_ref).collect();
            format!("{} {joint} {}", head.join(", "), last.as_ref())
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_cycle_returns_to_its_first_name() {
        assert_eq!(chain(["a", "b"].into_iter()), "`a` → `b` → `a`");
        assert_eq!(chain(std::iter::empty::<&str>().collect::<Vec<_>>().into_iter()), "");
    }

    #[test]
    fn a_very_long_cycle_keeps_both_ends() {
        let names: Vec<String> = (0..100).map(|number| format!("n{number}")).collect();
        let text = chain(names.iter().map(String::as_str));
        assert!(text.starts_with("`n0` → `n1`") && text.ends_with("(76 more) → `n99` → `n0`"), "{text}");
    }

    #[test]
    fn lists_read_as_prose() {
        assert_eq!(listed::<&str>(&[], "and"), "none");
        assert_eq!(listed(&["a"], "and"), "a");
        assert_eq!(listed(&["a", "b", "c"], "or"), "a, b or c");
    }
}
