//! The constraints of the page, by name.

use super::tree::Tree;
use wattle_grammar::unit::{THICKEST_AWG, THINNEST_AWG, by_spelling};

/// The constraints that are checked here; the page explains each.
pub(crate) const NAMES: [&str; 6] = ["calendar", "ends", "number", "once", "quantity", "unit"];

/// Whether a token breaks one of the constraints of its production.
pub(crate) fn of_token(name: &str, text: &str) -> Result<(), String> {
    let sound = match name {
        "NUMBER" => number(text).is_some_and(f64::is_finite),
        "QUANTITY" => quantity(text),
        "DATE" => calendar(text),
        _ => true,
    };
    if sound { Ok(()) } else { Err(format!("{text} breaks a constraint of {name}")) }
}

/// A gauge that exists, or a value that is finite in the base unit, too.
fn quantity(text: &str) -> bool {
    if let Some(size) = text.strip_prefix("AWG").or_else(|| text.strip_suffix("AWG")) {
        return gauge(size.trim());
    }
    text.char_indices().any(|(at, _)| {
        let value = number(text[..at].trim());
        by_spelling(&text[at..]).zip(value).is_some_and(|(unit, value)| unit.quantity(value).is_some())
    })
}

/// The value of a number or fraction.
fn number(text: &str) -> Option<f64> {
    let one = |text: &str| text.replace('_', "").parse::<f64>().ok();
    match text.split_once('/') {
        Some((top, bottom)) => Some(one(top)? / one(bottom)?),
        None => one(text),
    }
}

fn gauge(size: &str) -> bool {
    let whole = |text: &str, least: f64, most: f64| {
        number(text).is_some_and(|size| (least..=most).contains(&size) && size.fract() == 0.0)
    };
    match size.split_once('/') {
        Some((top, _)) => whole(top, 1.0, 1.0 - THICKEST_AWG),
        None if size.bytes().all(|digit| digit == b'0') => size.len() <= 4,
        None => whole(size, 0.0, THINNEST_AWG),
    }
}

fn calendar(date: &str) -> bool {
    let mut parts = date.split('-').map(|part| part.parse::<u32>().unwrap_or(0));
    let [year, month, day] = [(); 3].map(|()| parts.next().unwrap_or(0));
    let leap = year % 4 == 0 && year % 100 != 0 || year % 400 == 0;
    let lengths = [31, if leap { 29 } else { 28 }, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];
    let length = (month as usize).checked_sub(1).and_then(|month| lengths.get(month));
    length.is_some_and(|length| (1..=*length).contains(&day))
}

/// Whether what a production was made of breaks its constraint of this name.
pub(crate) fn of_tree(constraint: &str, tree: &Tree<'_, '_>) -> Result<(), String> {
    let sound = match constraint {
        "once" => once(tree),
        "unit" => !is_alone(tree, "NUMBER", &["(", ")", "+", "-", "−"]),
        "ends" => ends(tree),
        other => panic!("no constraint {other} of a tree"),
    };
    if sound { Ok(()) } else { Err(format!("breaks `{constraint}`")) }
}

/// At most one label, part, `on` and `at` among the pieces.
fn once(tree: &Tree<'_, '_>) -> bool {
    let open = |tree: &Tree<'_, '_>| ["piece", "facts", "fact"].contains(&tree.name());
    let pieces = pieces(tree, &open);
    let count =
        |wanted: &dyn Fn(&Tree<'_, '_>) -> bool| pieces.iter().filter(|piece| wanted(piece)).count() <= 1;
    let labelled = tree.name() != "conductor";
    [":", "on", "at"].into_iter().all(|word| count(&|piece| piece.is_word(word)))
        && (!labelled || count(&|piece| piece.name() == "rating" && is_alone(piece, "TEXT", &[])))
}

/// The children of a tree, those that are `open` replaced by theirs.
fn pieces<'r, 's, 't>(tree: &'r Tree<'s, 't>, open: &dyn Fn(&Tree<'_, '_>) -> bool) -> Vec<&'r Tree<'s, 't>> {
    let inner = |child: &'r Tree<'s, 't>| if open(child) { pieces(child, open) } else { vec![child] };
    tree.children().iter().flat_map(inner).collect()
}

/// Whether a value is one token of this name and nothing else but `beside`.
fn is_alone(value: &Tree<'_, '_>, name: &str, beside: &[&str]) -> bool {
    let mut rest = value.leaves();
    rest.retain(|symbol| !beside.contains(&symbol.text));
    matches!(rest.as_slice(), [only] if only.name == name)
}

/// A setting between cores that is not a core with something missing.
fn ends(core: &Tree<'_, '_>) -> bool {
    let Some(setting) = core.children().iter().find(|child| child.name() == "setting") else { return true };
    let values = setting.children().iter().flat_map(|child| pieces(child, &|tree| tree.name() == "values"));
    let values: Vec<_> = values.filter(|child| child.name() == "value").collect();
    let is_path = |value: &&Tree<'_, '_>| is_alone(value, "PATH", &["(", ")"]);
    let begins_spare = values
        .first()
        .is_some_and(|value| matches!(value.leaves().as_slice(), [only] if only.text == "spare"));
    let leaves = setting.leaves();
    let denies = leaves.first().is_some_and(|first| matches!(first.text, "not" | "no"));
    let spare = if denies { leaves.get(1).is_some_and(|key| key.text == "spare") } else { begins_spare };
    let ends = values.len() > 1 && values.iter().take(2).any(is_path);
    !spare && !ends
}
