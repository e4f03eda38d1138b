//! Statements with an error: what would be found on them may be the error's doing.
//!
//! A line of a block that does not fit is left out of its block, so a statement may stand in the design without a fact
//! that its author wrote. Its error is told; what follows from the missing fact is not. The same goes for what takes its
//! facts from such a statement: the things of a part, what is at a place, an assembly that is fitted, a mode.

mod around;
mod taint;

use std::collections::{BTreeMap, BTreeSet};

use wattle_grammar::{
    error::TextError,
    span::{FileId, Span},
    syntax::{Item, Path},
};

use crate::{
    design::Design,
    finding::{Finding, NotAssessed},
    project::{Project, SourceFile},
    rules,
    topology::Topology,
};
use around::Around;
use taint::Taint;

/// The statements that were not understood whole.
pub(crate) struct Unread {
    /// By file, in the order of the text; they do not overlap.
    statements: BTreeMap<FileId, Vec<Span>>,
    taint: Taint,
    /// Whether one of them is of the circuit.
    of_circuit: bool,
    around: Around,
}

/// Rules that judge a thing by what is joined to it, however far away: what a lost statement did may show anywhere.
const OF_THE_WHOLE: [&str; 19] = [
    rules::battery::overcharged::RULE.name,
    rules::battery::overdrawn::RULE.name,
    rules::coil::weak::RULE.name,
    rules::contact::inrush::RULE.name,
    rules::driver::lifted_by_braking::RULE.name,
    rules::driver::unisolated::RULE.name,
    rules::expectation::unmet::RULE.name,
    rules::join::floating::RULE.name,
    rules::name::unlike_voltage::RULE.name,
    rules::protection::breaking_capacity_exceeded::RULE.name,
    rules::protection::opens_at_work::RULE.name,
    rules::protection::slow_clearing::RULE.name,
    rules::protection::unselective::RULE.name,
    rules::protection::voltage_exceeded::RULE.name,
    rules::reading::differs::RULE.name,
    rules::relay::chattering::RULE.name,
    rules::supply::overdrawn::RULE.name,
    rules::supply::unlike_parallel::RULE.name,
    rules::wire::short_time_overload::RULE.name,
];

/// Rules that judge a wire by what it is joined to with no fuse between.
const OF_THE_NEIGHBOURS: [&str; 2] =
    [rules::protection::unfused_branch::RULE.name, rules::wire::undersized::RULE.name];

impl Unread {
    /// Those of a project with these errors, and with these places of values that were not understood.
    pub(crate) fn new(project: &Project, errors: &[TextError], lost: &[Span]) -> Self {
        let marks = Marks::new(errors, lost);
        let taint = Taint::new(project, &marks);
        let (mut statements, mut of_circuit) = (BTreeMap::new(), project.lacks_text());
        for file in &project.files {
            let mut unread = unread(file, &marks, &taint);
            unread.sort();
            statements.insert(file.id, unread);
            let mut hit = file.parse.file.all_items().filter(|item| marks.hit(item.span()));
            of_circuit |= hit.any(|item| is_of_circuit(item, &file.text));
        }
        Self { statements, taint, of_circuit, around: Around::default() }
    }

    /// With what lies around them in the circuit.
    pub(crate) fn with_circuit(mut self, project: &Project, design: &Design, topology: &Topology) -> Self {
        if self.of_circuit {
            let unread = |file: &SourceFile| self.statements.get(&file.id).map_or(&[][..], Vec::as_slice);
            self.around = Around::new(project, (design, topology), unread);
        }
        self
    }

    /// Whether a place lies in one of them.
    pub(crate) fn holds(&self, place: Span) -> bool {
        let Some(statements) = self.statements.get(&place.file) else { return false };
        let after = statements.partition_point(|statement| statement.start <= place.start);
        let before = after.checked_sub(1).and_then(|at| statements.get(at));
        before.is_some_and(|statement| place.end <= statement.end)
    }

