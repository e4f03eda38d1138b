//! Sources and what they can carry.

pub mod overdrawn;
pub mod unlike_parallel;
