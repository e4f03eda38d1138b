//! Statements about wiring that is used more than once: assemblies and their fitting.

use chumsky::prelude::*;

use super::{
    Rule,
    atom::{name, names, one, path, word},
    block::{assigned, lines, setting, settings},
    whole,
};
use crate::{
    parse::{
        complaint,
        lexeme::Sign,
        miss::{Due, Record},
        source::Source,
        words::Word,
    },
    syntax::{Assembly, Fit, Item, Setting},
};

/// A line of an assembly.
enum Line {
    Item(Item),
    Setting(Setting),
}

/// Keys of the settings that an assembly takes.
const KEYS: [&str; 4] = ["terminal", "terminals", "parameter", "note"];

/// `assembly NAME { settings and statements }`.
pub(super) fn assembly<'s, R: Record<'s>>(statement: Rule<'s, Item, R>) -> Rule<'s, Item, R> {
    let plain =
        one(Due::Setting, |sign| matches!(sign, Sign::Word(Word::Plain | Word::Not | Word::No))).rewind();
    let setting = plain.ignore_then(setting(assigned()));
    let setting = setting.map_with(|setting, e| setting.map(|setting| known(setting, e.state())));
    let line = setting.or(statement.map(|item| Some(Line::Item(item))));
    word(Due::Name, Word::Assembly)
        .ignore_then(name(Due::Name))
        .then(lines(line.boxed(), |span| Some(Line::Item(Item::Broken(span)))))
        .map_with(|(name, lines), e| {
            let (settings, items) = sort(lines);
            Item::Assembly(Assembly { name, settings, items, span: whole(e) })
        })
        .boxed()
}

fn sort(lines: Vec<Line>) -> (Vec<Setting>, Vec<Item>) {
    let (mut settings, mut items) = (Vec::new(), Vec::new());
    for line in lines {
        match line {
            Line::Setting(setting) => settings.push(setting),
            Line::Item(item) => items.push(item),
        }
    }
    (settings, items)
}

/// A line that begins with neither a statement's word nor a setting's key is a mistyped one of either.
fn known(setting: Setting, source: &mut Source<'_>) -> Line {
    let key = &*setting.key.text;
    if KEYS.contains(&key) || key.starts_with("x-") {
        return Line::Setting(setting);
    }
    source.complaints.push(complaint::unknown_beginning(setting.key.span, key, &KEYS));
    Line::Item(Item::Broken(setting.span))
}

/// `fit ASSEMBLY as NAME, NAME at PLACE { parameters }`.
pub(super) fn fit<'s, R: Record<'s>>() -> Rule<'s, Item, R> {
    word(Due::Name, Word::Fit)
        .ignore_then(name(Due::Name))
        .then_ignore(word(Due::As, Word::As))
        .then(names())
        .then(word(Due::At, Word::At).ignore_then(path(Due::Path)).or_not())
        .then(settings())
        .map_with(|(((assembly, names), at), settings), e| {
            Item::Fit(Fit { assembly, names, at, settings, span: whole(e) })
        })
        .boxed()
}