    /// Whether a finding may be the doing of an error.
    pub(crate) fn explains(&self, finding: &Finding) -> bool {
        self.taint.robot
            || (self.of_circuit && OF_THE_WHOLE.contains(&finding.rule))
            || (OF_THE_NEIGHBOURS.contains(&finding.rule) && self.around.has(&finding.subject))
            || self.holds(finding.span)
            || finding.related.iter().any(|(place, _)| self.holds(*place))
            || finding.mode.as_ref().is_some_and(|mode| self.taint.modes.contains(mode))
    }

    /// Whether it may be the doing of an error that something could not be assessed.
    pub(crate) fn explains_gap(&self, gap: &NotAssessed) -> bool {
        self.taint.robot
            || self.holds(gap.span)
            || (self.of_circuit && gap.blocks.iter().all(|rule| OF_THE_WHOLE.contains(rule)))
    }

    /// Whether a statement of the circuit was not understood, so that no current and no voltage is sure.
    pub(crate) const fn is_of_circuit(&self) -> bool {
        self.of_circuit
    }

    /// Whether the robot's own settings were not understood, so that nothing can be judged.
    pub(crate) fn is_of_robot(&self) -> bool {
        self.taint.robot
    }
}

/// Where errors begin and values were lost, by file, in order.
pub(super) struct Marks(BTreeMap<FileId, Vec<u32>>);

impl Marks {
    fn new(errors: &[TextError], lost: &[Span]) -> Self {
        let mut marks: BTreeMap<FileId, Vec<u32>> = BTreeMap::new();
        // What a file lacks as a whole is no fact of its first statement.
        let errors = errors.iter().filter(|error| error.name != "language.missing-edition");
        for span in errors.map(|error| error.span).chain(lost.iter().copied()) {
            marks.entry(span.file).or_default().push(span.start);
        }
        marks.values_mut().for_each(|starts| starts.sort_unstable());
        Self(marks)
    }

    /// How many lie in a statement.
    fn within(&self, span: Span) -> usize {
        let Some(marks) = self.0.get(&span.file) else { return 0 };
        let (from, to) =
            (marks.partition_point(|at| *at < span.start), marks.partition_point(|at| *at < span.end));
        to - from
    }

    /// Whether one lies in a statement.
    fn hit(&self, span: Span) -> bool {
        self.within(span) > 0
    }
}

/// The statements of a file that were not understood whole. They may overlap only by one holding the other, and then
/// the outer one comes alone.
fn unread(file: &SourceFile, marks: &Marks, taint: &Taint) -> Vec<Span> {
    let mut statements: Vec<Span> = Vec::new();
    let mut before: Option<&Item> = None;
    for item in file.parse.file.all_items() {
        let span = item.span();
        if statements.last().is_some_and(|outer| span.end <= outer.end) {
            continue;
        }
        match item {
            Item::Assembly(assembly) => {
                let inner: usize = assembly.items.iter().map(|item| marks.within(item.span())).sum();
                let own = marks.within(span) > inner;
                statements.extend((own || taint.assemblies.contains(&*assembly.name.text)).then_some(span));
            }
            Item::Harness(harness) => {
                let cores = harness.wires.iter().map(|wire| (wire.span, wire.at.as_ref()));
                let hurt = cores.filter(|(span, at)| marks.hit(*span) || taint.is_at(*at));
                let cores: Vec<Span> = hurt.map(|(span, _)| span).collect();
                let in_cores: usize = cores.iter().map(|span| marks.within(*span)).sum();
                // An error outside the cores may be in what holds for all of them.
                let whole = marks.within(span) > in_cores || taint.is_at(harness.at.as_ref());
                statements.extend(if whole { vec![span] } else { cores });
            }
            // The block of the statement before, on a line of its own.
            Item::Broken(_) if span.slice(&file.text).starts_with('{') => {
                statements.extend(before.map(Item::span));
                statements.push(span);
            }
            _ => statements.extend((marks.hit(span) || takes_from(item, taint)).then_some(span)),
        }
        before = Some(item);
    }
    statements.dedup();
    statements
}

