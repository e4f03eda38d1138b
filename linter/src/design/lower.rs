//! Lowering: from the trees of a project's files to the design, with every error of names, kinds and dimensions.

use std::collections::{BTreeMap, BTreeSet, HashSet};

use wattle_grammar::{
    error::{TextError, quoted},
    span::Span,
    syntax::Name,
};

use super::{
    Design, PlaceId, ThingId,
    broken::Broken,
    declared::{declared, reserved},
    gather::Gathered,
    names::{Names, Nearest, with_nearest},
    parts::PartSheet,
    scope::{Scope, ScopeId},
    shape::Shapes,
    sheet::Sheet,
};
use crate::project::Project;

/// Makes the design of a project. Total: what cannot be made is left out and told, each mistake once.
///
/// The errors are in place order. They do not repeat those of the project or of the files' parses.
#[must_use]
pub fn lower(project: &Project) -> (Design, Vec<TextError>) {
    let mut lowering = Lowering::new(project);
    let mut sheet = lowering.collect();
    lowering.visit_all(&mut sheet);
    lowering.make(&sheet);
    // Not in a trial: what places name stands outside every assembly.
    lowering.refer_from_places();
    let unfitted = sheet.unfitted();
    if !unfitted.is_empty() {
        lowering.errors.extend(Lowering::new(project).try_out(&unfitted));
    }
    lowering.finish()
}

/// The state of a lowering.
pub(super) struct Lowering<'a> {
    pub(super) project: &'a Project,
    pub(super) design: Design,
    pub(super) errors: Vec<TextError>,
    pub(super) broken: Broken<'a>,
    pub(super) names: Names,
    pub(super) nearest: Nearest,
    pub(super) scopes: Vec<Scope<'a>>,
    pub(super) shapes: Shapes,
    /// The shape of each thing, by its id.
    pub(super) shape_of: Vec<usize>,
    /// Things whose terminals are not certain because of an error that has been told, by id.
    pub(super) uncertain: Vec<bool>,
    pub(super) parts: BTreeMap<&'a str, PartSheet>,
    /// Parts of the stock that have been asked for.
    pub(super) stock_parts: BTreeMap<&'static str, PartSheet>,
    pub(super) place_ids: BTreeMap<&'a str, PlaceId>,
    /// Things whose name is defined again.
    pub(super) doubled: BTreeSet<ThingId>,
    /// Whether it has been told that there are too many terminals.
    pub(super) terminals_full: bool,
    /// What the robot says, for wires that do not.
    pub(super) robot_says: Gathered,
    /// What each harness says, by its id.
    pub(super) harness_says: Vec<Gathered>,
}

impl<'a> Lowering<'a> {
    fn new(project: &'a Project) -> Self {
        Self {
            project,
            design: Design::default(),
            errors: Vec::new(),
            broken: Broken::new(project),
            names: Names::default(),
            nearest: Nearest::default(),
            scopes: vec![Scope::default()],
            shapes: Shapes::default(),
            shape_of: Vec::new(),
            uncertain: Vec::new(),
            parts: BTreeMap::new(),
            stock_parts: BTreeMap::new(),
            place_ids: BTreeMap::new(),
            doubled: BTreeSet::new(),
            terminals_full: false,
            robot_says: Gathered::default(),
            harness_says: Vec::new(),
        }
    }

    /// Makes everything that stands on the sheet.
    fn make(&mut self, sheet: &Sheet<'a>) {
        self.parts(sheet);
        self.things(sheet);
        self.harnesses(sheet);
        self.check_outward();
        self.wires(sheet);
        self.ties(sheet);
        self.mates(sheet);
        self.groups(sheet);
        self.modes(sheet);
        self.accepts(sheet);
        self.expectations(sheet);
        self.readings(sheet);
    }

    /// The errors within assemblies that nobody fits: each is fitted once for trial, in a design that is thrown away.
    fn try_out(mut self, names: &[&'a str]) -> Vec<TextError> {
        let mut sheet = self.collect();
        sheet.modes.clear();
        for name in names {
            if let Some(found) = sheet.assemblies.get(name).copied() {
                self.fit_for_trial(&mut sheet, found.assembly);
            }
        }
        self.make(&sheet);
        self.errors
    }

    /// Notes an error.
    pub(super) fn tell(&mut self, error: TextError) {
        self.errors.push(error);
    }

    /// Names to be searched for the nearest one; none when no search will find any.
    pub(super) fn candidates(&self, names: impl Iterator<Item = &'a str>) -> Vec<&'a str> {
        if self.nearest.is_spent() { Vec::new() } else { names.collect() }
    }

    /// Notes that `name`, written at `span`, is not defined, unless text that could not be read may define it.
    pub(super) fn tell_unknown<'n>(
        &mut self,
        what: &str,
        name: &str,
        span: Span,
        candidates: impl Iterator<Item = &'n str>,
    ) {
        if self.broken.may_define(name) {
            return;
        }
        let found = self.nearest.find(name, candidates);
        let shown = quoted(name);
        let sort = match self.target(ScopeId::ROBOT, &[Name { text: name.into(), span }]) {
            Some(target) => Some(self.sort_of(target)),
            None => self.other_sort(name).map(str::to_owned),
        };
        let message = match sort {
            Some(sort) => format!("{shown} is {sort}, not a {what}"),
            None => format!("there is no {what} {shown}"),
        };
        let error =
            TextError::new("language.unknown-name", span, message, format!("no {what} has this name"));
        self.errors.push(with_nearest(error, span, found));
    }

    /// The text at a place.
    pub(super) fn text(&self, span: Span) -> &'a str {
        let project: &'a Project = self.project;
        project.file(span.file).map(|file| span.slice(&file.text)).unwrap_or_default()
    }

