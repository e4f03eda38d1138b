//! Statements about work and the bench: modes, expectations, readings, accepted risks.

use chumsky::prelude::*;

use super::{
    Extra, Rule,
    atom::{date, mark, name, names, one, path, paths, text, word},
    block::{lines, values},
    value::{Place, value},
    whole,
};
use crate::{
    parse::{
        complaint,
        lexeme::Sign,
        miss::{Due, Record},
        source::{Input, is_spoiled},
        words::Word,
    },
    syntax::{Accept, Comparison, Expect, Item, Mode, ModeLine, Name, Path, Reading, Value},
};

/// `mode NAME "label" { lines }`.
pub(super) fn mode<'s, R: Record<'s>>() -> Rule<'s, Item, R> {
    let line = paths(Due::Setting).then(values()).map_with(|(subjects, values), e| {
        let span = whole(e);
        (!values.iter().any(is_spoiled)).then_some(ModeLine { subjects, values, span })
    });
    word(Due::Name, Word::Mode)
        .ignore_then(name(Due::Name))
        .then(text(Due::Text).or_not())
        .then(lines(line.boxed(), |_| None))
        .map_with(|((name, label), lines), e| Item::Mode(Mode { name, label, lines, span: whole(e) }))
        .boxed()
}

/// `expect …`, in its three forms.
pub(super) fn expect<'s, R: Record<'s>>() -> Rule<'s, Item, R> {
    let form = choice((dead(), runtime(), measured()));
    word(Due::Name, Word::Expect)
        .ignore_then(form)
        .then(modes())
        .then(word(Due::Under, Word::Under).ignore_then(word(Due::AnyFault, Word::AnyFault)).or_not())
        .map_with(|((expect, modes), fault), e| {
            let span = whole(e);
            let spoiled = expect.limit.as_ref().is_some_and(|(_, value)| is_spoiled(value));
            let any_fault = fault.is_some();
            if spoiled {
                Item::Broken(span)
            } else {
                Item::Expect(Expect { modes, any_fault, span, ..expect })
            }
        })
        .boxed()
}

/// `in NAME, NAME`, or nothing.
fn modes<'s, R: Record<'s>>() -> Rule<'s, Vec<Name>, R> {
    word(Due::In, Word::In).ignore_then(names()).or_not().map(Option::unwrap_or_default).boxed()
}

/// `dead PATH, PATH when PATH STATE`.
fn dead<'s, R: Record<'s>>() -> Rule<'s, Expect, R> {
    let when = word(Due::When, Word::When).ignore_then(path(Due::Path)).then(name(Due::State));
    what(Word::Dead)
        .then(paths(Due::Path))
        .then(when)
        .map(|((what, subjects), when)| Expect { when: Some(when), ..blank(what, subjects) })
        .boxed()
}

/// `runtime >= 2 h`.
fn runtime<'s, R: Record<'s>>() -> Rule<'s, Expect, R> {
    what(Word::Runtime)
        .then(limit())
        .map(|(what, limit)| Expect { limit: Some(limit), ..blank(what, Vec::new()) })
        .boxed()
}

/// What can be measured.
const MEASURED: [&str; 3] = ["voltage", "current", "temperature"];

/// `voltage PATH, PATH >= 20 V`, and the same for current and temperature.
fn measured<'s, R: Record<'s>>() -> Rule<'s, Expect, R> {
    one(Due::What, |sign| matches!(sign, Sign::Word(Word::Plain)))
        .map_with(|word, e| {
            let name = e.state().name(word);
            if !MEASURED.contains(&&*name.text) {
                let complaint = complaint::unknown_expectation(name.span, &name.text);
                e.state().complaints.push(complaint);
            }
            name
        })
        .then(paths(Due::Path))
        .then(limit())
        .map(|((what, subjects), limit)| Expect { limit: Some(limit), ..blank(what, subjects) })
        .boxed()
}

fn what<'s, R: Record<'s>>(found: Word) -> impl Parser<'s, Input<'s>, Name, Extra<'s, R>> + Clone {
    word(Due::What, found).map_with(|word, e| e.state().name(word))
}

/// An expectation of which only this is known yet.
fn blank(what: Name, subjects: Vec<Path>) -> Expect {
    let span = what.span;
    Expect { what, subjects, limit: None, when: None, modes: Vec::new(), any_fault: false, span }
}

/// `>= 20 V`.
fn limit<'s, R: Record<'s>>() -> Rule<'s, (Comparison, Value), R> {
    let comparison = choice((
        mark(Due::Comparison, Sign::AtLeast).to(Comparison::AtLeast),
        mark(Due::Comparison, Sign::AtMost).to(Comparison::AtMost),
        mark(Due::Comparison, Sign::Equal).to(Comparison::Equal),
    ));
    comparison.then(value(Place::Line)).boxed()
}

/// `reading VALUE through PATH in MODE on DATE`.
pub(super) fn reading<'s, R: Record<'s>>() -> Rule<'s, Item, R> {
    let single = one(Due::Relation, |sign| matches!(sign, Sign::Word(Word::Through | Word::At)));
    let single = single.then(path(Due::Path).map(|path| vec![path]));
    let other = mark(Due::Operator, Sign::Comma).ignore_then(path(Due::Path));
    let pair = path(Due::Path).then(other).map(|(first, second)| vec![first, second]);
    let where_read = single.or(word(Due::Relation, Word::Across).then(pair)).boxed();
    word(Due::Name, Word::Reading)
        .ignore_then(value(Place::Line))
        .then(where_read)
        .then(word(Due::In, Word::In).ignore_then(name(Due::Name)).or_not())
        .then(word(Due::On, Word::On).ignore_then(date()).or_not())
        .map_with(|(((value, (relation, subjects)), mode), date), e| {
            let span = whole(e);
            if is_spoiled(&value) {
                return Item::Broken(span);
            }
            let relation = e.state().name(relation);
            Item::Reading(Reading { value, relation, subjects, mode, date: date.map(|(date, _)| date), span })
        })
        .boxed()
}

/// `accept RULE on THING because "…" until DATE`.
pub(super) fn accept<'s, R: Record<'s>>() -> Rule<'s, Item, R> {
    word(Due::Name, Word::Accept)
        .ignore_then(path(Due::Name))
        .then_ignore(word(Due::On, Word::On))
        .then(path(Due::Path))
        .then_ignore(word(Due::Because, Word::Because))
        .then(text(Due::Reason))
        .then(word(Due::Until, Word::Until).ignore_then(date()).or_not())
        .map_with(|(((rule, subject), reason), until), e| {
            let file = e.state().file;
            let until = until.map(|(date, lexeme)| (date, lexeme.span(file)));
            Item::Accept(Accept { rule, subject, reason, until, span: whole(e) })
        })
        .boxed()
}
