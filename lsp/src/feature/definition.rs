//! Where a name is defined: a thing, a wire, a place, a part, an assembly and what is in it, a parameter, a constant, a
//! mode, a file. What is in stock is defined there.

mod world;

use std::{collections::BTreeSet, path::PathBuf, sync::Arc};

use wattle_grammar::{line_index::LineIndex, span::Span, syntax::Item};
use wattle_linter::stock;

use crate::{
    engine::SourceFile,
    feature::{
        mention::{Mention, Role, mention_at, statement_at},
        word::word_at,
    },
    library::plain_path,
    snapshot::Snapshot,
};
use world::World;

/// A place in some file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Target {
    /// The file; none for the stock, which is inside the program.
    pub path: Option<PathBuf>,
    /// Its text.
    pub text: Arc<str>,
    /// Its lines.
    pub lines: Arc<LineIndex>,
    /// First byte.
    pub start: u32,
    /// The byte behind it.
    pub end: u32,
}

impl Target {
    /// Whether it is in the stock.
    #[must_use]
    pub const fn is_stock(&self) -> bool {
        self.path.is_none()
    }
}

/// Where the name at a byte is defined; in several places when the robots that the document is a part of differ.
#[must_use]
pub fn definition(snapshot: &Snapshot, at: u32) -> Vec<Target> {
    look(snapshot, at, |world, mention| world.definition(mention))
}

/// Where the sort of the thing at a byte is defined: the part that it is, or the assembly that is fitted.
#[must_use]
pub fn type_definition(snapshot: &Snapshot, at: u32) -> Vec<Target> {
    look(snapshot, at, |world, mention| world.type_definition(mention))
}

fn look(snapshot: &Snapshot, at: u32, find: fn(&World<'_>, &Mention<'_>) -> Option<Span>) -> Vec<Target> {
    let worlds = World::all(snapshot);
    let found = worlds.iter().filter_map(|world| {
        let mention = mention_at(world.tree(), at);
        let guesses = || guesses(snapshot, world, at);
        let span = match &mention {
            Some(mention) => find(world, mention),
            None => guesses().iter().find_map(|guess| find(world, guess)),
        };
        target(world, snapshot, span?)
    });
    let mut met = BTreeSet::new();
    found.filter(|target| met.insert((target.path.clone(), target.start, target.end))).collect()
}

/// What the word may be in a statement that could not be read, likeliest first.
fn guesses<'a>(snapshot: &'a Snapshot, world: &'a World<'_>, at: u32) -> Vec<Mention<'a>> {
    let statement = statement_at(&world.tree().items, at, None);
    if statement.is_some_and(|(item, _)| !matches!(item, Item::Broken(_))) {
        return Vec::new();
    }
    let Some(word) = word_at(snapshot.parse(), &snapshot.text, at) else { return Vec::new() };
    let inside = statement.and_then(|(_, inside)| inside);
    let mention = |role| Mention { role, path: word.path.split('.').collect(), span: word.span, inside };
    [Role::Path, Role::Part, Role::Assembly, Role::Value, Role::Mode].map(mention).into()
}

fn target(world: &World<'_>, snapshot: &Snapshot, span: Span) -> Option<Target> {
    let of = |file: &SourceFile, path| Target {
        path,
        text: Arc::clone(&file.text),
        lines: Arc::clone(&file.lines),
        start: span.start,
        end: span.end,
    };
    if span.file == stock::FILE {
        return Some(of(stock::file(), None));
    }
    match world.project() {
        Some(project) => project.file(span.file).map(|file| of(file, Some(plain_path(&file.path)))),
        None => Some(Target {
            path: Some(snapshot.path.clone()),
            text: Arc::clone(&snapshot.text),
            lines: Arc::new(snapshot.lines().clone()),
            start: span.start,
            end: span.end,
        }),
    }
}

#[cfg(test)]
mod tests;
