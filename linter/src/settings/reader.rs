//! Reads the values of a settings file, each with its place, and keeps the mistakes.

use std::ops::Range;

use toml::{
    Spanned,
    de::{DeTable, DeValue, Error},
};
use wattle_grammar::{
    error::{TextError, quoted},
    nearest::nearest,
    quantity::{Dimension, Quantity},
    span::{FileId, Span},
    unit::write_scaled,
};

use super::{key, number};
use crate::complaint::listed;

/// A value with its place.
pub(super) type Value<'t> = Spanned<DeValue<'t>>;

/// Which numbers a key takes.
#[derive(Clone, Copy, Debug)]
pub(super) struct Due {
    /// What it measures.
    pub dimension: Dimension,
    /// The least and the most, base unit.
    pub within: (f64, f64),
    /// One as it would be written.
    pub example: &'static str,
}

/// A settings file while it is read.
pub(super) struct Reader<'t> {
    text: &'t str,
    file: FileId,
    errors: Vec<TextError>,
}

impl<'t> Reader<'t> {
    pub(super) const fn new(text: &'t str, file: FileId) -> Self {
        Self { text, file, errors: Vec::new() }
    }

    /// The mistakes in place order.
    pub(super) fn into_errors(mut self) -> Vec<TextError> {
        self.errors.sort_by(|one, other| (one.span, &one.message).cmp(&(other.span, &other.message)));
        self.errors
    }

    /// How many mistakes there are so far.
    pub(super) const fn mistakes(&self) -> usize {
        self.errors.len()
    }

    /// A place of the file.
    pub(super) fn span(&self, range: Range<usize>) -> Span {
        let at = |offset: usize| u32::try_from(offset.min(self.text.len())).unwrap_or(u32::MAX);
        Span::new(self.file, at(range.start), at(range.end))
    }

    pub(super) fn tell(&mut self, error: TextError) {
        self.errors.push(error);
    }

    /// The text is no TOML.
    pub(super) fn not_toml(&mut self, mistake: &Error) {
        let span = self.span(mistake.span().unwrap_or(0..0));
        let said = mistake.message().lines().collect::<Vec<_>>().join(", ");
        let error =
            TextError::new("settings.not-toml", span, format!("this is no TOML: {said}"), "not understood");
        let help = "a value is a text in quotes or a list of such in brackets: `air = \"30 °C\"`; nothing of the file was used";
        self.tell(error.help(help));
    }

    /// `profile = "own"` without a table.
    pub(super) fn no_table(&mut self, root: &DeTable<'_>) {
        let Some(value) = root.get("profile") else { return };
        let message = "`own` is the table `[ampacity]`, and there is none in this file";
        let error = TextError::new("settings.missing-key", self.span(value.span()), message, "needs a table");
        self.tell(error.help("write the table below: its `name`, `source`, `air`, `insulation` and `sizes`"));
    }

    /// Tells every key that the table does not have, and every one that it lacks. `name` is empty for the file itself.
    pub(super) fn known_keys(&mut self, table: &DeTable<'_>, name: &str) {
        let known: Vec<&str> = key::of(name).map(|key| key.name).collect();
        for written in table.keys().filter(|written| !known.contains(&&**written.get_ref())) {
            self.unknown_key(written, name, &known);
        }
    }

    fn unknown_key(&mut self, written: &Spanned<std::borrow::Cow<'_, str>>, table: &str, known: &[&str]) {
        let (word, span) = (written.get_ref(), self.span(written.span()));
        let whose = if table.is_empty() { "the settings file".to_owned() } else { format!("`[{table}]`") };
        let message = format!("{} is no key of {whose}", quoted(word));
        let error = TextError::new("settings.unknown-key", span, message, "no such key");
        self.tell(match nearest(word, known.iter().copied()) {
            Some(meant) => error.help(format!("write `{meant}`")).mend(span, meant.to_owned()),
            None => {
                let known: Vec<String> = known.iter().map(|key| format!("`{key}`")).collect();
                error.help(format!("its keys are {}", listed(&known, "and")))
            }
        });
    }

    /// A value that a table is of no use without.
    pub(super) fn demanded<'v, 'i>(
        &mut self,
        table: &'v DeTable<'i>,
        (name, whole): (&str, Span),
        wanted: &str,
    ) -> Option<&'v Value<'i>> {
        let found = table.get(wanted);
        if found.is_none() {
            let example = key::of(name).find(|key| key.name == wanted).map_or("", |key| key.example);
            let message = format!("`[{name}]` lacks `{wanted}`");
            let write = if example.starts_with('[') && !example.contains('"') {
                format!("write a table `{example}`")
            } else {
                format!("write `{wanted} = {example}`")
            };
            self.tell(
                TextError::new("settings.missing-key", whole, message, format!("`{wanted}` is due"))
                    .help(write),
            );
        }
        found
    }

    /// A table.
    pub(super) fn table<'v, 'i>(&mut self, value: &'v Value<'i>, key: &str) -> Option<&'v DeTable<'i>> {
        let found = value.get_ref().as_table();
        if found.is_none() {
            self.wrong_sort(
                value,
                key,
                "a table",
                &format!("write `[{key}]` on a line of its own, its keys below"),
            );
        }
        found
    }

