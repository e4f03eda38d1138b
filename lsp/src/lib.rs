//! The Wattle language server: from the editor's messages to snapshots, and from snapshots to answers.
//!
//! Nothing below `server.rs`, `capabilities.rs`, `convert.rs` and `main.rs` knows the protocol's types, and nothing
//! but `document.rs` knows the rope.

pub mod abilities;
pub mod analyst;
pub mod capabilities;
pub mod convert;
pub mod document;
pub mod door;
pub mod engine;
pub mod feature;
pub mod library;
pub mod roots;
pub mod server;
pub mod snapshot;
pub mod state;
pub mod stock_copy;
#[cfg(test)]
mod testing;
pub mod today;
pub mod worker;
