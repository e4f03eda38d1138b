//! Motor drivers.

pub mod unisolated;
