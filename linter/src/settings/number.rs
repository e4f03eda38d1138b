//! Numbers with units out of a text, read by the language's own parser, so that a value is spelt the same everywhere.

use wattle_grammar::{
    evaluate::{Evaluated, Surroundings, Trouble, evaluate},
    parse,
    quantity::Quantity,
    span::{FileId, Span},
    syntax::Item,
};

/// Why a text is no quantity.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Mistake {
    /// Where in the text, bytes.
    pub at: (usize, usize),
    /// What is wrong, as the language says it.
    pub message: String,
    /// What would be right.
    pub help: Option<String>,
}

/// What stands before the value in the text that the parser is given.
const HEAD: &str = "wattle 1\nlet VALUE = ";

/// The quantity that a text says.
pub(super) fn read(text: &str) -> Result<Quantity, Mistake> {
    let whole = (0, text.len());
    let plain = |message: String| Mistake { at: whole, message, help: None };
    let shown = || wattle_grammar::error::quoted(text);
    if text.trim().is_empty() {
        return Err(plain("there is no value between the quotes".to_owned()));
    }
    if text.contains(['\n', '\r', ';', '#', '{', '}', '"']) {
        return Err(plain(format!("{} is no number with a unit", shown())));
    }
    let parsed = parse(FileId(0), &format!("{HEAD}{text}\n"));
    if let Some(error) = parsed.errors.first() {
        let at = within(error.span, text);
        return Err(Mistake { at, message: error.message.clone(), help: error.help.clone() });
    }
    let value = parsed.file.items.iter().find_map(|item| match item {
        Item::Let(constant) => Some(&constant.value),
        _ => None,
    });
    let mut alone = Alone;
    match value.and_then(|value| evaluate(value, &mut alone)) {
        Some(Evaluated::Quantity(quantity)) => Ok(quantity),
        Some(other) => Err(plain(format!("{} is {}, one number is due", shown(), other.noun()))),
        None => Err(plain(format!("{} has no value", shown()))),
    }
}

/// A place in the parser's text as one in the value's.
fn within(span: Span, text: &str) -> (usize, usize) {
    let at = |offset: u32| (offset as usize).saturating_sub(HEAD.len()).min(text.len());
    let (start, end) = (at(span.start), at(span.end));
    if start < end && text.is_char_boundary(start) && text.is_char_boundary(end) {
        (start, end)
    } else {
        (0, text.len())
    }
}

/// Nothing around: a settings file has no constants.
struct Alone;

impl Surroundings for Alone {
    fn constant(&mut self, _: &str, _: Span) -> Option<Evaluated> {
        None
    }

    fn tell(&mut self, _: Trouble) {}
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn values_are_spelt_as_in_the_language() {
        for (text, printed) in [
            ("18 AWG", "18 AWG"),
            ("1.0 mm2", "1 mm²"),
            ("30 degC", "30 °C"),
            ("70 %", "70 %"),
            ("7 in", "7 in"),
        ] {
            assert_eq!(read(text).map(|found| found.to_string()), Ok(printed.to_owned()));
        }
    }

    #[test]
    fn what_is_no_quantity_says_why() {
        for text in ["", "ten", "10 Amps", "10 ma", "1 .. 2 A", "10 A; fuse F", "1e999 A", "x\ny"] {
            let mistake = read(text).unwrap_err();
            assert!(!mistake.message.is_empty() && mistake.at.1 <= text.len(), "{text}: {mistake:?}");
        }
        assert_eq!(read("10 Amps").unwrap_err().at, (3, 7));
    }
}
