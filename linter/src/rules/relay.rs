//! Relays and contactors.

pub mod chattering;
