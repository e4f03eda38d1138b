//! Statements about the file and the robot as a whole: edition, files, constants, robot, places, parts.

use chumsky::prelude::*;

use super::{
    Rule,
    atom::{mark, name, names, text, word},
    block::settings,
    tail::{Allow, tail},
    value::{Place as Position, value},
    whole,
};
use crate::{
    parse::{
        lexeme::Sign,
        miss::{Due, Record},
        source::is_spoiled,
        words::Word,
    },
    syntax::{Edition, Group, Item, Let, Part, Place, Robot, Use},
};

/// `wattle 1`.
pub(super) fn edition<'s, R: Record<'s>>() -> Rule<'s, Item, R> {
    word(Due::Name, Word::Wattle)
        .ignore_then(mark(Due::Number, Sign::Number))
        .map_with(|number, e| {
            let span = whole(e);
            let digits = e.state().slice(number);
            let number = digits.parse().ok().filter(|_| !digits.starts_with('0')).unwrap_or(u32::MAX);
            Item::Edition(Edition { number, span })
        })
        .boxed()
}

/// `use "parts/legs.wattle"`.
pub(super) fn use_file<'s, R: Record<'s>>() -> Rule<'s, Item, R> {
    word(Due::Name, Word::Use)
        .ignore_then(text(Due::Text))
        .map_with(|path, e| Item::Use(Use { path, span: whole(e) }))
        .boxed()
}

/// `let NAME = value`. A value that was complained about makes no constant.
pub(super) fn constant<'s, R: Record<'s>>() -> Rule<'s, Item, R> {
    word(Due::Name, Word::Let)
        .ignore_then(name(Due::Name))
        .then_ignore(mark(Due::Equal, Sign::Equal))
        .then(value(Position::Line))
        .map_with(|(name, value), e| {
            let span = whole(e);
            if is_spoiled(&value) { Item::Broken(span) } else { Item::Let(Let { name, value, span }) }
        })
        .boxed()
}

/// `robot "name" { settings }`.
pub(super) fn robot<'s, R: Record<'s>>() -> Rule<'s, Item, R> {
    word(Due::Name, Word::Robot)
        .ignore_then(text(Due::Text))
        .then(settings())
        .map_with(|(name, settings), e| Item::Robot(Robot { name, settings, span: whole(e) }))
        .boxed()
}

/// `place NAME, NAME "label" values { settings }`.
pub(super) fn place<'s, R: Record<'s>>() -> Rule<'s, Item, R> {
    word(Due::Name, Word::Place)
        .ignore_then(names())
        .then(tail(Allow { label: true, behind_names: true, ..Allow::default() }))
        .then(settings())
        .map_with(|((names, mut tail), settings), e| {
            let settings = tail.denied(settings);
            Item::Place(Place { names, label: tail.label, values: tail.values, settings, span: whole(e) })
        })
        .boxed()
}

/// `group NAME, NAME "label" values { settings }`.
pub(super) fn group<'s, R: Record<'s>>() -> Rule<'s, Item, R> {
    word(Due::Name, Word::Group)
        .ignore_then(names())
        .then(tail(Allow { label: true, behind_names: true, ..Allow::default() }))
        .then(settings())
        .map_with(|((names, mut tail), settings), e| {
            let settings = tail.denied(settings);
            Item::Group(Group { names, label: tail.label, values: tail.values, settings, span: whole(e) })
        })
        .boxed()
}

/// `part NAME is BASE "label" values { settings }`.
pub(super) fn part<'s, R: Record<'s>>() -> Rule<'s, Item, R> {
    word(Due::Name, Word::Part)
        .ignore_then(name(Due::Name))
        .then_ignore(word(Due::Is, Word::Is))
        .then(name(Due::Base))
        .then(tail(Allow { label: true, ..Allow::default() }))
        .then(settings())
        .map_with(|(((name, base), mut tail), settings), e| {
            let settings = tail.denied(settings);
            Item::Part(Part { name, base, label: tail.label, values: tail.values, settings, span: whole(e) })
        })
        .boxed()
}
