//! Measurements on the bench.

pub mod differs;
