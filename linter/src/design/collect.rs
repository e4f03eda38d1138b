//! Collecting: what is defined once for the whole robot, then the walk over everything in text order.

use std::collections::{BTreeMap, BTreeSet};

use wattle_grammar::{
    error::TextError,
    span::Span,
    syntax::{Assembly, Item, Name},
};

use super::{
    lower::Lowering,
    names::duplicate,
    scope::ScopeId,
    sheet::{Fittable, Sheet},
};
use crate::{
    complaint::{around, chain},
    order::order,
};

impl<'a> Lowering<'a> {
    /// Puts on the sheet what is defined once for the whole robot.
    pub(super) fn collect(&mut self) -> Sheet<'a> {
        let mut sheet = Sheet::default();
        let mut robots = Vec::new();
        let mut places = Vec::new();
        let mut lets = Vec::new();
        let mut assemblies = Vec::new();
        for item in self.items() {
            match item {
                Item::Robot(robot) => robots.push(robot),
                Item::Place(place) => places.push(place),
                Item::Let(constant) => lets.push(constant),
                Item::Assembly(assembly) => assemblies.push(assembly),
                Item::Part(part) => sheet.parts.push(part),
                Item::Mode(mode) => sheet.modes.push(mode),
                _ => {}
            }
        }
        self.constants(ScopeId::ROBOT, &lets);
        self.robot(&robots);
        self.places(&places);
        sheet.assemblies = self.assemblies(&assemblies);
        sheet
    }

    /// Puts every other statement on the sheet, assemblies unfolded.
    pub(super) fn visit_all(&mut self, sheet: &mut Sheet<'a>) {
        for item in self.items() {
            self.visit(sheet, ScopeId::ROBOT, item, 0);
        }
    }

    fn items(&self) -> impl Iterator<Item = &'a Item> + use<'a> {
        self.project.files.iter().flat_map(|file| &file.parse.file.items)
    }

    /// The assemblies by name, with those marked that cannot be fitted because they fit each other in a circle.
    fn assemblies(&mut self, all: &[&'a Assembly]) -> BTreeMap<&'a str, Fittable<'a>> {
        let named = self.first_definitions(all, |assembly| &assembly.name);
        for assembly in all {
            self.tell_misplaced(assembly);
        }
        let names: Vec<&str> = named.keys().copied().collect();
        let edges: Vec<Vec<usize>> = named
            .values()
            .map(|assembly| {
                fits_of(assembly).filter_map(|(name, _)| names.binary_search(&name).ok()).collect()
            })
            .collect();
        let mut circular = BTreeSet::new();
        for cycle in order(&edges).cycles {
            let members: Vec<&str> = cycle.iter().filter_map(|at| names.get(*at).copied()).collect();
            circular.extend(members.iter().copied());
            let fits = members.iter().zip(members.iter().cycle().skip(1)).filter_map(|(outer, inner)| {
                fits_of(named.get(outer)?).find(|(name, _)| name == inner).map(|(_, span)| span)
            });
            let mut fits: Vec<Span> = fits.collect();
            let message = match members.as_slice() {
                [only] => format!("`{only}` fits itself"),
                _ => format!("assemblies fit each other in a circle: {}", chain(members.iter().copied())),
            };
            if let Some(closing) = fits.pop() {
                let error =
                    TextError::new("language.assembly-cycle", closing, message, "this closes the circle");
                self.tell(around(error, fits.into_iter()).help(if members.len() == 1 {
                    "take this line out"
                } else {
                    "take one of these lines out"
                }));
            }
        }
        let fittable = |(name, assembly): (&'a str, &'a Assembly)| {
            (name, Fittable { assembly, circular: circular.contains(name), fitted: false })
        };
        named.into_iter().map(fittable).collect()
    }

    /// Statements that make sense once for the whole robot are refused in an assembly.
    fn tell_misplaced(&mut self, assembly: &Assembly) {
        for item in &assembly.items {
            let Some((word, span)) = robot_only(item) else { continue };
            let message = format!("`{word}` cannot stand in an assembly");
            let help = format!("move it out of `{}`", assembly.name.text);
            let error =
                TextError::new("language.misplaced", span, message, "stands once for the whole robot");
            self.tell(error.help(help));
        }
    }

    /// The items by name; of those with the same name the first, the others are told.
    pub(super) fn first_definitions<T>(
        &mut self,
        items: &[&'a T],
        name: fn(&'a T) -> &'a Name,
    ) -> BTreeMap<&'a str, &'a T> {
        let mut found: BTreeMap<&'a str, &'a T> = BTreeMap::new();
        for item in items {
            let name_of = name(item);
            match found.get(&*name_of.text) {
                Some(first) => {
                    let error = duplicate(&name_of.text, name_of.span, name(first).span);
                    self.tell(error);
                }
                None => {
                    found.insert(&name_of.text, item);
                }
            }
        }
        found
    }

    /// Defines a name shared by things, wires, harnesses and fits; false when it is taken, which is told.
    pub(super) fn define(&mut self, name: &str, target: super::names::Target, span: Span) -> bool {
        if RESERVED.contains(&name) {
            let message = format!("`{name}` is a word of the language and cannot be a name");
            self.tell(
                TextError::new("language.reserved-name", span, message, "taken by the language")
                    .help("choose another name"),
            );
            return false;
        }
        match self.names.define(name, target, span) {
            Ok(()) => true,
            Err(error) => {
                self.tell(*error);
                if let Some(super::names::Target::Thing(first)) = self.names.get(name) {
                    // Wires may mean the second one, whose terminals differ.
                    self.doubled.insert(first);
                }
                false
            }
        }
    }
}

/// Words that stand where a name of a thing could stand, in modes and in `accept`.
const RESERVED: [&str; 4] = ["robot", "everything", "duty", "ambient"];

/// The assemblies that an assembly fits, with the place of each name.
fn fits_of(assembly: &Assembly) -> impl Iterator<Item = (&str, Span)> {
    assembly.items.iter().filter_map(|item| match item {
        Item::Fit(fit) => Some((&*fit.assembly.text, fit.assembly.span)),
        _ => None,
    })
}

/// What makes sense once for the whole robot. Of an edition in an assembly the parser has told.
fn robot_only(item: &Item) -> Option<(&'static str, Span)> {
    Some(match item {
        Item::Use(used) => ("use", used.span),
        Item::Robot(robot) => ("robot", robot.name.span),
        Item::Place(place) => ("place", place.names.first().map_or(place.span, |name| name.span)),
        Item::Part(part) => ("part", part.name.span),
        Item::Mode(mode) => ("mode", mode.name.span),
        Item::Assembly(assembly) => ("assembly", assembly.name.span),
        _ => return None,
    })
}
