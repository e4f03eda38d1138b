//! Going through a tree: every statement, those inside assemblies too.

use super::{File, Item};
use crate::span::Span;

impl File {
    /// Every statement in the order written; an assembly comes before what it holds.
    pub fn all_items(&self) -> AllItems<'_> {
        AllItems::of(&self.items)
    }
}

/// The iterator of [`File::all_items`].
#[derive(Debug)]
pub struct AllItems<'f> {
    open: Vec<std::slice::Iter<'f, Item>>,
}

impl<'f> AllItems<'f> {
    /// Every statement of some, and those inside them.
    pub(crate) fn of(items: &'f [Item]) -> Self {
        Self { open: vec![items.iter()] }
    }
}

impl<'f> Iterator for AllItems<'f> {
    type Item = &'f Item;

    fn next(&mut self) -> Option<&'f Item> {
        loop {
            if let Some(item) = self.open.last_mut()?.next() {
                self.open.push(item.items().iter());
                return Some(item);
            }
            self.open.pop();
        }
    }
}

impl Item {
    /// The statements inside this one: those of an assembly, else none.
    #[must_use]
    pub fn items(&self) -> &[Self] {
        match self {
            Self::Assembly(assembly) => &assembly.items,
            _ => &[],
        }
    }

    /// The whole statement.
    #[must_use]
    pub const fn span(&self) -> Span {
        match self {
            Self::Edition(it) => it.span,
            Self::Use(it) => it.span,
            Self::Let(it) => it.span,
            Self::Robot(it) => it.span,
            Self::Place(it) => it.span,
            Self::Group(it) => it.span,
            Self::Part(it) => it.span,
            Self::Thing(it) => it.span,
            Self::Wire(it) => it.span,
            Self::Tie(it) => it.span,
            Self::Harness(it) => it.span,
            Self::Mate(it) => it.span,
            Self::Mode(it) => it.span,
            Self::Expect(it) => it.span,
            Self::Reading(it) => it.span,
            Self::Accept(it) => it.span,
            Self::Assembly(it) => it.span,
            Self::Fit(it) => it.span,
            Self::Broken(span) => *span,
        }
    }
}

#[cfg(test)]
mod tests {
    use crate::{parse, span::FileId};

    #[test]
    fn statements_inside_assemblies_are_visited_in_order() {
        let text = "wattle 1\nassembly A {\n  motor M 24 V\n  assembly B { fuse F 3 A }\n  tie M.a to F.1\n}\nfit A as a";
        let parsed = parse(FileId(0), text);
        assert_eq!(parsed.errors, []);
        let starts: Vec<&str> =
            parsed.file.all_items().filter_map(|item| item.span().slice(text).split(' ').next()).collect();
        assert_eq!(starts, ["wattle", "assembly", "motor", "assembly", "fuse", "tie", "fit"]);
    }
}
