//! The builder's own limits.

pub mod unmet;