    /// A list.
    pub(super) fn list<'v, 'i>(
        &mut self,
        value: &'v Value<'i>,
        key: &str,
        example: &str,
    ) -> Option<&'v [Value<'i>]> {
        let found = value.get_ref().as_array();
        if found.is_none() {
            self.wrong_sort(value, key, "a list in brackets", &format!("write `{example}`"));
        }
        found.map(|list| &**list)
    }

    /// A text that says something.
    pub(super) fn text(&mut self, value: &Value<'_>, key: &str) -> Option<String> {
        let Some(text) = value.get_ref().as_str() else {
            self.wrong_sort(value, key, "a text in quotes", "put it in quotes");
            return None;
        };
        let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
        if text.is_empty() {
            let message = format!("`{key}` says nothing");
            let error = TextError::new(
                "settings.wrong-value",
                self.span(value.span()),
                message,
                "a text is due here",
            );
            self.tell(error.help("every report prints it: write what a reader can look up"));
            return None;
        }
        Some(text)
    }

    /// One of some words.
    pub(super) fn word(
        &mut self,
        value: &Value<'_>,
        key: &str,
        words: &[&'static str],
    ) -> Option<&'static str> {
        let Some(text) = value.get_ref().as_str() else {
            self.wrong_sort(value, key, "a word in quotes", "put it in quotes");
            return None;
        };
        let found = words.iter().copied().find(|word| *word == text);
        if found.is_none() {
            let message = format!("{} is no {key}", quoted(text));
            let error =
                TextError::new("settings.unknown-word", self.span(value.span()), message, "no such word");
            let quoted: Vec<String> = words.iter().map(|word| format!("`\"{word}\"`")).collect();
            let error = error.help(match nearest(text, words.iter().copied()) {
                Some(meant) => format!("write `\"{meant}\"`"),
                None => format!("it is one of {}", listed(&quoted, "and")),
            });
            self.tell(error);
        }
        found
    }

    /// A number with its unit, in quotes.
    pub(super) fn quantity(&mut self, value: &Value<'_>, key: &str, due: Due) -> Option<Quantity> {
        let Some(text) = value.get_ref().as_str() else {
            let what = format!("{} with its unit, in quotes", due.dimension.noun());
            self.wrong_sort(value, key, &what, &format!("write `\"{}\"`", due.example));
            return None;
        };
        self.quantity_in(text, value.span(), key, due)
    }

    /// A number with its unit out of a text that stands in quotes at `range`.
    pub(super) fn quantity_in(
        &mut self,
        text: &str,
        range: Range<usize>,
        key: &str,
        due: Due,
    ) -> Option<Quantity> {
        match number::read(text) {
            Ok(quantity) if quantity.dimension != due.dimension => {
                let (found, wanted) = (quantity.dimension.noun(), due.dimension.noun());
                let message = format!("{} takes {wanted}, found {found}, {}", named(key), quoted(text));
                let error = TextError::new(
                    "settings.wrong-dimension",
                    self.span(range),
                    message,
                    format!("{wanted} is due here"),
                );
                self.tell(error.help(format!("write it as `\"{}\"`", due.example)));
                None
            }
            Ok(quantity) if !(due.within.0..=due.within.1).contains(&quantity.value) => {
                let message = format!(
                    "{} of {quantity} cannot be meant: it lies between {} and {}",
                    named(key),
                    shown(due.within.0, due.dimension),
                    shown(due.within.1, due.dimension)
                );
                let error =
                    TextError::new("settings.out-of-range", self.span(range), message, "out of range");
                self.tell(error.help(format!("write it as `\"{}\"`", due.example)));
                None
            }
            Ok(quantity) => Some(quantity),
            Err(mistake) => {
                let at = self.inside(text, &range, mistake.at);
                let error = TextError::new(
                    "settings.wrong-value",
                    at,
                    mistake.message,
                    format!("{} is due here", due.dimension.noun()),
                );
                let help = mistake.help.unwrap_or_else(|| format!("write it as `\"{}\"`", due.example));
                self.tell(error.help(help));
                None
            }
        }
    }

    /// The place of a part of a text in quotes; the whole where it is written with escapes.
    fn inside(&self, text: &str, range: &Range<usize>, part: (usize, usize)) -> Span {
        let raw = self.text.get(range.clone()).unwrap_or_default();
        if raw.get(1..raw.len().saturating_sub(1)) == Some(text) {
            return self.span(range.start + 1 + part.0..range.start + 1 + part.1);
        }
        self.span(range.clone())
    }

    fn wrong_sort(&mut self, value: &Value<'_>, key: &str, due: &str, help: &str) {
        let span = self.span(value.span());
        let message = format!("{} takes {due}, found {}", named(key), sort_of(value.get_ref()));
        self.tell(
            TextError::new("settings.wrong-value", span, message, format!("{due} is due here")).help(help),
        );
    }
}

/// A key in back quotes; what has no key of its own, as `a size`, in words.
fn named(key: &str) -> String {
    if key.contains(' ') { key.to_owned() } else { format!("`{key}`") }
}

fn shown(value: f64, dimension: Dimension) -> String {
    struct Shown(f64, Dimension);
    impl std::fmt::Display for Shown {
        fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
            write_scaled(f, self.0, wattle_grammar::unit::base_symbol(self.1))
        }
    }
    Shown(value, dimension).to_string()
}

const fn sort_of(value: &DeValue<'_>) -> &'static str {
    match value {
        DeValue::String(_) => "a text",
        DeValue::Integer(_) | DeValue::Float(_) => "a number without a unit",
        DeValue::Boolean(_) => "a yes or no",
        DeValue::Datetime(_) => "a date",
        DeValue::Array(_) => "a list",
        DeValue::Table(_) => "a table",
    }
}
