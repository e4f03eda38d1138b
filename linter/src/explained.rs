//! A figure that says where it comes from: value, formula, inputs, source, and the point at which it is worst.
//!
//! Every room that computes hands its figures out in this form beside the typed ones, so that reports, `--explain` and
//! hover all tell the same.

use wattle_grammar::quantity::{Dimension, Unit};

use crate::physics::{evidence::Evidence, unit::Joules};

/// A figure with its derivation.
#[derive(Clone, Debug, PartialEq)]
pub struct Explained {
    /// What it is, lower case: `steady current`, `runtime`.
    pub what: String,
    /// How much it is.
    pub amount: Amount,
    /// The formula in symbols: `I = U / R`. Empty where the figure is stated and not computed.
    pub formula: String,
    /// What goes into the formula, in its order.
    pub inputs: Vec<Input>,
    /// Where the formula or the table is published, or `Kirchhoff's laws, network solved`.
    pub source: String,
    /// What the figure's weakest basis is worth.
    pub evidence: Evidence,
    /// The index in [`crate::figures::Figures::points`] of the mode and corner it holds for; none when it holds for all.
    pub point: Option<usize>,
    /// What it leaves out or assumes, one sentence each, lower case, no full stop.
    pub notes: Vec<String>,
}

/// How much a figure is.
#[derive(Clone, Debug, PartialEq)]
pub enum Amount {
    /// A number in the base unit of its dimension, finite and never rounded.
    Value(f64, Dimension),
    /// The energy of a short event, finite and never rounded. What batteries hold and give is a value, in watt-hours.
    Pulse(Joules),
    /// Something that is no number: `never opens`, `for ever`, a name.
    Words(String),
    /// It cannot be told: which rating is missing, as it would be written.
    NotAssessed(String),
}

/// What goes into a formula.
#[derive(Clone, Debug, PartialEq)]
pub struct Input {
    /// The symbol in the formula.
    pub symbol: &'static str,
    /// What it is, and where from: `internal resistance of PACK-A, as stated`.
    pub what: String,
    /// How much it is.
    pub amount: Amount,
}

impl Amount {
    /// The amount of a typed quantity; words for one that is not finite.
    pub fn of<U: Unit>(value: U) -> Self {
        if value.base().is_finite() {
            Self::Value(value.base(), U::DIMENSION)
        } else {
            Self::Words("without limit".to_owned())
        }
    }

    /// The energy of a short event; words for one that is not finite.
    #[must_use]
    pub fn pulse(energy: Joules) -> Self {
        if energy.0.is_finite() { Self::Pulse(energy) } else { Self::Words("without limit".to_owned()) }
    }

    /// The number that it is, in the unit that it is told in; none for words and for what cannot be told.
    #[must_use]
    pub const fn number(&self) -> Option<f64> {
        match self {
            Self::Value(value, _) | Self::Pulse(Joules(value)) => Some(*value),
            Self::Words(_) | Self::NotAssessed(_) => None,
        }
    }
}

impl Input {
    /// An input of a typed quantity.
    pub fn of<U: Unit>(symbol: &'static str, what: impl Into<String>, value: U) -> Self {
        Self { symbol, what: what.into(), amount: Amount::of(value) }
    }

    /// An input of the energy of a short event.
    pub fn pulse(symbol: &'static str, what: impl Into<String>, energy: Joules) -> Self {
        Self { symbol, what: what.into(), amount: Amount::pulse(energy) }
    }
}

impl Explained {
    /// A figure of an amount; formula, inputs, source and point are then filled in.
    pub fn new(what: impl Into<String>, amount: Amount) -> Self {
        Self {
            what: what.into(),
            amount,
            formula: String::new(),
            inputs: Vec::new(),
            source: String::new(),
            evidence: Evidence::Seen,
            point: None,
            notes: Vec::new(),
        }
    }

    /// The formula and where it is published.
    #[must_use]
    pub fn by(mut self, formula: impl Into<String>, source: impl Into<String>) -> Self {
        self.formula = formula.into();
        self.source = source.into();
        self
    }

    /// What goes in.
    #[must_use]
    pub fn from(mut self, inputs: impl IntoIterator<Item = Input>) -> Self {
        self.inputs.extend(inputs);
        self
    }

    /// The mode and corner it holds for.
    #[must_use]
    pub const fn at(mut self, point: Option<usize>) -> Self {
        self.point = point;
        self
    }

    /// A weaker basis than what was read in a source; the weakest counts.
    #[must_use]
    pub fn resting_on(mut self, evidence: Evidence) -> Self {
        self.evidence = self.evidence.max(evidence);
        self
    }

    /// One more sentence on what it leaves out or assumes.
    #[must_use]
    pub fn noting(mut self, note: impl Into<String>) -> Self {
        self.notes.push(note.into());
        self
    }
}

#[cfg(test)]
mod tests {
    use wattle_grammar::quantity::{Amps, Seconds};

    use super::*;

    #[test]
    fn what_is_not_finite_becomes_words() {
        assert_eq!(Amount::of(Seconds(f64::INFINITY)), Amount::Words("without limit".to_owned()));
        assert_eq!(Amount::of(Amps(2.0)), Amount::Value(2.0, Dimension::Current));
        assert_eq!(Amount::pulse(Joules(f64::NAN)), Amount::Words("without limit".to_owned()));
        assert_eq!(Amount::pulse(Joules(2.0)).number(), Some(2.0));
    }

    #[test]
    fn the_weakest_basis_counts() {
        let figure = Explained::new("load", Amount::of(Amps(1.0)));
        let figure = figure.resting_on(Evidence::Practice).resting_on(Evidence::Memory);
        assert_eq!(figure.evidence, Evidence::Practice);
    }
}
