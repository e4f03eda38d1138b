//! Designs made by hand, for tests of what comes after the text.

use wattle_grammar::{
    kind::{self, Default as Fallback},
    quantity::{Dimension, Metres, Quantity, Share, SquareMm},
    span::Span,
};

use crate::design::{
    Design, Level, Mate, MateId, Mode, ModeId, ModeOrigin, Origin, Rated, RatedValue, Standing, State,
    Terminal, TerminalId, Thing, ThingId, Tie, Wire, WireId, WireSize,
};

/// A value of a rating, in the base unit of its key.
pub(crate) enum Value {
    N(f64),
    R(f64, f64),
    W(&'static str),
    Yes,
}

pub(crate) use Value::{N, R, W, Yes};

/// A design while it is made.
#[derive(Default)]
pub(crate) struct Sample {
    pub(crate) design: Design,
}

impl Sample {
    /// Adds a thing with the terminals and defaults of its kind.
    pub(crate) fn thing(&mut self, kind: &str, name: &str, ratings: &[(&'static str, Value)]) -> ThingId {
        let kind = kind::by_word(kind).unwrap();
        let id = ThingId(self.design.things.len() as u32);
        let count = |key: &str| {
            ratings.iter().find(|rating| rating.0 == key).map(|rating| match rating.1 {
                N(number) => number as u32,
                _ => 1,
            })
        };
        let first_terminal = self.design.terminals.len() as u32;
        let made = kind.terminals_for(&count).into_iter();
        let made = made.map(|one| Terminal { thing: id, name: one.name, role: one.role, number: one.number });
        self.design.terminals.extend(made);
        self.design.things.push(Thing {
            name: name.to_owned(),
            kind,
            label: None,
            span: Span::default(),
            statement: Span::default(),
            place: None,
            on: None,
            first_terminal,
            terminal_count: self.design.terminals.len() as u32 - first_terminal,
            ratings: rated(kind, ratings),
            unmeasured: Vec::new(),
        });
        id
    }

    pub(crate) fn named(&self, name: &str) -> ThingId {
        self.design
            .things()
            .find(|(_, thing)| thing.name == name)
            .unwrap_or_else(|| panic!("no thing {name}"))
            .0
    }

    /// The terminal under a path `THING.terminal`.
    pub(crate) fn at(&self, path: &str) -> TerminalId {
        let (thing, terminal) = path.rsplit_once('.').unwrap();
        let found = self.design.terminal_named(self.named(thing), terminal);
        found.unwrap_or_else(|| panic!("no terminal {path}"))
    }

    /// Adds a wire of a cross-section in mm² and a length in m.
    pub(crate) fn wire(&mut self, from: &str, to: &str, area: f64, length: f64) -> WireId {
        let size = WireSize {
            area: SquareMm(area),
            written: format!("{area} mm²"),
            awg: false,
            span: Span::default(),
        };
        self.bare_wire(from, to, Some(size), Some(Metres(length)))
    }

    /// Adds a wire of which neither size nor length is known.
    pub(crate) fn join(&mut self, from: &str, to: &str) -> WireId {
        self.bare_wire(from, to, None, None)
    }

    fn bare_wire(&mut self, from: &str, to: &str, size: Option<WireSize>, length: Option<Metres>) -> WireId {
        let id = WireId(self.design.wires.len() as u32);
        let ends = [from, to].map(|path| (self.at(path), Span::default()));
        self.design.wires.push(Wire {
            facts: Vec::new(),
            name: format!("W{}", id.0 + 1),
            span: Span::default(),
            statement: Span::default(),
            from: ends[0],
            to: ends[1],
            size,
            length,
            length_span: None,
            colour: None,
            insulation: None,
            place: None,
            harness: None,
            sheathed: false,
            supplied_tail: false,
            bundle: None,
            current_limit: None,
            spare: false,
            resistance: None,
            parallel_by_intent: false,
            aluminium: false,
        });
        id
    }

    pub(crate) fn tie(&mut self, ends: &[&str]) {
        let ends = ends.iter().map(|path| (self.at(path), Span::default())).collect();
        self.design.ties.push(Tie { ends, span: Span::default(), facts: Vec::new() });
    }

    /// Mates two connector halves way to way.
    pub(crate) fn mate(&mut self, first: &str, second: &str) -> MateId {
        let id = MateId(self.design.mates.len() as u32);
        let (first, second) = (self.named(first), self.named(second));
        let ids = |thing| self.design.terminals_of(thing).map(|(id, _)| id).collect::<Vec<_>>();
        let ways = ids(first).into_iter().zip(ids(second)).collect();
        self.design.mates.push(Mate {
            first: (first, Span::default()),
            second: (second, Span::default()),
            span: Span::default(),
            ways,
            crossover: false,
            facts: Vec::new(),
        });
        id
    }

    /// Adds a mode: every load at `level`, stops and protection closed, switches and chargers as `states` says, open
    /// otherwise.
    pub(crate) fn mode(&mut self, name: &str, level: Level, states: &[(&str, State)]) -> ModeId {
        let id = ModeId(self.design.modes.len() as u32);
        let mut all: Vec<State> =
            self.design.things.iter().map(|thing| usual(thing.kind.word, level)).collect();
        for (name, state) in states {
            all[self.named(name).index()] = *state;
        }
        self.design.modes.push(Mode {
            name: name.to_owned(),
            span: Span::default(),
            origin: ModeOrigin::Written,
            states: all,
            duty: Share(1.0),
            ambient: None,
            facts: Vec::new(),
        });
        id
    }
}

fn usual(kind: &str, level: Level) -> State {
    match kind {
        "switch" | "charger" => State::Open,
        "fuse" | "breaker" | "stop" | "battery" | "supply" | "generator" => State::Closed,
        "controller" | "receiver" | "sensor" | "motor" | "servo" | "light" | "meter" | "load"
        | "amplifier" => State::Draws(level),
        _ => State::Plain,
    }
}

/// What is written, then the defaults of the kind.
fn rated(kind: &'static kind::Kind, written: &[(&'static str, Value)]) -> Vec<Rated> {
    let mut all = Vec::new();
    for (key, value) in written {
        let row = kind.rating(key).unwrap_or_else(|| panic!("{} has no {key}", kind.word));
        let dimension = row.dimension().unwrap_or(Dimension::Number);
        let quantity = |value: f64| Quantity { value, dimension, unit: "" };
        let value = match value {
            N(value) => RatedValue::Quantity(quantity(*value)),
            R(low, high) => RatedValue::Range(quantity(*low), quantity(*high)),
            W(word) => RatedValue::Word((*word).to_owned()),
            Yes => RatedValue::Flag(true),
        };
        all.push(Rated {
            key: row.key,
            value,
            origin: Origin::Thing(Span::default()),
            standing: Standing::default(),
        });
    }
    for row in kind.all_ratings().filter(|row| written.iter().all(|one| one.0 != row.key)) {
        let dimension = row.dimension().unwrap_or(Dimension::Number);
        let (value, authority) = match row.default {
            Fallback::Number(value, authority) => {
                (RatedValue::Quantity(Quantity { value, dimension, unit: "" }), authority)
            }
            Fallback::Word(word, authority) => (RatedValue::Word(word.to_owned()), authority),
            Fallback::Flag(flag, authority) => (RatedValue::Flag(flag), authority),
            Fallback::Missing | Fallback::No(_) | Fallback::Derived(_) => continue,
        };
        all.push(Rated {
            key: row.key,
            value,
            origin: Origin::Default(authority),
            standing: Standing::default(),
        });
    }
    all
}
