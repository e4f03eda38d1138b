//! Terminals of things, shared by all things of one kind with the same counts, with lookup by name and alias.

use std::collections::HashMap;

use wattle_grammar::kind::{Kind, KindId, Repeat, TerminalInstance};

/// The terminals of one kind with certain counts.
#[derive(Debug)]
pub(super) struct Shape {
    /// The terminals in table order.
    pub(super) terminals: Vec<TerminalInstance>,
    positions: HashMap<Box<str>, u32>,
}

impl Shape {
    fn new(terminals: Vec<TerminalInstance>) -> Self {
        let mut positions = HashMap::new();
        for (terminal, at) in terminals.iter().zip(0u32..) {
            positions.insert(terminal.name.as_str().into(), at);
        }
        for (terminal, at) in terminals.iter().zip(0u32..) {
            for alias in terminal.aliases() {
                positions.entry(alias.into()).or_insert(at);
            }
        }
        Self { terminals, positions }
    }

    /// The position of the terminal with this name or alias.
    pub(super) fn position(&self, name: &str) -> Option<u32> {
        self.positions.get(name).copied()
    }

    /// The terminals as a person would list them: long families shortened to their ends.
    pub(super) fn listed(&self) -> String {
        let mut parts = Vec::new();
        for family in self.terminals.chunk_by(|one, next| std::ptr::eq(one.spec, next.spec)) {
            match family {
                [first, _, _, _, .., last] => parts.push(format!("`{}` … `{}`", first.name, last.name)),
                few => parts.extend(few.iter().map(|terminal| format!("`{}`", terminal.name))),
            }
        }
        const MOST: usize = 12;
        if parts.len() > MOST {
            let more = parts.len() - MOST;
            parts.truncate(MOST);
            parts.push(format!("{more} more"));
        }
        crate::complaint::listed(&parts, "and")
    }
}

/// All shapes in use.
#[derive(Debug, Default)]
pub(super) struct Shapes {
    all: Vec<Shape>,
    known: HashMap<(KindId, Vec<Option<u32>>), usize>,
}

impl Shapes {
    /// The shape of a kind with the given counts, made once.
    pub(super) fn of(&mut self, kind: &Kind, count: &dyn Fn(&str) -> Option<u32>) -> usize {
        let counts = kind.terminals.iter().flat_map(|terminal| counted(terminal.repeat)).map(count).collect();
        *self.known.entry((kind.id, counts)).or_insert_with(|| {
            self.all.push(Shape::new(kind.terminals_for(count)));
            self.all.len() - 1
        })
    }

    /// The shape behind a number from [`Shapes::of`].
    pub(super) fn get(&self, at: usize) -> Option<&Shape> {
        self.all.get(at)
    }
}

/// The keys that a repeat reads.
fn counted(repeat: Repeat) -> impl Iterator<Item = &'static str> {
    let (key, only_if) = match repeat {
        Repeat::Once => (None, None),
        Repeat::OnceIf(flag) => (None, Some(flag)),
        Repeat::Per { key, only_if, .. } => (Some(key), only_if),
    };
    key.into_iter().chain(only_if)
}
