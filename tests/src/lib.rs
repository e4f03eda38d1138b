//! Drives the Wattle crates and commands from outside.

pub mod command;
pub mod dense;
pub mod fixture;
pub mod folder;
pub mod law;
pub mod memory;
pub mod random_network;
pub mod robots;
pub mod server;
pub mod table;
pub mod told;
