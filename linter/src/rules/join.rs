//! Joints and circuits.

pub mod floating;
