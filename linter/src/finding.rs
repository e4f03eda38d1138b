//! What a rule reports: measured value and limit first, then the causes, the places, and what would mend it.

use wattle_grammar::{error::TextError, span::Span, syntax::Date};

use crate::quantity_text::Figure;

/// How bad it is, in the builder's words. Ordered from least to worst.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Severity {
    /// A person will be misled later.
    Untidy,
    /// The robot will not do its job.
    Malfunction,
    /// A part dies.
    Damage,
    /// Fire or injury.
    Danger,
}

impl Severity {
    /// Every severity, least first.
    pub const ALL: [Self; 4] = [Self::Untidy, Self::Malfunction, Self::Damage, Self::Danger];

    /// The word as printed and as written in options.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Untidy => "untidy",
            Self::Malfunction => "malfunction",
            Self::Damage => "damage",
            Self::Danger => "danger",
        }
    }
}

/// One finding.
#[derive(Clone, Debug, PartialEq)]
pub struct Finding {
    /// The rule's dotted name.
    pub rule: &'static str,
    /// How bad.
    pub severity: Severity,
    /// The smallest useful range: usually the name of the thing that is wrong.
    pub span: Span,
    /// The full name of the thing it is about, `left.M-KNEE`: the identity of the finding together with the rule.
    pub subject: String,
    /// One sentence with the measured value and the limit, lower case, no full stop.
    pub message: String,
    /// A few words beside the mark at `span`.
    pub label: String,
    /// Other places that matter, each with a few words.
    pub related: Vec<(Span, String)>,
    /// The numbers behind it, for machines and for hover.
    pub figures: Vec<Figure>,
    /// Why it comes to this, one sentence each, the largest share first.
    pub because: Vec<String>,
    /// The mode in which it was worst, where one matters.
    pub mode: Option<String>,
    /// What would mend it, best first. Each is checked to make no other hazard, or says what to check.
    pub help: Vec<Mend>,
    /// What it was accepted with, when an `accept` covers it. Accepted dangers stay visible.
    pub accepted: Option<Acceptance>,
}

/// What a finding was accepted with.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Acceptance {
    /// Why.
    pub reason: String,
    /// The last day on which that holds; without one it holds until somebody looks at it again.
    pub until: Option<Date>,
}

/// One way out of a finding.
#[derive(Clone, Debug, PartialEq)]
pub struct Mend {
    /// What to do, imperative: `use 8 AWG or thicker`.
    pub title: String,
    /// The text edits that do it; none when it can only be told.
    pub edits: Vec<Edit>,
    /// Whether it may be applied without a person looking: never when an electrical value changes.
    pub sure: bool,
}

impl Mend {
    /// A way out that can only be told, since it happens in the metal.
    pub fn told(title: impl Into<String>) -> Self {
        Self { title: title.into(), edits: Vec::new(), sure: false }
    }
}

/// A replacement of a range by a text.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Edit {
    /// What is replaced.
    pub span: Span,
    /// By what.
    pub text: String,
}

/// A check that could not be made for want of a rating. Not a finding; counted in every report.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct NotAssessed {
    /// The thing that lacks it.
    pub subject: String,
    /// Where it is declared.
    pub span: Span,
    /// The key of the missing rating, as it would be written.
    pub missing: String,
    /// Which checks it blocks: rule names.
    pub blocks: Vec<&'static str>,
}

/// What a report is made of.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Verdict {
    /// Errors of the text, in place order.
    pub errors: Vec<TextError>,
    /// Findings, sorted by place, then severity (worst first), rule and message.
    pub findings: Vec<Finding>,
    /// Checks that could not be made.
    pub not_assessed: Vec<NotAssessed>,
    /// Plain sentences on what was assumed: profile, derived modes, defaults that were used.
    pub basis: Vec<String>,
    /// Plain sentences on why the analysis is not complete; empty when it is.
    pub incomplete: Vec<String>,
}
