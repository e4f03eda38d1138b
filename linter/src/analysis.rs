//! From a project to a verdict: the one path that the command and the language server both take.

use crate::{design::Design, figures::Figures, finding::Verdict, profile::Profile, project::Project, topology::Topology, trace::Trace};

/// Everything that is known about a robot.
#[derive(Clone, Debug)]
pub struct Analysis {
    /// Its files.
    pub project: Project,
    /// The design.
    pub design: Design,
    /// What is joined to what.
    pub topology: Topology,
    /// Who feeds what.
    pub trace: Trace,
    /// The working points.
    pub figures: Figures,
    /// The basis for ampacity and protection.
    pub profile: Profile,
    /// Errors, findings, not assessed, basis.
    pub verdict: Verdict,
}

// pub fn analyse(project: Project, today: Option<Date>) -> Analysis
