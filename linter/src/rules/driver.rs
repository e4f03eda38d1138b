//! Motor drivers.

pub mod lifted_by_braking;
pub mod unisolated;
