//! The Wattle linter: from wiring text to a network, its working points, and findings.

pub mod design;
pub mod figures;
pub mod finding;
pub mod network;
pub mod physics;
pub mod profile;
pub mod quantity_text;
pub mod topology;
