//! What is found in a fitted assembly of the stock is told where the robot fits it: nobody can edit the stock.

use wattle_grammar::{
    error::TextError,
    span::{FileId, Span},
};

use super::FILE;
use crate::{
    design::{Design, Fitted},
    finding::{Finding, Mend, Verdict},
};

/// Words beside the place in the stock that something was moved away from.
const INSIDE: &str = "in the stock";

/// Moves errors, findings and checks that were not made from places in the stock to the robot's own text. No edit that
/// is left over leads into the stock.
pub(crate) fn bring_home(design: &Design, verdict: &mut Verdict) {
    let used = |span: Span| span.file == FILE;
    for error in verdict.errors.iter_mut().filter(|error| used(error.span)) {
        let home = holder(design, error.span);
        move_error(error, home);
    }
    for finding in &mut verdict.findings {
        if used(finding.span) {
            let home = home(design, &finding.subject, finding.span);
            move_finding(finding, home);
        }
        finding.help.iter_mut().for_each(only_tell);
    }
    for entry in verdict.not_assessed.iter_mut().filter(|entry| used(entry.span)) {
        entry.span = home(design, &entry.subject, entry.span);
    }
}

fn move_error(error: &mut TextError, home: Span) {
    let inside = std::mem::replace(&mut error.span, home);
    error.related.insert(0, (inside, std::mem::take(&mut error.label)));
    error.label = "comes from what is given here".to_owned();
    error.mend = None;
}

fn move_finding(finding: &mut Finding, home: Span) {
    let inside = std::mem::replace(&mut finding.span, home);
    if !finding.related.iter().any(|(span, _)| *span == inside) {
        finding.related.insert(0, (inside, INSIDE.to_owned()));
    }
}

/// A mend that would edit the stock can only be told.
fn only_tell(mend: &mut Mend) {
    if mend.edits.iter().any(|edit| edit.span.file == FILE) {
        mend.edits.clear();
    }
}

/// The place in the robot's own text of what bears a full name: itself, else the fit that it comes from.
fn home(design: &Design, subject: &str, inside: Span) -> Span {
    let things = design.things.iter().map(|thing| (thing.name.as_str(), thing.span));
    let wires = design.wires.iter().map(|wire| (wire.name.as_str(), wire.span));
    let own = things.chain(wires).find(|(name, span)| *name == subject && span.file != FILE);
    own.map_or_else(|| fitted(design, subject).unwrap_or_else(|| holder(design, inside)), |(_, span)| span)
}

/// The innermost of the robot's own fits that a name lies in.
fn fitted(design: &Design, subject: &str) -> Option<Span> {
    let holds = |fit: &&Fitted| {
        let rest = subject.strip_prefix(fit.name.as_str());
        fit.span.file != FILE && rest.is_some_and(|rest| rest.starts_with('.'))
    };
    design.fits.iter().filter(holds).max_by_key(|fit| fit.name.len()).map(|fit| fit.span)
}

/// The first of the robot's own fits of the assembly that a place lies in, else the start of the root.
fn holder(design: &Design, inside: Span) -> Span {
    let holds = |fit: &&Fitted| {
        let assembly = fit.assembly;
        fit.span.file != FILE
            && assembly.file == FILE
            && assembly.start <= inside.start
            && inside.end <= assembly.end
    };
    design.fits.iter().find(holds).map_or(Span::file_start(FileId(0)), |fit| fit.span)
}
