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
};
use crate::{span::Span, syntax::Item};

/// What the productions carry along: their record of misses, and the source.
pub(super) type Extra<'s, R> = extra::Full<R, Source<'s>, ()>;

/// A production. Boxed, so that types stay short and builds quick.
pub(super) type Rule<'s, T, R> = Boxed<'s, 's, Input<'s>, T, Extra<'s, R>>;

/// A statement, blocks and all.
pub(super) fn statement<'s, R: Record<'s>>() -> Rule<'s, Item, R> {
    recursive(|statement| {
        choice((
            wiring::wire(),
            wiring::thing(),
            wiring::tie(),
            wiring::mate(),
            wiring::harness(),
            bench::accept(),
            bench::expect(),
            bench::reading(),
            bench::mode(),
            project::part(),
            project::place(),
            project::constant(),
            project::use_file(),
            project::robot(),
            project::edition(),
            assembly::assembly(statement.boxed()),
            assembly::fit(),
        ))
    })
    .boxed()
}

/// The place of everything a production took.
fn whole<'s, R: Record<'s>>(e: &mut MapExtra<'s, '_, Input<'s>, Extra<'s, R>>) -> Span {
    let lexemes = e.slice();
    e.state().span(lexemes)
}
