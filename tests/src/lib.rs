//! Drives the Wattle crates and commands from outside.

pub mod command;
pub mod folder;
