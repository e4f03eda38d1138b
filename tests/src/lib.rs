//! Drives the Wattle crates and commands from outside.

pub mod command;
pub mod dense;
pub mod folder;
pub mod law;
pub mod random_network;
pub mod table;
