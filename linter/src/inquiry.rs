//! What a rule gets to see, and where it puts what it finds.

use crate::{
    design::Design,
    figures::Figures,
    finding::{Finding, NotAssessed},
    profile::Profile,
    topology::Topology,
    trace::Trace,
};

/// One rule's look at one robot.
pub struct Inquiry<'a> {
    /// The robot.
    pub design: &'a Design,
    /// What is joined to what.
    pub topology: &'a Topology,
    /// Who feeds what through which devices.
    pub trace: &'a Trace,
    /// The working points.
    pub figures: &'a Figures,
    /// The basis for ampacity and protection.
    pub profile: &'a Profile,
    findings: Vec<Finding>,
    not_assessed: Vec<NotAssessed>,
}

impl<'a> Inquiry<'a> {
    /// Starts an inquiry with nothing found.
    #[must_use]
    pub fn new(
        design: &'a Design,
        topology: &'a Topology,
        trace: &'a Trace,
        figures: &'a Figures,
        profile: &'a Profile,
    ) -> Self {
        Self { design, topology, trace, figures, profile, findings: Vec::new(), not_assessed: Vec::new() }
    }

    /// Reports a finding.
    pub fn report(&mut self, finding: Finding) {
        self.findings.push(finding);
    }

    /// Notes a check that could not be made.
    pub fn not_assessed(&mut self, entry: NotAssessed) {
        self.not_assessed.push(entry);
    }

    /// Everything found, and everything that could not be assessed.
    #[must_use]
    pub fn into_parts(self) -> (Vec<Finding>, Vec<NotAssessed>) {
        (self.findings, self.not_assessed)
    }
}
