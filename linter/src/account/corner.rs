//! The words of a point: its mode and its corner, the state of everything that is not the builder's to choose.

use crate::{design::Design, figures::Point};

/// The name of a point's mode.
#[must_use]
pub fn mode<'d>(design: &'d Design, point: &Point) -> &'d str {
    design.modes.get(point.mode.index()).map_or("", |mode| mode.name.as_str())
}

/// The words of a point's corner: `full`, `half-charged` or `empty` batteries.
#[must_use]
pub fn words(point: &Point) -> String {
    point.charge.word().to_owned()
}
