//! What a rule is: a plain constant with its manual, its examples and its check.

use crate::{finding::Severity, inquiry::Inquiry};

/// One rule. It lives in one file together with its tests; [`crate::rules::ALL`] lists it.
#[derive(Debug)]
pub struct Rule {
    /// Dotted name, `area.mistake`: readable, saying the mistake. Completes `accept …`.
    pub name: &'static str,
    /// The worst severity it reports.
    pub severity: Severity,
    /// The mistake in one sentence.
    pub summary: &'static str,
    /// What happens to the robot or its builder.
    pub why: &'static str,
    /// The exact condition, with thresholds and their units.
    pub condition: &'static str,
    /// Where the condition comes from.
    pub source: Source,
    /// When it is legitimate, and which fact the author then states.
    pub legitimate: &'static str,
    /// What puts it right, and what must not be done instead.
    pub mend: &'static str,
    /// A text that gives exactly one finding of this rule and no other.
    pub bad: &'static str,
    /// The same text put right: no finding at all.
    pub good: &'static str,
    /// Looks at the robot and reports.
    pub check: fn(&mut Inquiry<'_>),
}

/// On what authority a rule stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Source {
    /// A published standard, regulation or handbook, with its clause.
    Published(&'static str),
    /// Common practice of the trade without one authoritative text.
    CommonPractice(&'static str),
    /// Follows from the physics; the text names the law.
    Physics(&'static str),
}
