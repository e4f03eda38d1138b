//! What the bench asks of a word: a wire's current and drop, a thing's ratings, a terminal's voltage, a word's meaning.

mod meaning;
mod subject;
mod terminal;
mod thing;
mod wire;

use std::fmt;

use wattle_grammar::quantity::Unit;
use wattle_linter::{
    account::{self, View},
    report::Report,
};

use crate::{
    engine::Robot,
    feature::{
        page::Page,
        word::{Word, word_at},
    },
    snapshot::{Part, Snapshot},
};
use subject::{Subject, subjects};

/// So many things of one name are shown: an assembly that is fitted more often has the others left out.
const MOST_SHOWN: usize = 4;

/// An answer, and the word that it is about.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Hover {
    /// The bytes of the word.
    pub range: (u32, u32),
    /// The answer.
    pub page: Page,
}

/// What there is to say about the word at a byte.
#[must_use]
pub fn hover(snapshot: &Snapshot, at: u32) -> Option<Hover> {
    let word = word_at(snapshot.parse(), &snapshot.text, at)?;
    let meaning = || meaning::page(snapshot.parse(), &word);
    let page =
        if word.leads { meaning().or_else(|| figures(snapshot, &word)) } else { figures(snapshot, &word) };
    let page = page.or_else(meaning)?;
    Some(Hover { range: (word.span.start, word.span.end), page })
}

/// What the robots that the document is a part of say about the word; the first that knows it answers.
fn figures(snapshot: &Snapshot, word: &Word<'_>) -> Option<Page> {
    snapshot.robots().map(|(robot, part)| page(robot, part, word)).find(|page| !page.is_empty())
}

fn page(robot: &Robot, part: &Part, word: &Word<'_>) -> Page {
    let mut page = Page::default();
    let found = subjects(robot, part.file, word);
    for subject in found.iter().take(MOST_SHOWN) {
        match subject {
            Subject::Wire(id) => wire::describe(&mut page, robot, *id),
            Subject::Thing(id) => thing::describe(&mut page, robot, &part.analysed.project, *id),
            Subject::Terminal(id) => terminal::describe(&mut page, robot, *id),
        }
    }
    if let Some(left_out) = found.len().checked_sub(MOST_SHOWN).filter(|left_out| *left_out > 0) {
        page.text(format!("and {left_out} more of this name"));
    }
    page
}

/// What matters most of a wire or thing, in the words of `wattle figures --explain`.
fn glance(robot: &Robot, subject: account::subject::Subject) -> Vec<String> {
    let report = Report::new("", &robot.project, &robot.verdict);
    View::new(report, robot, &[]).glance(subject)
}

/// A figure, or 0 below what the solver tells apart from nothing: it balances currents to 1e-9 of the largest.
fn resolved<U: Unit + fmt::Display>(value: U) -> String {
    let value = if value.base().abs() < 1e-9 { U::from_base(0.0) } else { value };
    value.to_string()
}

#[cfg(test)]
mod tests;
