//! The Wattle linter: from wiring text to a network, its working points, and findings.

mod complaint;
pub mod design;
pub mod figures;
pub mod files;
pub mod finding;
pub mod network;
mod order;
pub mod project;
pub mod quantity_text;
pub mod report;
pub mod topology;
