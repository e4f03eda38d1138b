//! Finding rows of the table: a kind by word or identity, a rating by key, by dimension or by word.

use super::{ALL, COMMON, Kind, KindId, Rating, RatingShape};
use crate::quantity::Dimension;

/// The kind with this keyword.
#[must_use]
pub fn by_word(word: &str) -> Option<&'static Kind> {
    ALL.iter().copied().find(|kind| kind.word == word)
}

/// The kind with this identity.
#[must_use]
pub fn by_id(id: KindId) -> Option<&'static Kind> {
    ALL.iter().copied().find(|kind| kind.id == id)
}

impl Kind {
    /// Every rating a thing of this kind can carry: its own, then those that any thing can carry.
    pub fn all_ratings(&self) -> impl Iterator<Item = &'static Rating> {
        self.ratings.iter().chain(COMMON)
    }

    /// The rating written under `key`.
    #[must_use]
    pub fn rating(&self, key: &str) -> Option<&'static Rating> {
        self.all_ratings().find(|rating| rating.key == key)
    }

    /// The rating that a value of this dimension means when it stands on the line without a key.
    #[must_use]
    pub fn inline_quantity(&self, dimension: Dimension) -> Option<&'static Rating> {
        inline_quantity(self.ratings, dimension)
    }

    /// The rating that this word means when it stands on the line without a key: one of its words, or a flag's key.
    #[must_use]
    pub fn inline_word(&self, word: &str) -> Option<&'static Rating> {
        inline_word(self.ratings, word)
    }
}

/// Among `ratings`, the one written under `key`: for the rows of [`super::setting`].
#[must_use]
pub fn rating_in(ratings: &'static [Rating], key: &str) -> Option<&'static Rating> {
    ratings.iter().find(|rating| rating.key == key)
}

/// Among `ratings`, the one that a value of this dimension means on the line without a key.
#[must_use]
pub fn inline_quantity(ratings: &'static [Rating], dimension: Dimension) -> Option<&'static Rating> {
    ratings.iter().find(|rating| rating.inline && rating.dimension() == Some(dimension))
}

/// Among `ratings`, the one that this word means on the line without a key.
#[must_use]
pub fn inline_word(ratings: &'static [Rating], word: &str) -> Option<&'static Rating> {
    ratings.iter().find(|rating| rating.inline && rating.is_named_by(word))
}

impl Rating {
    /// The dimension of the number that is due, if one is.
    #[must_use]
    pub const fn dimension(&self) -> Option<Dimension> {
        match self.shape {
            RatingShape::Quantity(dimension) | RatingShape::Range(dimension) => Some(dimension),
            _ => None,
        }
    }

    /// Whether a number of this dimension may stand behind the key. A count may be a bare number there: `poles 2`.
    #[must_use]
    pub fn accepts(&self, dimension: Dimension) -> bool {
        let counted = matches!(
            self.dimension(),
            Some(Dimension::Cells | Dimension::Strings | Dimension::Ways | Dimension::Poles)
        );
        self.dimension() == Some(dimension) || (counted && dimension == Dimension::Number)
    }

    /// The words that may be written, each with its meaning; empty for other shapes.
    #[must_use]
    pub const fn words(&self) -> &'static [(&'static str, &'static str)] {
        match self.shape {
            RatingShape::Word(words) | RatingShape::Words(words) => words,
            _ => &[],
        }
    }

    /// Whether it is a matter of yes and no.
    #[must_use]
    pub const fn is_flag(&self) -> bool {
        matches!(self.shape, RatingShape::Flag)
    }

    /// Whether a value in the base unit can be meant.
    #[must_use]
    pub fn allows(&self, value: f64) -> bool {
        self.within.is_none_or(|(least, most)| (least..=most).contains(&value))
    }

    fn is_named_by(&self, word: &str) -> bool {
        (self.is_flag() && self.key == word) || self.words().iter().any(|(known, _)| *known == word)
    }
}