    /// The scope behind an id.
    pub(super) fn scope(&self, id: ScopeId) -> &Scope<'a> {
        // Ids are handed out by pushing; the outermost scope is always there.
        self.scopes.get(id.0).unwrap_or(&self.scopes[0])
    }

    fn finish(mut self) -> (Design, Vec<TextError>) {
        self.design.declared = declared(self.project);
        self.errors.extend(reserved(&self.design.declared));
        // A mistake in an assembly shows at every fit of it; the text has it once.
        let mut seen = HashSet::new();
        self.errors.retain(|error| seen.insert((error.span, error.name)));
        self.errors.sort_by(|a, b| (a.span, a.name).cmp(&(b.span, b.name)));
        self.design.in_doubt = self.in_doubt();
        (self.design, self.errors)
    }

    /// The line that a place begins on.
    fn line_of(&self, place: Span) -> Option<Span> {
        let lines = &self.project.file(place.file)?.lines;
        let (start, end) = lines.range(lines.line(place.start))?;
        Some(Span::new(place.file, start, end))
    }

    /// The words of all lines with an error, of the text or of its names: what stands there may not be in the design.
    fn in_doubt(&self) -> BTreeSet<String> {
        let mut words: BTreeSet<String> = self.broken.words().map(str::to_owned).collect();
        let lines: BTreeSet<Span> = self.errors.iter().filter_map(|error| self.line_of(error.span)).collect();
        for line in lines {
            let Some(file) = self.project.file(line.file) else { continue };
            let line = line.slice(&file.text);
            let is_name =
                |character: char| character.is_alphanumeric() || character == '-' || character == '_';
            words.extend(
                line.split(|character| !is_name(character))
                    .filter(|word| !word.is_empty())
                    .map(str::to_owned),
            );
        }
        words
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::super::testing::{design, project, short};

    #[test]
    fn a_thing_named_like_a_wire_makes_no_more_noise() {
        let project = project(&[(
            "robot.wattle",
            "stud S\nstud T\nwire C S to T\ncontroller C 5 V\nwire D C.pos to S\nwire E C.neg to T\n",
        )]);
        let errors = super::lower(&project).1;
        assert_eq!(short(&errors), ["duplicate-name: `C` is defined twice"]);
    }

    #[test]
    fn several_files_are_one_robot_and_errors_stand_in_their_file() {
        let project = project(&[
            ("robot.wattle", "use \"b.wattle\"\nstud S\nwire W S to T.x\n"),
            ("b.wattle", "stud T\nstud S\n"),
        ]);
        let (design, errors) = super::lower(&project);
        assert_eq!(
            short(&errors),
            ["unknown-terminal: `T` has no terminal `x`", "duplicate-name: `S` is defined twice",]
        );
        assert_eq!(errors[1].span.file.0, 1);
        assert_eq!(design.things.len(), 2);
    }

    #[test]
    fn an_empty_robot_has_its_derived_modes() {
        assert_eq!(design("").modes.len(), 4);
    }

    /// Words of which statements are made, sound and unsound.
    fn word() -> impl Strategy<Value = String> {
        prop_oneof![
            4 => prop::sample::select(vec![
                "wire", "fuse", "battery", "block", "plug", "socket", "motor", "relay", "switch", "stud", "driver",
                "part", "let", "place", "robot", "mode", "mate", "tie", "harness", "cable", "assembly", "fit", "accept",
                "expect", "reading", "terminal", "parameter", "use", "group", "port",
            ]).prop_map(str::to_owned),
            4 => prop::sample::select(vec!["A", "B", "C", "LEG", "left", "left.A", "A.pos", "A.1", "B.in", "left.B.a"])
                .prop_map(str::to_owned),
            3 => prop::sample::select(vec![
                "to", "with", "is", "as", "at", "on", "in", "because", "until", "through", "voltage", "dead", "when",
                "everything", "typical", "closed", "open", "yes", "not", "taps", "group", "spare", "cells", "lipo", "measured",
                "advertised", "output", "simultaneity", "x-own",
            ]).prop_map(str::to_owned),
            3 => prop::sample::select(vec![
                "40 A", "12 AWG", "6S", "4 way", "2 pole", "24 V", "6 V .. 30 V", "5 V ± 2 %", "red/white", "350 mm",
                "1e308 V", "2026-05-01", "10 s", "0 way", "-3 A", "A + B", "2 * A", "\"text\"", "2027-03-01", "512 way", "64S",
            ]).prop_map(str::to_owned),
            2 => prop::sample::select(vec!["{", "}", "=", ",", ":", ";", ">=", ".", "\n", "\n", "\n", "$", "\""])
                .prop_map(str::to_owned),
        ]
    }

    proptest! {
        #[test]
        fn any_text_is_lowered(text in any::<String>()) {
            let project = project(&[("robot.wattle", &text)]);
            prop_assert!(super::lower(&project).0.modes.len() >= 4);
        }

        #[test]
        fn any_soup_of_statements_is_lowered(words in prop::collection::vec(word(), 0..120)) {
            let text = words.join(" ");
            let project = project(&[("robot.wattle", &text)]);
            let (design, errors) = super::lower(&project);
            let length = u32::try_from(project.files[0].text.len()).unwrap();
            prop_assert!(errors.iter().all(|error| error.span.start <= error.span.end && error.span.end <= length));
            prop_assert!(design.modes.iter().all(|mode| mode.states.len() == design.things.len()));
            let ends = design.wires.iter().flat_map(|wire| [wire.from.0, wire.to.0]);
            prop_assert!(ends.into_iter().all(|end| end.index() < design.terminals.len()));
        }
    }
}
