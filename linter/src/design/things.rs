//! Things: kind, part, own ratings and defaults put together; terminals; what they are plugged into.

use std::collections::BTreeSet;

use wattle_grammar::{
    error::TextError,
    kind::{Default, Kind, KindId, Rating, RatingShape, by_word, key},
    quantity::{Dimension, Quantity},
    span::Span,
    syntax,
};

use super::{
    Origin, Port, Rated, RatedValue, Standing, Terminal, Thing, ThingId,
    derive::derive,
    gather::{Gathered, Written},
    lower::Lowering,
    names::Target,
    parts::rows_of,
    rows::Noun,
    scope::ScopeId,
    sheet::{Declared, Sheet},
};
use crate::stock;

/// All things together have at most this many terminals.
const MAX_TERMINALS: usize = 1_000_000;

impl<'a> Lowering<'a> {
    /// Makes all things, then what they say about each other.
    pub(super) fn things(&mut self, sheet: &Sheet<'a>) {
        let mut scopes = Vec::new();
        for declared in &sheet.things {
            if let Some(kind) = by_word(&declared.statement.kind.text) {
                self.thing(declared, kind);
                scopes.resize(self.design.things.len(), declared.scope);
            }
        }
        for id in std::mem::take(&mut self.doubled) {
            if let Some(uncertain) = self.uncertain.get_mut(id.index()) {
                *uncertain = true;
            }
        }
        self.seats(sheet);
        for (at, scope) in scopes.into_iter().enumerate() {
            self.check_names_of(at, scope);
        }
    }

    fn thing(&mut self, declared: &Declared<'a, syntax::Thing>, kind: &'static Kind) {
        let statement = declared.statement;
        let own = self.gather(declared.scope, rows_of(kind), &statement.values, &statement.settings);
        let (part, part_failed) = self.part_of(statement, kind);
        let replaced = replaced(&own, part.as_deref().unwrap_or_default());
        let mut ratings = merged(kind, &own, part.as_deref().unwrap_or_default());
        derive(kind, &mut ratings);
        let unmeasured = unmeasured(kind, &own, part.as_deref().unwrap_or_default());
        let place = match &statement.at {
            Some(at) => self.place(at),
            None => self.scope(declared.scope).place,
        };
        let shape = self.shapes.of(kind, &|key| count(&ratings, key));
        let uncertain = own.failed || part_failed;
        for (name, span) in &declared.names {
            let thing = Thing {
                name: name.clone(),
                kind,
                label: statement.label.as_ref().map(|label| label.text.to_string()),
                span: *span,
                statement: statement.span,
                place,
                on: None,
                first_terminal: 0,
                terminal_count: 0,
                ratings: ratings.clone(),
                unmeasured: unmeasured.clone(),
            };
            let id = ThingId(u32::try_from(self.design.things.len()).unwrap_or(u32::MAX));
            self.design.replaced.extend(replaced.iter().map(|rated| (id, rated.clone())));
            self.add_thing(thing, shape, uncertain);
        }
    }

    fn add_thing(&mut self, mut thing: Thing, shape: usize, mut uncertain: bool) {
        let id = ThingId(u32::try_from(self.design.things.len()).unwrap_or(u32::MAX));
        let terminals = self.shapes.get(shape).map(|shape| shape.terminals.as_slice()).unwrap_or_default();
        thing.first_terminal = u32::try_from(self.design.terminals.len()).unwrap_or(u32::MAX);
        if self.design.terminals.len() + terminals.len() <= MAX_TERMINALS {
            thing.terminal_count = u32::try_from(terminals.len()).unwrap_or(0);
            self.design.terminals.extend(terminals.iter().map(|terminal| Terminal {
                thing: id,
                name: terminal.name.clone(),
                role: terminal.role,
                number: terminal.number,
            }));
        } else {
            uncertain = true;
            let message = format!("all things together have more than {MAX_TERMINALS} terminals");
            let error = TextError::new(
                "language.too-many-terminals",
                thing.span,
                message,
                "its terminals are left out",
            );
            // One of these says it all.
            if !std::mem::replace(&mut self.terminals_full, true) {
                self.tell(error);
            }
        }
        self.shape_of.push(shape);
        self.uncertain.push(uncertain);
        self.design.things.push(thing);
    }

    /// The ratings of the part after the colon, and whether something about it is wrong.
    fn part_of(&mut self, statement: &syntax::Thing, kind: &'static Kind) -> (Option<Vec<Rated>>, bool) {
        let Some(name) = &statement.part else { return (None, false) };
        let Some(part) = self.part_named(name) else {
            let names = self.candidates(self.parts.keys().copied().chain(stock::parts()));
            self.tell_unknown("part", &name.text, name.span, names.into_iter());
            return (None, true);
        };
        match part.kind {
            Some(found) if found.id == kind.id => {
                (Some(part.gathered.rated(Origin::Part)), part.gathered.failed)
            }
            Some(found) => {
                let message = format!("`{}` is {}, not {}", name.text, Noun(found.word), Noun(kind.word));
                let error =
                    TextError::new("language.wrong-part", name.span, message, "a part of another kind");
                let error = error.related(part.name.span, format!("{} by this", Noun(found.word)));
                self.tell(error);
                (None, true)
            }
            None => (None, true),
        }
    }

