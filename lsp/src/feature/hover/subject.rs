//! From a word to what it names in a robot.

use wattle_grammar::span::{FileId, Span};
use wattle_linter::design::{Design, TerminalId, ThingId, WireId};

use crate::{engine::Robot, feature::word::Word};

/// Something with figures.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Subject {
    Wire(WireId),
    Thing(ThingId),
    Terminal(TerminalId),
}

/// What a word names: what is declared at it or joined at it, as often as it is fitted; else what bears its name.
pub(super) fn subjects(robot: &Robot, file: FileId, word: &Word<'_>) -> Vec<Subject> {
    let here = Place { file, word };
    let mut found = here.declared(&robot.design);
    if found.is_empty() {
        found = here.joined(&robot.design);
    }
    if found.is_empty() {
        found.extend(named(&robot.design, word.path));
    }
    found.sort_unstable();
    found.dedup();
    found
}

struct Place<'a> {
    file: FileId,
    word: &'a Word<'a>,
}

impl Place<'_> {
    fn is(&self, span: Span) -> bool {
        span.file == self.file && span.start == self.word.span.start && span.end == self.word.span.end
    }

    /// Wires and things whose name stands at the word.
    fn declared(&self, design: &Design) -> Vec<Subject> {
        let wires = design.wires().filter(|(_, wire)| self.is(wire.span)).map(|(id, _)| Subject::Wire(id));
        let things =
            design.things().filter(|(_, thing)| self.is(thing.span)).map(|(id, _)| Subject::Thing(id));
        wires.chain(things).collect()
    }

    /// What a written end that the word lies in leads to: the terminal where the word ends it, else its thing.
    fn joined(&self, design: &Design) -> Vec<Subject> {
        let wires = design.wires.iter().flat_map(|wire| [wire.from, wire.to]);
        let ties = design.ties.iter().flat_map(|tie| tie.ends.iter().copied());
        wires.chain(ties).filter_map(|(terminal, span)| self.end(design, terminal, span)).collect()
    }

    fn end(&self, design: &Design, id: TerminalId, span: Span) -> Option<Subject> {
        let word = self.word.span;
        let inside = span.file == self.file && span.start <= word.start && word.end <= span.end;
        let terminal = design.terminals.get(id.index()).filter(|_| inside)?;
        let thing = design.things.get(terminal.thing.index())?;
        // The name of a thing with one terminal, or of a block, is its whole path.
        let names_terminal = word.end == span.end && !thing.name.ends_with(self.word.text);
        Some(if names_terminal { Subject::Terminal(id) } else { Subject::Thing(terminal.thing) })
    }
}

/// What bears a full name: a thing, a wire, or a terminal of a thing.
fn named(design: &Design, path: &str) -> Option<Subject> {
    let thing = |name: &str| design.things().find(|(_, thing)| thing.name == name).map(|(id, _)| id);
    let wire = || design.wires().find(|(_, wire)| wire.name == path).map(|(id, _)| Subject::Wire(id));
    let terminal = || {
        let (owner, terminal) = path.rsplit_once('.')?;
        design.terminal_named(thing(owner)?, terminal).map(Subject::Terminal)
    };
    thing(path).map(Subject::Thing).or_else(wire).or_else(terminal)
}
