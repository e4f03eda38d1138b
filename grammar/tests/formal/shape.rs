//! Characters against expressions: where what an expression stands for may end.

use std::collections::{BTreeMap, BTreeSet};

use super::notation::{Expression, Production};

/// The productions of a page by name.
pub(crate) type Productions = BTreeMap<String, Production>;

/// Every byte at which a text that matches `expression` and begins at byte `from` may end.
pub(crate) fn ends(all: &Productions, expression: &Expression, text: &str, from: usize) -> BTreeSet<usize> {
    match expression {
        Expression::Literal(literal) => {
            text[from..].starts_with(literal.as_str()).then_some(from + literal.len()).into_iter().collect()
        }
        Expression::Class { others, ranges } => {
            let found = text[from..].chars().next();
            let fits =
                |letter: &char| ranges.iter().any(|(low, high)| (low..=high).contains(&letter)) != *others;
            found.filter(fits).map(|letter| from + letter.len_utf8()).into_iter().collect()
        }
        Expression::Name(name) => ends(all, &all[name].stands_for, text, from),
        Expression::Sequence(parts) => parts.iter().fold(BTreeSet::from([from]), |starts, part| {
            starts.into_iter().flat_map(|start| ends(all, part, text, start)).collect()
        }),
        Expression::Choice(choices) => {
            choices.iter().flat_map(|choice| ends(all, choice, text, from)).collect()
        }
        Expression::Repeat { inner, least, once } => repeated(all, inner, (*least, *once), text, from),
        Expression::Except(wanted, unwanted) => {
            let mut found = ends(all, wanted, text, from);
            found.retain(|end| !ends(all, unwanted, &text[..*end], from).contains(end));
            found
        }
    }
}

fn repeated(
    all: &Productions,
    inner: &Expression,
    (least, once): (usize, bool),
    text: &str,
    from: usize,
) -> BTreeSet<usize> {
    let mut found = if least == 0 { BTreeSet::from([from]) } else { BTreeSet::new() };
    let mut newest = BTreeSet::from([from]);
    while !newest.is_empty() {
        let next = newest.iter().flat_map(|start| ends(all, inner, text, *start));
        newest = next.filter(|end| !found.contains(end)).collect();
        found.extend(newest.iter().copied());
        if once {
            break;
        }
    }
    found
}

/// Whether the whole of `text` matches.
pub(crate) fn is(all: &Productions, expression: &Expression, text: &str) -> bool {
    ends(all, expression, text, 0).contains(&text.len())
}

/// Whether the whole of `text` matches the production of this name.
pub(crate) fn is_a(all: &Productions, name: &str, text: &str) -> bool {
    is(all, &all[name].stands_for, text)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::notation::productions;

    fn matched(expression: &str, text: &str) -> Vec<usize> {
        let page = format!("```ebnf\nwhole ::= {expression}\nDIGIT ::= [0-9]\n```");
        let all = productions(&page).into_iter().map(|it| (it.name.clone(), it)).collect();
        ends(&all, &Expression::Name("whole".to_owned()), text, 0).into_iter().collect()
    }

    #[test]
    fn each_form_of_the_notation_matches_what_it_says() {
        for (expression, text, found) in [
            ("'ab' | \"a\" /* either */", "abc", vec![1, 2]),
            ("[a-c#xE9]+", "aéd", vec![1, 3]),
            ("[^a]", "ab", vec![]),
            ("[^a]", "ba", vec![1]),
            ("DIGIT* '.'?", "12.", vec![0, 1, 2, 3]),
            ("(DIGIT DIGIT)+", "12345", vec![2, 4]),
            ("DIGIT+ - '12'", "123", vec![1, 3]),
            ("#xD #xA | #xA", "\r\n", vec![2]),
            ("'\\\"' | [^\"\\#x0-#x1F]", "\\\"", vec![2]),
            ("DIGIT [C: some] 'x'", "1x", vec![2]),
        ] {
            assert_eq!(matched(expression, text), found, "{expression} on {text:?}");
        }
    }
}
