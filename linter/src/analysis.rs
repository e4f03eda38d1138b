//! From a project to a verdict: the one path that the command and the language server both take.

use wattle_grammar::syntax::Date;

use crate::{finding::Verdict, fragment, project::Project, settle::settle};

/// Everything that is known about a robot.
#[derive(Clone, Debug)]
pub struct Analysis {
    /// Its files.
    pub project: Project,
    /// Errors, findings, not assessed, basis.
    pub verdict: Verdict,
}

/// Analyses a robot. `today` is the day on which accepted risks are judged; without one no date is.
#[must_use]
pub fn analyse(project: Project, today: Option<Date>) -> Analysis {
    let _ = today;
    let mut verdict = Verdict { errors: fragment::errors(&project), ..Verdict::default() };
    settle(&mut verdict, &project);
    Analysis { project, verdict }
}
