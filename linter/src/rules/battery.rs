//! Rules about what batteries give and take.

pub mod overcharged;
pub mod overdrawn;
mod overload;
