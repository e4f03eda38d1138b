//! The Wattle linter: from wiring text to a network, its working points, and findings.

pub mod accept;
pub mod account;
pub mod analysis;
mod complaint;
pub mod conduction;
pub mod conductors;
pub mod design;
pub mod explained;
pub mod figures;
pub mod files;
pub mod finding;
pub mod fragment;
pub mod inquiry;
mod line_errors;
pub mod manual;
pub mod naming;
pub mod network;
mod order;
mod paragraph;
pub mod physics;
pub mod probe;
pub mod profile;
pub mod project;
pub mod quantity_text;
pub mod report;
pub mod rule;
pub mod rules;
#[cfg(test)]
mod sample;
pub mod settle;
mod slips;
pub mod stock;
pub mod topology;
pub mod trace;
pub mod unfold;
pub mod unprotected;
mod unread;
