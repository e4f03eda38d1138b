//! The grammar of a statement. Productions are one function each; those that a person would name have a file by topic.

mod assembly;
mod atom;
mod bench;
mod block;
mod project;
mod tail;
mod value;
mod wiring;

use chumsky::{input::MapExtra, prelude::*};

use super::{
    miss::Record,
    source::{Input, Source},
    words::Word,
};
use crate::{span::Span, syntax::Item};

/// What the productions carry along: their record of misses, and the source.
pub(super) type Extra<'s, R> = extra::Full<R, Source<'s>, ()>;

/// A production. Boxed, so that types stay short and builds quick.
pub(super) type Rule<'s, T, R> = Boxed<'s, 's, Input<'s>, T, Extra<'s, R>>;

/// The productions of the statements, each with the words it begins with.
pub(super) struct Statements<'s, R: Record<'s>> {
    rules: Vec<(Word, Rule<'s, Item, R>)>,
}

impl<'s, R: Record<'s>> Statements<'s, R> {
    /// Makes them. Takes some microseconds: once for a file.
    pub(super) fn new() -> Self {
        let nested = recursive(|nested| {
            let rules = rules(nested.boxed()).into_iter().map(|(_, rule)| rule);
            choice(rules.collect::<Vec<_>>())
        });
        Self { rules: rules(nested.boxed()) }
    }

    /// The production of the statement that begins with `word`.
    pub(super) fn beginning(&self, word: Word) -> Option<&Rule<'s, Item, R>> {
        self.rules.iter().find(|(first, _)| *first == word).map(|(_, rule)| rule)
    }
}

/// The statements, the most frequent first; `nested` is any statement, for those that hold others.
fn rules<'s, R: Record<'s>>(nested: Rule<'s, Item, R>) -> Vec<(Word, Rule<'s, Item, R>)> {
    let harness = wiring::harness();
    vec![
        (Word::Wire, wiring::wire()),
        (Word::Kind, wiring::thing()),
        (Word::Tie, wiring::tie()),
        (Word::Mate, wiring::mate()),
        (Word::Harness, harness.clone()),
        (Word::Cable, harness),
        (Word::Accept, bench::accept()),
        (Word::Expect, bench::expect()),
        (Word::Reading, bench::reading()),
        (Word::Mode, bench::mode()),
        (Word::Part, project::part()),
        (Word::Place, project::place()),
        (Word::Group, project::group()),
        (Word::Let, project::constant()),
        (Word::Use, project::use_file()),
        (Word::Robot, project::robot()),
        (Word::Wattle, project::edition()),
        (Word::Assembly, assembly::assembly(nested)),
        (Word::Fit, assembly::fit()),
    ]
}

/// The place of everything a production took.
fn whole<'s, R: Record<'s>>(e: &mut MapExtra<'s, '_, Input<'s>, Extra<'s, R>>) -> Span {
    let lexemes = e.slice();
    e.state().span(lexemes)
}
