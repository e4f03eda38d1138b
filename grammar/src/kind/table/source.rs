//! Facts about sources and outputs that feed others.

use crate::kind::{Rating, RatingShape, key};

/// What keeps it from being fed by others.
pub(super) const OR_ED_BY: Rating = Rating::of(
    key::OR_ED_BY,
    RatingShape::Reference,
    "The diode, ideal diode or combiner through which it feeds a rail that others feed too.",
);

/// In series on purpose.
pub(super) const SERIES_STRING: Rating = Rating::flag(
    key::SERIES_STRING,
    "One of several that are joined in series on purpose, the positive of one to the negative of the next.",
)
.else_no("a positive joined to a negative is usually a mistake");

/// Earthed.
pub(super) const EARTHED: Rating = Rating::flag(
    key::EARTHED,
    "Its negative is joined to the protective earth of the mains, as in many supplies and desktop computers.",
);

/// Joined only while the machine stands.
pub(super) const PARKED_ONLY: Rating = Rating::flag(
    key::PARKED_ONLY,
    "It is joined to the robot only while the robot, or the vehicle it rides on, stands with everything off.",
)
.else_no("careful: it is taken to be there at all times");

/// What is opened below a voltage.
pub(super) const UNPLUGGED_AFTER_USE: Rating = Rating::flag(
    key::UNPLUGGED_AFTER_USE,
    "A person unplugs it after each use, so that nothing drains it while the robot is put away.",
)
.else_no("careful: it is taken to stay plugged in");
