//! What the editor can ask for. Each feature is a pure function from a snapshot to plain data.

pub mod definition;
pub mod diagnostics;
pub mod formatting;
pub mod hover;
pub mod mention;
pub mod page;
pub mod word;
