//! Names of what was not understood whole and gives its facts to others: parts, places, assemblies, modes.

use std::collections::BTreeMap;

use wattle_grammar::{
    kind::by_word,
    span::Span,
    syntax::{Item, Part, Path},
};

use super::{Marks, Names};
use crate::{project::Project, stock};

/// The names, by what they are of.
#[derive(Debug, Default)]
pub(super) struct Taint {
    /// Parts with an error, or built on one.
    pub(super) parts: Names,
    /// Parts that are there at all.
    known_parts: Names,
    pub(super) places: Names,
    /// Assemblies that are fitted with parameters that were not understood.
    pub(super) assemblies: Names,
    pub(super) modes: Names,
    /// The robot's own settings hold for everything.
    pub(super) robot: bool,
}

impl Taint {
    pub(super) fn new(project: &Project, marks: &Marks) -> Self {
        let mut taint = Self::default();
        let mut parts: Vec<&Part> = Vec::new();
        for file in &project.files {
            for item in file.parse.file.all_items() {
                taint.note(item, marks);
                match item {
                    Item::Part(part) => parts.push(part),
                    Item::Broken(span) => taint.note_broken(span.slice(&file.text)),
                    _ => {}
                }
            }
        }
        taint.spread(&parts);
        taint
    }

    fn note(&mut self, item: &Item, marks: &Marks) {
        if let Item::Part(part) = item {
            self.known_parts.insert(part.name.text.to_string());
        }
        if !marks.hit(item.span()) {
            return;
        }
        match item {
            Item::Part(part) => drop(self.parts.insert(part.name.text.to_string())),
            Item::Place(place) => self.places.extend(place.names.iter().map(|name| name.text.to_string())),
            Item::Fit(fit) => drop(self.assemblies.insert(fit.assembly.text.to_string())),
            Item::Mode(mode) => drop(self.modes.insert(mode.name.text.to_string())),
            // Its name is nobody's business; its settings are everybody's.
            Item::Robot(robot) => {
                self.robot |= marks.hit(Span { start: robot.name.span.end, ..robot.span });
            }
            _ => {}
        }
    }

    /// A statement that could not be read at all still says of what it is.
    fn note_broken(&mut self, text: &str) {
        let words = text.split(|found: char| !(found.is_alphanumeric() || matches!(found, '-' | '_')));
        let mut words = words.filter(|word| !word.is_empty());
        let (Some(first), Some(name)) = (words.next(), words.next()) else { return };
        match first {
            "part" => drop(self.parts.insert(name.to_owned())),
            "place" => drop(self.places.insert(name.to_owned())),
            "mode" => drop(self.modes.insert(name.to_owned())),
            "fit" => drop(self.assemblies.insert(name.to_owned())),
            "robot" => self.robot = true,
            _ => {}
        }
    }

    /// Parts that build on a part of this sort are of this sort.
    fn spread(&mut self, parts: &[&Part]) {
        let mut built_on: BTreeMap<&str, Vec<&str>> = BTreeMap::new();
        let mut waiting: Vec<String> = self.parts.iter().cloned().collect();
        for part in parts.iter().filter(|part| by_word(&part.base.text).is_none()) {
            built_on.entry(&part.base.text).or_default().push(&part.name.text);
            if self.has_part(&part.base.text) {
                waiting.push(part.base.text.to_string());
            }
        }
        while let Some(base) = waiting.pop() {
            for name in built_on.remove(base.as_str()).unwrap_or_default() {
                self.parts.insert(name.to_owned());
                waiting.push(name.to_owned());
            }
        }
    }

    /// Whether a part of this name was not understood whole, or is not there.
    pub(super) fn has_part(&self, name: &str) -> bool {
        self.parts.contains(name) || (!self.known_parts.contains(name) && stock::part(name).is_none())
    }

    /// Whether a place was not understood whole.
    pub(super) fn is_at(&self, at: Option<&Path>) -> bool {
        let name = at.map(|path| path.segments.iter().map(|name| &*name.text).collect::<Vec<_>>().join("."));
        name.is_some_and(|name| self.places.contains(&name))
    }
}
