//! Drives the Wattle crates and commands from outside.

pub mod command;
pub mod fixture;
pub mod folder;
pub mod memory;
pub mod robots;
pub mod table;
