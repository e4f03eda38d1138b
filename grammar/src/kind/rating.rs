//! How the table's rows are put together: one constructor for each shape, and the few words that refine a row.

use super::{Default, Rating, RatingShape};
use crate::quantity::Dimension;

impl Rating {
    /// One quantity above zero.
    pub(in crate::kind) const fn quantity(
        key: &'static str,
        dimension: Dimension,
        doc: &'static str,
    ) -> Self {
        let mut row = Self::of(key, RatingShape::Quantity(dimension), doc);
        row.within = Some(plausible(dimension));
        row
    }

    /// A range `low .. high`, both ends above zero (a temperature may be below).
    pub(in crate::kind) const fn range(key: &'static str, dimension: Dimension, doc: &'static str) -> Self {
        let mut row = Self::of(key, RatingShape::Range(dimension), doc);
        row.within = Some(plausible(dimension));
        row
    }

    /// One of some words, each with its meaning.
    pub(in crate::kind) const fn word(
        key: &'static str,
        words: &'static [(&'static str, &'static str)],
        doc: &'static str,
    ) -> Self {
        Self::of(key, RatingShape::Word(words), doc)
    }

    /// Yes or no.
    pub(in crate::kind) const fn flag(key: &'static str, doc: &'static str) -> Self {
        Self::of(key, RatingShape::Flag, doc)
    }

    /// Any other shape.
    pub(in crate::kind) const fn of(key: &'static str, shape: RatingShape, doc: &'static str) -> Self {
        Self { key, shape, inline: false, within: None, usual: None, default: Default::Missing, doc }
    }

    /// The value may stand on the line without its key.
    pub(in crate::kind) const fn inline(mut self) -> Self {
        self.inline = true;
        self
    }

    /// Zero is a sensible value.
    pub(in crate::kind) const fn or_zero(mut self) -> Self {
        if let Some((_, most)) = self.within {
            self.within = Some((0.0, most));
        }
        self
    }

    /// Narrower limits than the dimension's.
    pub(in crate::kind) const fn between(mut self, least: f64, most: f64) -> Self {
        self.within = Some((least, most));
        self
    }

    /// Where nearly all parts on sale lie, in the base unit (common practice).
    pub(in crate::kind) const fn usually(mut self, least: f64, most: f64) -> Self {
        self.usual = Some((least, most));
        self
    }

    /// A number that holds when nothing is written, in the base unit, and on what authority.
    pub(in crate::kind) const fn else_number(mut self, value: f64, authority: &'static str) -> Self {
        self.default = Default::Number(value, authority);
        self
    }

    /// A word that holds when nothing is written, and on what authority.
    pub(in crate::kind) const fn else_word(mut self, word: &'static str, authority: &'static str) -> Self {
        self.default = Default::Word(word, authority);
        self
    }

    /// What holds of a flag when nothing is written, and why.
    pub(in crate::kind) const fn else_flag(mut self, value: bool, reason: &'static str) -> Self {
        self.default = Default::Flag(value, reason);
        self
    }

    /// A fact that holds only where somebody states it, and what is taken instead.
    pub(in crate::kind) const fn else_no(mut self, reason: &'static str) -> Self {
        self.default = Default::No(reason);
        self
    }

    /// Worked out from other ratings when nothing is written.
    pub(in crate::kind) const fn else_from(mut self, how: &'static str) -> Self {
        self.default = Default::Derived(how);
        self
    }
}

/// The smallest number above zero that counts: a rating below it cannot be meant.
const ABOVE_ZERO: f64 = 1e-12;

/// What a builder of low-voltage robots can mean at most, by dimension, in the base unit. Wide on purpose: it catches
/// a slipped prefix or a hostile number, not an unusual part.
const fn plausible(dimension: Dimension) -> (f64, f64) {
    match dimension {
        Dimension::Ratio => (ABOVE_ZERO, 1.0),
        Dimension::Voltage => (ABOVE_ZERO, 1500.0),
        Dimension::Current | Dimension::Charge => (ABOVE_ZERO, 1e5),
        Dimension::ChargeRate | Dimension::Area | Dimension::Capacitance => (ABOVE_ZERO, 1e3),
        Dimension::Resistance | Dimension::CurrentSquaredTime => (ABOVE_ZERO, 1e9),
        Dimension::Length => (ABOVE_ZERO, 1e4),
        Dimension::Temperature | Dimension::TemperatureDifference => (-100.0, 400.0),
        Dimension::Cells => (1.0, 250.0),
        Dimension::Strings => (1.0, 100.0),
        Dimension::Ways => (1.0, 200.0),
        Dimension::Poles => (1.0, 12.0),
        _ => (ABOVE_ZERO, 1e6),
    }
}
