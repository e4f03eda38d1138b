//! Wires.

pub mod undersized;
