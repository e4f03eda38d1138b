//! Figures as people and machines read them: three significant digits with a unit, or the whole number with its unit.

use wattle_grammar::quantity::{Dimension, Unit};

/// A number behind a finding.
#[derive(Clone, Debug, PartialEq)]
pub struct Figure {
    /// What it is: `steady current`, `limit`, `device rating`.
    pub what: String,
    /// The value in the base unit of `dimension`, never rounded.
    pub value: f64,
    /// What it measures.
    pub dimension: Dimension,
    /// The formula and its inputs, or the table, it comes from.
    pub basis: String,
}

impl Figure {
    /// A figure of a typed value.
    pub fn new<U: Unit>(what: impl Into<String>, value: U, basis: impl Into<String>) -> Self {
        Self { what: what.into(), value: value.base(), dimension: U::DIMENSION, basis: basis.into() }
    }
}