    /// What the things are plugged into.
    fn seats(&mut self, sheet: &Sheet<'a>) {
        let mut next = 0;
        for declared in &sheet.things {
            let first = next;
            next += declared.names.len();
            let Some(on) = &declared.statement.on else { continue };
            let Some(block) = self.block(declared, on) else { continue };
            for thing in self.design.things.iter_mut().skip(first).take(declared.names.len()) {
                thing.on = Some(block);
            }
        }
    }

    fn block(&mut self, declared: &Declared<'_, syntax::Thing>, on: &syntax::Path) -> Option<ThingId> {
        let kind = by_word(&declared.statement.kind.text)?;
        let id = self.thing_at(declared.scope, on)?;
        let target = self.design.things.get(id.index())?;
        let wrong = if !matches!(kind.id, KindId::Fuse | KindId::Breaker) {
            format!("{} is not plugged into a block; fuses and breakers are", Noun(kind.word))
        } else if target.id() != KindId::Block {
            format!("`{}` is {}, not a block", target.name, Noun(target.kind.word))
        } else {
            return Some(id);
        };
        let error = TextError::new("language.wrong-seat", on.span, wrong, "a block is due here");
        self.tell(match kind.id {
            KindId::Fuse | KindId::Breaker => error,
            _ => error.help("where a thing is stands behind `at`; how it is joined, a `wire` or `tie` says"),
        });
        None
    }

    /// Names within ratings: what a reference means, and which terminals are spare.
    fn check_names_of(&mut self, at: usize, scope: ScopeId) {
        let Some(thing) = self.design.things.get(at) else { return };
        let named: Vec<(usize, RatedValue, Span)> = thing
            .ratings
            .iter()
            .enumerate()
            .filter(|(_, rated)| rated.key != key::GROUP)
            .filter_map(|(index, rated)| match (&rated.value, &rated.origin) {
                (
                    RatedValue::Reference(_) | RatedValue::Terminals(_) | RatedValue::Ports(_),
                    Origin::Thing(span) | Origin::Part(span),
                ) => Some((index, rated.value.clone(), *span)),
                _ => None,
            })
            .collect();
        for (index, value, span) in named {
            let value = match value {
                RatedValue::Reference(name) => self.reference(scope, &name, span).map(RatedValue::Reference),
                RatedValue::Terminals(names) => {
                    Some(RatedValue::Terminals(self.own_terminals(at, &names, span)))
                }
                RatedValue::Ports(ports) => Some(RatedValue::Ports(self.own_ports(at, ports))),
                other => Some(other),
            };
            let ratings = self.design.things.get_mut(at).map(|thing| &mut thing.ratings);
            if let (Some(value), Some(rated)) = (value, ratings.and_then(|ratings| ratings.get_mut(index))) {
                rated.value = value;
            }
        }
    }

    /// The full name of what a rating refers to.
    pub(super) fn reference(&mut self, scope: ScopeId, name: &str, span: Span) -> Option<String> {
        let full = self.full_name(scope, name);
        match self.names.get(&full) {
            Some(Target::Withheld) => None,
            Some(_) => Some(full),
            None if self.place_ids.contains_key(name) => Some(name.to_owned()),
            None => {
                self.tell_unknown_in_scope(scope, name, span, &[]);
                None
            }
        }
    }

    /// The ports with their terminals looked up; one that is not there is told and left out.
    fn own_ports(&mut self, at: usize, mut ports: Vec<Port>) -> Vec<Port> {
        for port in &mut ports {
            let terminals = std::mem::take(&mut port.terminals);
            for (name, span) in terminals {
                let found = self.own_terminals(at, &[name], span);
                port.terminals.extend(found.into_iter().map(|name| (name, span)));
            }
        }
        ports
    }

    fn own_terminals(&mut self, at: usize, names: &[String], span: Span) -> Vec<String> {
        let mut found = BTreeSet::new();
        for name in names {
            match self.position(at, name) {
                Some(position) => {
                    found.insert(position);
                }
                None => self.tell_unknown_terminal(at, name, span),
            }
        }
        let shape = self.shape_of.get(at).and_then(|shape| self.shapes.get(*shape));
        let name =
            |position: u32| shape?.terminals.get(position as usize).map(|terminal| terminal.name.clone());
        found.into_iter().filter_map(name).collect()
    }
}

/// A thing's ratings in table order: its own, else its part's, else the table's fixed defaults.
fn merged(kind: &'static Kind, own: &Gathered, part: &[Rated]) -> Vec<Rated> {
    kind.all_ratings().filter_map(|row| rated(row, own, part)).collect()
}

/// What would hold of the measured ratings if nobody had measured them.
fn unmeasured(kind: &'static Kind, own: &Gathered, part: &[Rated]) -> Vec<Rated> {
    let is_measured = |written: &Written| written.standing.measured.is_some();
    if !own.written.iter().any(is_measured) {
        return Vec::new();
    }
    let (measured, written) = own.written.iter().cloned().partition::<Vec<_>, _>(is_measured);
    let mut ratings = merged(kind, &Gathered { written, failed: own.failed }, part);
    derive(kind, &mut ratings);
    ratings.retain(|rated| measured.iter().any(|written| written.key == rated.key));
    ratings
}

