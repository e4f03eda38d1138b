//! Lines that are kept as they are, because what they say is not certain: those of statements that could not be read or
//! have an error.
//!
//! Whole lines are kept, so that nothing an error was judged by moves. Statements that share a line share their fate. A
//! statement in an assembly is kept alone where its lines are its own and it has the layout's indent already; elsewhere
//! the whole assembly is kept.

use super::row::INDENT;
use crate::{
    Parse,
    syntax::{Assembly, Item},
};

/// Whole lines, from the first byte of the first to the line end of the last.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Lines {
    /// First byte.
    pub start: u32,
    /// The byte after the last, where the line end is.
    pub end: u32,
}

/// The lines to be kept, in order and apart from each other.
pub(super) fn lines(parse: &Parse, text: &str) -> Vec<Lines> {
    let faults = faults(parse);
    if faults.is_empty() {
        return Vec::new();
    }
    let mut keeper = Keeper { text, kept: Vec::new() };
    let mut left = faults.as_slice();
    let mut doubtful = false;
    for group in groups(text, &parse.file.items) {
        let (loose, rest) = left.split_at(left.partition_point(|fault| *fault < group.lines.start));
        let (inside, rest) = rest.split_at(rest.partition_point(|fault| *fault <= group.lines.end));
        keeper.loose(loose);
        if doubtful || !loose.is_empty() {
            keeper.kept.push(group.lines);
        } else if !inside.is_empty() {
            keeper.group(&group, inside, INDENT);
        }
        doubtful = group.spills(text, inside);
        left = rest;
    }
    keeper.loose(left);
    keeper.kept
}

/// Where something is wrong, in order.
fn faults(parse: &Parse) -> Vec<u32> {
    let mut faults: Vec<u32> = parse.errors.iter().map(|error| error.span.start).collect();
    if !faults.is_empty() {
        broken(&parse.file.items, &mut faults);
        faults.sort_unstable();
    }
    faults
}

fn broken(items: &[Item], faults: &mut Vec<u32>) {
    for item in items {
        match item {
            Item::Broken(span) => faults.push(span.start),
            Item::Assembly(assembly) => broken(&assembly.items, faults),
            _ => {}
        }
    }
}

/// Statements that share lines, and those lines.
struct Group<'i> {
    items: &'i [Item],
    lines: Lines,
}

impl Group<'_> {
    /// Whether a fault stands behind the statements and their `;`. Of the errors between two line ends that mean something
    /// to the parser it reports one, so the statement that follows may then have another.
    fn spills(&self, text: &str, faults: &[u32]) -> bool {
        let (Some(item), Some(fault)) = (self.items.last(), faults.last()) else { return false };
        text.get(item.span().end as usize..*fault as usize).is_some_and(|between| between.contains(';'))
    }
}

fn groups<'i>(text: &'i str, items: &'i [Item]) -> impl Iterator<Item = Group<'i>> {
    let together = |one: &Item, next: &Item| {
        let between = text.get(one.span().end as usize..next.span().start as usize);
        !between.is_some_and(|between| between.bytes().any(is_line_end))
    };
    items.chunk_by(together).filter_map(move |items| {
        let (first, last) = (items.first()?, items.last()?);
        let lines =
            Lines { start: line_start(text, first.span().start), end: line_end(text, last.span().end) };
        Some(Group { items, lines })
    })
}

fn line_start(text: &str, at: u32) -> u32 {
    let before = text.as_bytes().get(..at as usize).unwrap_or(&[]);
    let length = before.iter().rev().take_while(|byte| !is_line_end(**byte)).count();
    let start = before.len() - length;
    let mark = if start == 0 && text.starts_with('\u{feff}') { '\u{feff}'.len_utf8() } else { 0 };
    u32::try_from(start + mark).unwrap_or(u32::MAX)
}

fn line_end(text: &str, at: u32) -> u32 {
    let behind = text.as_bytes().get(at as usize..).unwrap_or(&[]);
    let length = behind.iter().take_while(|byte| !is_line_end(**byte)).count();
    at.saturating_add(u32::try_from(length).unwrap_or(u32::MAX))
}

const fn is_line_end(byte: u8) -> bool {
    matches!(byte, b'\n' | b'\r')
}

struct Keeper<'t> {
    text: &'t str,
    kept: Vec<Lines>,
}

impl Keeper<'_> {
    /// Keeps the lines of faults that stand beside all statements.
    fn loose(&mut self, faults: &[u32]) {
        for fault in faults {
            let lines = Lines { start: line_start(self.text, *fault), end: line_end(self.text, *fault) };
            if lines.start < lines.end && self.kept.last() != Some(&lines) {
                self.kept.push(lines);
            }
        }
    }

    /// Keeps the lines of a group with faults; of an assembly only those that have them, if that can be.
    fn group(&mut self, group: &Group<'_>, faults: &[u32], indent: usize) {
        let before = self.kept.len();
        match group.items {
            [Item::Assembly(assembly)] if self.inside(assembly, faults, indent) => {}
            _ => {
                self.kept.truncate(before);
                self.kept.push(group.lines);
            }
        }
    }

    /// Keeps the lines of an assembly's statements that hold all of `faults`; gives whether that was possible.
    fn inside(&mut self, assembly: &Assembly, faults: &[u32], indent: usize) -> bool {
        let mut left = faults;
        for group in groups(self.text, &assembly.items) {
            let count = left.partition_point(|fault| *fault <= group.lines.end);
            let (inside, rest) = left.split_at(count);
            let Some(first) = inside.first() else { continue };
            let alone = *first >= group.lines.start && !group.spills(self.text, inside);
            if !alone || !self.is_own(&group, assembly, indent) {
                return false;
            }
            self.group(&group, inside, indent + INDENT);
            left = rest;
        }
        left.is_empty()
    }

    /// Whether a group's lines are its own, indented as the layout would indent them.
    fn is_own(&self, group: &Group<'_>, assembly: &Assembly, indent: usize) -> bool {
        let inside = assembly.span.start < group.lines.start && group.lines.end < assembly.span.end;
        let first = group.items.first().map_or(0, |item| item.span().start);
        let before = self.text.get(group.lines.start as usize..first as usize).unwrap_or("");
        inside && before.len() == indent && before.bytes().all(|byte| byte == b' ')
    }
}
