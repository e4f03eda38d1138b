//! The rows of the table that a statement can carry, whatever it is: a thing of a kind, a wire, a place.

use wattle_grammar::{
    kind::{Rating, RatingShape, colour, inline_quantity, inline_word, key},
    quantity::Dimension,
};

use crate::complaint::listed;

/// The rows open to one statement.
#[derive(Clone, Copy, Debug)]
pub(super) struct Rows {
    /// What the statement is, with its article: `a fuse`.
    pub(super) noun: Noun,
    /// Its own rows, the only ones that count on the line.
    pub(super) own: &'static [Rating],
    /// Rows that any statement of its sort can carry.
    pub(super) common: &'static [Rating],
}

/// A word of the trade that takes an article.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Noun(pub(super) &'static str);

impl std::fmt::Display for Noun {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let vowel = self.0.starts_with(['a', 'e', 'i', 'o', 'u']);
        write!(f, "{} {}", if vowel { "an" } else { "a" }, self.0)
    }
}

impl Rows {
    /// Every row.
    pub(super) fn all(self) -> impl Iterator<Item = &'static Rating> {
        self.own.iter().chain(self.common)
    }

    /// The row under `key`.
    pub(super) fn rating(self, key: &str) -> Option<&'static Rating> {
        self.all().find(|rating| rating.key == key)
    }

    /// The row that a value of this dimension means on the line.
    pub(super) fn by_dimension(self, dimension: Dimension) -> Option<&'static Rating> {
        inline_quantity(self.own, dimension)
    }

    /// The row that a word means on the line.
    pub(super) fn by_word(self, word: &str) -> Option<&'static Rating> {
        let striped = || word.contains('/') && colour::code(word).is_some();
        inline_word(self.own, word).or_else(|| {
            self.own.iter().find(|rating| rating.inline && rating.key == key::COLOUR && striped())
        })
    }

    /// The row that a text in quotes means on the line.
    pub(super) fn by_text(self) -> Option<&'static Rating> {
        self.own.iter().find(|rating| rating.inline && matches!(rating.shape, RatingShape::Text))
    }

    /// Every word that may stand on the line.
    pub(super) fn line_words(self) -> impl Iterator<Item = &'static str> {
        self.own.iter().filter(|rating| rating.inline).flat_map(|rating| {
            let flag = rating.is_flag().then_some(rating.key);
            flag.into_iter().chain(rating.words().iter().map(|(word, _)| *word))
        })
    }

    /// What may stand on the line, as a sentence's end: `its current, voltage and style`.
    pub(super) fn line_keys(self) -> String {
        let keys: Vec<String> = self
            .own
            .iter()
            .filter(|rating| rating.inline)
            .map(|rating| format!("`{}`", rating.key))
            .collect();
        listed(&keys, "and")
    }
}
