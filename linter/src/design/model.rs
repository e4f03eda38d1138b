//! What a design is made of: plain data, no behaviour but looking things up.

pub(super) mod claim;
pub(super) mod mode;
pub(super) mod rating;
pub(super) mod robot;
pub(super) mod thing;
pub(super) mod wiring;