/// Whether a statement takes facts from one that was not understood whole.
fn takes_from(item: &Item, taint: &Taint) -> bool {
    let (part, at): (Option<&str>, Option<&Path>) = match item {
        Item::Thing(thing) => (thing.part.as_ref().map(|part| &*part.text), thing.at.as_ref()),
        Item::Wire(wire) => (None, wire.at.as_ref()),
        Item::Fit(fit) => (None, fit.at.as_ref()),
        _ => return false,
    };
    part.is_some_and(|part| taint.has_part(part)) || taint.is_at(at)
}

/// Whether a statement says what the circuit is made of; not what is expected, accepted or measured of it.
fn is_of_circuit(item: &Item, text: &str) -> bool {
    match item {
        Item::Edition(_)
        | Item::Let(_)
        | Item::Robot(_)
        | Item::Place(_)
        | Item::Group(_)
        | Item::Mode(_)
        | Item::Expect(_)
        | Item::Reading(_)
        | Item::Accept(_) => false,
        Item::Broken(span) => {
            let words = ["let", "place", "group", "mode", "expect", "reading", "accept"];
            !span.slice(text).split_whitespace().next().is_some_and(|first| words.contains(&first))
        }
        _ => true,
    }
}

/// Names in a set of their own, so that each is held once.
pub(super) type Names = BTreeSet<String>;

#[cfg(test)]
mod tests {
    use std::path::Path;

    use super::*;
    use crate::project::{self, Loader};

    struct Given(&'static str);

    impl Loader for Given {
        fn load(&self, _: &Path) -> Result<Vec<u8>, String> {
            Ok(self.0.as_bytes().to_vec())
        }
    }

    /// Whether the statement of the word is one that was not read whole.
    fn is_unread(text: &'static str, word: &str) -> bool {
        let project = project::open(Path::new("robot.wattle"), &Given(text));
        let at = u32::try_from(text.find(word).unwrap()).unwrap();
        Unread::new(&project, &project.files[0].parse.errors, &[]).holds(Span::new(FileId(0), at, at + 1))
    }

    #[test]
    fn what_takes_its_facts_from_a_damaged_statement_is_unread_too() {
        let text = "wattle 1\nplace hot { ambient = = 60 degC }\npart a is fuse { current = = 3 A }\npart b is a\n\
                    fuse F-B : b\nfuse F-C 3 A\nfuse F-D 3 A at hot\nfuse F-E : unknown\nfuse F-G : blade-3\n";
        assert!(is_unread(text, "F-B") && is_unread(text, "F-D") && is_unread(text, "F-E"));
        assert!(!is_unread(text, "F-C") && !is_unread(text, "F-G"));
    }

    #[test]
    fn a_fit_with_an_error_makes_its_assembly_unread() {
        let text = "wattle 1\nassembly LEG {\n  parameter reach 1 m\n  stud A\n}\nfit LEG as left { reach = = 2 m }\nstud B\n";
        assert!(is_unread(text, "stud A") && !is_unread(text, "stud B"));
    }

    #[test]
    fn a_lost_setting_makes_its_statement_unread_and_no_other() {
        let text = "wattle 1\nfuse F-A 3 A\nwire W1 F-A.1 to F-A.2 { current-limit = = 3 A }\nfuse F-B 3 A\n";
        assert!(is_unread(text, "W1") && !is_unread(text, "F-A") && !is_unread(text, "F-B"));
    }

    #[test]
    fn a_core_is_a_statement_of_its_own_and_a_harness_stands_for_its_cores() {
        let core = "wattle 1\nharness H {\n  H1 A.1 to B.1 { spare = = }\n  H2 A.2 to B.2\n}\n";
        assert!(is_unread(core, "H1") && !is_unread(core, "H2"));
        let whole = "wattle 1\nharness H {\n  bundle = = 3\n  H1 A.1 to B.1\n}\n";
        assert!(is_unread(whole, "H1"));
    }
}
