//! Wires.

pub mod short_time_overload;
pub mod undersized;
