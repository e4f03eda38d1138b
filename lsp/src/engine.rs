//! The one way from files to findings: the linter's own, so that the editor and the command see the same.

use std::path::Path;

use wattle_grammar::syntax::Date;
/// What was worked out about a robot: the same as the command tells from.
pub use wattle_linter::analysis::Analysis as Robot;
use wattle_linter::{analysis, fragment, project};
pub use wattle_linter::{
    files::DiskLoader,
    finding::{Finding, Mend, Severity, Verdict},
    project::{Loader, Project, SourceFile},
    settings,
};

use crate::library::Library;

/// How the analyst gets from files to findings.
#[derive(Clone, Copy)]
pub struct Engine {
    /// Reads a root and what it uses; files that are as in the project before need not be parsed again.
    pub open: fn(&Path, &Library<'_>, Option<&Project>) -> Project,
    /// Analyses a project. The date is the day on which accepted risks are judged.
    pub analyse: fn(Project, Option<Date>) -> Analysed,
}

/// The linter.
pub const LINTER: Engine = Engine { open, analyse };

/// What is known about a robot.
#[derive(Clone, Debug, Default)]
pub struct Analysed {
    /// Its files.
    pub project: Project,
    /// What was worked out; nothing for a file that is no robot.
    pub robot: Option<Robot>,
    /// Errors, findings, not assessed, basis.
    pub verdict: Verdict,
}

fn open(root: &Path, library: &Library<'_>, before: Option<&Project>) -> Project {
    match before {
        Some(before) => project::reopen(root, None, library, before),
        None => project::open(root, library),
    }
}

/// A file without a robot statement is no robot by itself: its text is checked and nothing else, as the command does.
fn analyse(project: Project, today: Option<Date>) -> Analysed {
    if !is_root(&project) {
        return Analysed { verdict: fragment::judge(&project), project, ..Analysed::default() };
    }
    let robot = analysis::analyse(project, today);
    // The files are shared by this, not copied.
    Analysed { project: robot.project.clone(), verdict: robot.verdict.clone(), robot: Some(robot) }
}

/// Whether a project's root file has a robot statement.
#[must_use]
pub fn is_root(project: &Project) -> bool {
    project.files.first().is_some_and(fragment::is_robot)
}
