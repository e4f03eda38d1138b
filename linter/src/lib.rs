//! The Wattle linter: from wiring text to a network, its working points, and findings.

pub mod conduction;
pub mod conductors;
pub mod design;
pub mod figures;
pub mod finding;
pub mod inquiry;
pub mod naming;
pub mod network;
pub mod physics;
pub mod profile;
pub mod quantity_text;
pub mod rule;
pub mod rules;
pub mod topology;
pub mod trace;
