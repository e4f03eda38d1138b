//! Sources and what they can carry.

pub mod overdrawn;
