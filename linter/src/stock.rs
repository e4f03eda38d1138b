//! The stock: generic parts and assemblies, written in the language itself, that every robot can use without `use`.
//!
//! It is read once, and not before a robot names something that it does not define itself. It has a file of its own,
//! outside every project: nobody lays it out, nobody accepts anything in it, and nothing is ever found in it.

use std::{
    collections::BTreeMap,
    sync::{Arc, LazyLock},
};

use wattle_grammar::{
    line_index::LineIndex,
    parse,
    span::{FileId, Span},
    syntax::{Assembly, Item, Part},
};

use crate::project::SourceFile;

mod catalogue;
mod home;
#[cfg(test)]
mod tests;

pub use catalogue::{list, page};
pub(crate) use home::bring_home;

/// The id of the stock's file. No project gives it to one of its own.
pub const FILE: FileId = FileId(u32::MAX);

/// How the stock's file is called where places are shown. Not a path: it is inside the program.
pub const NAME: &str = "<stock.wattle>";

/// The stock as it is written.
pub const TEXT: &str = include_str!("stock.wattle");

static SOURCE: LazyLock<SourceFile> = LazyLock::new(|| SourceFile {
    id: FILE,
    path: NAME.into(),
    text: TEXT.into(),
    parse: Arc::new(parse(FILE, TEXT)),
    lines: Arc::new(LineIndex::new(TEXT)),
});

static ENTRIES: LazyLock<BTreeMap<&'static str, Entry>> = LazyLock::new(|| {
    let items: &'static [Item] = &file().parse.file.items;
    items.iter().filter_map(|item| Entry::new(item).map(|entry| (entry.name(), entry))).collect()
});

/// Something in the stock.
#[derive(Clone, Copy, Debug)]
pub enum Entry {
    /// A part.
    Part(&'static Part),
    /// An assembly.
    Assembly(&'static Assembly),
}

impl Entry {
    const fn new(item: &'static Item) -> Option<Self> {
        match item {
            Item::Part(part) => Some(Self::Part(part)),
            Item::Assembly(assembly) => Some(Self::Assembly(assembly)),
            _ => None,
        }
    }

    /// Its name.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Part(part) => &part.name.text,
            Self::Assembly(assembly) => &assembly.name.text,
        }
    }

    /// Its whole statement.
    #[must_use]
    pub const fn span(self) -> Span {
        match self {
            Self::Part(part) => part.span,
            Self::Assembly(assembly) => assembly.span,
        }
    }
}

/// The stock's file with its tree.
#[must_use]
pub fn file() -> &'static SourceFile {
    &SOURCE
}

/// What has this name.
#[must_use]
pub fn entry(name: &str) -> Option<Entry> {
    ENTRIES.get(name).copied()
}

/// The part of this name.
#[must_use]
pub fn part(name: &str) -> Option<&'static Part> {
    match entry(name)? {
        Entry::Part(part) => Some(part),
        Entry::Assembly(_) => None,
    }
}

/// The assembly of this name.
#[must_use]
pub fn assembly(name: &str) -> Option<&'static Assembly> {
    match entry(name)? {
        Entry::Assembly(assembly) => Some(assembly),
        Entry::Part(_) => None,
    }
}

/// Everything in it, in the order of the text.
#[must_use]
pub fn entries() -> Vec<Entry> {
    file().parse.file.items.iter().filter_map(Entry::new).collect()
}

/// The names of all parts, in alphabetical order.
pub fn parts<'n>() -> impl Iterator<Item = &'n str> {
    names(|entry| matches!(entry, Entry::Part(_)))
}

/// The names of all assemblies, in alphabetical order.
pub fn assemblies<'n>() -> impl Iterator<Item = &'n str> {
    names(|entry| matches!(entry, Entry::Assembly(_)))
}

fn names<'n>(wanted: fn(&Entry) -> bool) -> impl Iterator<Item = &'n str> {
    ENTRIES.iter().filter(move |(_, entry)| wanted(entry)).map(|(name, _)| *name)
}

/// The name in it that is nearest to another, when one is near enough to be meant.
#[must_use]
pub fn nearest(name: &str) -> Option<&'static str> {
    wattle_grammar::nearest::nearest(name, ENTRIES.keys().copied())
}