/// What a part says that the thing itself says otherwise.
fn replaced(own: &Gathered, part: &[Rated]) -> Vec<Rated> {
    part.iter().filter(|rated| own.get(rated.key).is_some()).cloned().collect()
}

fn rated(row: &'static Rating, own: &Gathered, part: &[Rated]) -> Option<Rated> {
    if let Some(written) = own.get(row.key) {
        return Some(written.rated(Origin::Thing));
    }
    let of_part = part.iter().find(|rated| rated.key == row.key).cloned();
    of_part.or_else(|| default(row))
}

/// The fixed default of a row.
pub(super) fn default(row: &'static Rating) -> Option<Rated> {
    let (value, authority) = match (row.default, row.shape) {
        (Default::Number(value, authority), shape) => {
            let dimension = match shape {
                RatingShape::Quantity(dimension) | RatingShape::Range(dimension) => dimension,
                _ => Dimension::Number,
            };
            (RatedValue::Quantity(Quantity { value, dimension, unit: "" }), authority)
        }
        (Default::Word(word, authority), _) => (RatedValue::Word(word.to_owned()), authority),
        (Default::Flag(flag, authority), _) => (RatedValue::Flag(flag), authority),
        (Default::Missing | Default::No(_) | Default::Derived(_), _) => return None,
    };
    let standing = Standing::default();
    Some(Rated { key: row.key, value, origin: Origin::Default(authority), standing })
}

/// What the ratings say about a count: the number, or 1 and 0 for a flag.
fn count(ratings: &[Rated], key: &str) -> Option<u32> {
    match &ratings.iter().find(|rated| rated.key == key)?.value {
        RatedValue::Quantity(quantity) if (0.0..=1e6).contains(&quantity.value) => {
            Some(quantity.value as u32)
        }
        RatedValue::Flag(flag) => Some(u32::from(*flag)),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::super::testing::{design, errors};

    use super::super::{TerminalId, ThingId};
    use wattle_grammar::kind::key;

    #[test]
    fn terminals_follow_the_counts() {
        let design = design("battery P lipo 3S { taps }\nplug J 4 way\nrelay K 24 V 2 pole\n");
        let names = |id| {
            design.terminals_of(ThingId(id)).map(|(_, terminal)| terminal.name.as_str()).collect::<Vec<_>>()
        };
        assert_eq!(names(0), ["pos", "neg", "t0", "t1", "t2", "t3"]);
        assert_eq!(names(1), ["1", "2", "3", "4"]);
        assert_eq!(names(2), ["A1", "A2", "11", "12", "14", "21", "22", "24"]);
        assert_eq!(design.terminal_name(TerminalId(3)), "P.t1");
    }

    #[test]
    fn names_are_defined_once_and_the_second_makes_no_more_noise() {
        let (design, errors) = super::super::testing::parsed(
            "fuse A 5 A\nplug A 4 way\nstud S\nwire W A.3 to S\nwire A S to A.line\n",
        );
        assert_eq!(
            super::super::testing::short(&errors),
            ["duplicate-name: `A` is defined twice", "duplicate-name: `A` is defined twice",]
        );
        assert_eq!(errors[0].related[0].0, design.things[0].span);
    }

    #[test]
    fn a_fuse_is_seated_on_a_block() {
        let seated = design("fuse F 5 A on BUS\nblock BUS 4 way\n");
        assert_eq!(seated.things[0].on, Some(ThingId(1)));
        assert_eq!(
            errors("fuse F 5 A on M\nmotor M on BUS\nblock BUS 4 way\n"),
            [
                "wrong-seat: `M` is a motor, not a block",
                "wrong-seat: a motor is not plugged into a block; fuses and breakers are",
            ]
        );
    }

    #[test]
    fn spare_terminals_are_terminals_of_the_thing() {
        let design = design("plug J 4 way { spare 4 3 }\n");
        let spare = &design.things[0].rated(key::SPARE).unwrap().value;
        assert_eq!(*spare, super::super::RatedValue::Terminals(vec!["3".to_owned(), "4".to_owned()]));
        assert_eq!(errors("plug J 4 way { spare 5 }\n").len(), 1);
    }

    #[test]
    fn a_fact_that_nobody_states_is_not_carried_along() {
        let design =
            design("plug A 4 way\nplug B 4 way { dead-when-apart }\nplug C 4 way { not dead-when-apart }\n");
        let stated = |at: usize| design.things[at].flag(key::DEAD_WHEN_APART);
        assert_eq!([stated(0), stated(1), stated(2)], [None, Some(true), Some(false)]);
        assert_eq!(design.things[0].flag(key::HOT_MATE), Some(false));
    }

    #[test]
    fn reserved_words_are_no_names() {
        assert!(errors("fuse robot 5 A\n")[0].starts_with("reserved-name"));
    }
}
