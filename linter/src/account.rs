//! The account of a robot: what every source, device, load and wire sees in every mode, each figure with its derivation.
//!
//! Nothing is computed here that another room computes: formulas stand in `physics`, working points in `figures`. This
//! room puts them together for each thing, finds the worst over the points that are asked for, and prints the whole as
//! text, JSON, CSV or Markdown. A figure holds for a point, which is a mode at a corner (see [`corner`]).

mod balance;
mod closing;
pub mod corner;
pub mod csv;
mod device;
pub mod entry;
pub mod explain;
mod glance;
pub mod json;
mod load;
pub mod markdown;
mod origin;
mod prose;
pub mod reading;
mod source;
pub mod studies;
pub mod subject;
mod table;
mod tables;
mod terminal;
#[cfg(test)]
mod tests;
pub mod text;
pub mod tree;
pub mod view;
pub mod what;
mod wire;
mod worst;

use crate::{analysis::Analysis, finding::Verdict, project::Project, report::Report};

pub use entry::{Entry, Section};
pub use explain::Explanation;
pub use view::View;

/// What is told of one root.
#[derive(Debug)]
pub struct Account<'a> {
    /// Its files and its verdict.
    pub report: Report<'a>,
    /// What is computed of it; nothing for a file that is no robot.
    pub view: Option<View<'a>>,
}

impl<'a> Account<'a> {
    /// The account of a robot over the modes of these names; over all modes without any. `root` is the path that the
    /// user gave.
    #[must_use]
    pub fn new(root: &'a str, analysis: &'a Analysis, modes: &[String]) -> Self {
        let report = Report::new(root, &analysis.project, &analysis.verdict);
        Self { view: Some(View::new(report.clone(), analysis, modes)), report }
    }

    /// Of a root that is no robot: only its verdict is told.
    #[must_use]
    pub fn without_figures(root: &'a str, project: &'a Project, verdict: &'a Verdict) -> Self {
        Self { report: Report::new(root, project, verdict), view: None }
    }
}
