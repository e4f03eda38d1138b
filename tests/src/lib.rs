//! Drives the Wattle crates and commands from outside.

pub mod fixture;
pub mod memory;
pub mod robots;
pub mod server;
