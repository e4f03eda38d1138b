//! Words for dimensions in messages.

use wattle_grammar::{quantity::Dimension, unit::base_symbol};

/// What a number of this dimension is, with its article.
pub(super) const fn noun(dimension: Dimension) -> &'static str {
    dimension.noun()
}

/// A bare number with the unit that is due; of lengths and sizes the small one that robots are built in.
pub(super) fn example(dimension: Dimension, number: &str) -> Option<String> {
    match dimension {
        Dimension::Number => None,
        Dimension::Ratio => Some(format!("{number} %")),
        Dimension::Length => Some(format!("{number} mm")),
        Dimension::Charge => Some(format!("{number} mAh")),
        Dimension::Cells | Dimension::Strings => Some(format!("{number}{}", base_symbol(dimension))),
        _ => Some(format!("{number} {}", base_symbol(dimension))),
    }
}
