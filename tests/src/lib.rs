//! Drives the Wattle crates and commands from outside.

pub mod table;
pub mod command;
pub mod folder;
