//! Statements about metal: things, wires, ties, harnesses, mates.

use chumsky::{input::MapExtra, prelude::*, primitive::select_ref};

use super::{
    Extra, Rule,
    atom::{mark, name, names, one, path, word},
    block::{lines, setting, settings, values},
    tail::{Allow, Tail, tail},
    whole,
};
use crate::{
    parse::{
        complaint,
        lexeme::{Lexeme, Sign},
        miss::{Due, Record},
        source::{Input, Source},
        words::Word,
    },
    syntax::{Harness, Item, Mate, Name, Setting, Shape, Spare, Thing, Tie, Wire},
};

/// `KIND NAME, NAME "label" : PART values on PATH at PATH { settings }`.
pub(super) fn thing<'s, R: Record<'s>>() -> Rule<'s, Item, R> {
    word(Due::Name, Word::Kind)
        .map_with(|kind, e| e.state().name(kind))
        .then(names())
        .then(tail(Allow { label: true, part: true, on: true, at: true, behind_names: true }))
        .then(settings())
        .map_with(|(((kind, names), mut tail), settings), e| {
            let settings = tail.denied(settings);
            let Tail { label, part, values, on, at, .. } = tail;
            Item::Thing(Thing { kind, names, part, label, values, on, at, settings, span: whole(e) })
        })
        .boxed()
}

/// `wire NAME END to END values at PLACE { settings }`.
pub(super) fn wire<'s, R: Record<'s>>() -> Rule<'s, Item, R> {
    word(Due::Name, Word::Wire)
        .ignore_then(conductor(name(Due::Name).boxed()))
        .map_with(|mut wire, e| {
            wire.span = whole(e);
            Item::Wire(wire)
        })
        .boxed()
}

/// A conductor from its name on.
fn conductor<'s, R: Record<'s>>(name: Rule<'s, Name, R>) -> Rule<'s, Wire, R> {
    name.then(path(Due::End))
        .then_ignore(word(Due::To, Word::To))
        .then(path(Due::End))
        .then(tail(Allow { at: true, ..Allow::default() }))
        .then(settings())
        .map_with(|((((name, from), to), mut tail), settings), e| Wire {
            name,
            from,
            to,
            settings: tail.denied(settings),
            values: tail.values,
            at: tail.at,
            span: whole(e),
        })
        .boxed()
}

/// `tie END to END, END { settings }`.
pub(super) fn tie<'s, R: Record<'s>>() -> Rule<'s, Item, R> {
    let more = path(Due::End).separated_by(mark(Due::Operator, Sign::Comma)).at_least(1).collect::<Vec<_>>();
    word(Due::Name, Word::Tie)
        .ignore_then(path(Due::End))
        .then_ignore(word(Due::To, Word::To))
        .then(more)
        .then(settings())
        .map_with(|((first, more), settings), e| {
            let mut ends = vec![first];
            ends.extend(more);
            Item::Tie(Tie { ends, settings, span: whole(e) })
        })
        .boxed()
}

/// A line of a harness.
enum Line {
    Core(Wire),
    Spare(Spare),
    Setting(Setting),
}

/// `harness NAME "label" values at PLACE { cores and settings }`, and the same for `cable`.
pub(super) fn harness<'s, R: Record<'s>>() -> Rule<'s, Item, R> {
    let core_name = one(Due::Setting, |sign: Sign| sign.is_name() || sign == Sign::Number);
    let core_name = core_name.map_with(|lexeme, e| e.state().name(lexeme));
    let core_name = core_name.boxed();
    let spare = spare(core_name.clone()).map(|spare| Some(Line::Spare(spare)));
    let core = conductor(core_name).map(|wire| Some(Line::Core(wire)));
    let setting =
        setting(values()).map_with(|setting, e| setting.and_then(|setting| true_setting(setting, e.state())));
    let line = core.or(spare).or(setting.map(|setting| setting.map(Line::Setting)));
    one(Due::Name, |sign| matches!(sign, Sign::Word(Word::Harness | Word::Cable)))
        .map_with(|word, e| e.state().name(word))
        .then(name(Due::Name))
        .then(tail(Allow { label: true, at: true, ..Allow::default() }))
        .then(lines(line.boxed(), |_| None))
        .map_with(|(((word, name), mut tail), lines), e| {
            let Sorted { wires, spares, settings } = sort(lines);
            let settings = tail.denied(settings);
            let Tail { label, values, at, .. } = tail;
            Item::Harness(Harness { word, name, label, values, at, settings, wires, spares, span: whole(e) })
        })
        .boxed()
}

/// A conductor without ends, from its name on.
fn spare<'s, R: Record<'s>>(name: Rule<'s, Name, R>) -> Rule<'s, Spare, R> {
    let spare = select_ref(|lexeme: &'s Lexeme, _: &mut MapExtra<'s, '_, Input<'s>, Extra<'s, R>>| {
        (lexeme.alone && lexeme.sign == Sign::Word(Word::Spare)).then_some(())
    });
    name.then_ignore(spare.labelled(Due::End))
        .then(tail(Allow::default()))
        .then(settings())
        .map_with(|((name, mut tail), settings), e| Spare {
            name,
            settings: tail.denied(settings),
            values: tail.values,
            span: whole(e),
        })
        .boxed()
}

/// The lines of a harness under their headings.
#[derive(Default)]
struct Sorted {
    wires: Vec<Wire>,
    spares: Vec<Spare>,
    settings: Vec<Setting>,
}

fn sort(lines: Vec<Line>) -> Sorted {
    let mut sorted = Sorted::default();
    for line in lines {
        match line {
            Line::Core(wire) => sorted.wires.push(wire),
            Line::Spare(spare) => sorted.spares.push(spare),
            Line::Setting(setting) => sorted.settings.push(setting),
        }
    }
    sorted
}

/// Two ends in a row are a core whose `to` is missing, not a setting.
fn true_setting(setting: Setting, source: &mut Source<'_>) -> Option<Setting> {
    match setting.values.as_slice() {
        [first, second, ..] if [first, second].iter().any(|value| matches!(value.shape, Shape::Path(_))) => {
            source.complaints.push(complaint::missing_to(first.span, second.span, source.text));
            None
        }
        _ => Some(setting),
    }
}

/// `mate HALF with HALF values { settings }`.
pub(super) fn mate<'s, R: Record<'s>>() -> Rule<'s, Item, R> {
    word(Due::Name, Word::Mate)
        .ignore_then(path(Due::Path))
        .then_ignore(word(Due::With, Word::With))
        .then(path(Due::Path))
        .then(tail(Allow::default()))
        .then(settings())
        .map_with(|(((first, second), mut tail), settings), e| {
            let settings = tail.denied(settings);
            Item::Mate(Mate { first, second, values: tail.values, settings, span: whole(e) })
        })
        .boxed()
}
