//! The syntax tree: what the text says, statement by statement, before any name is looked up.
//!
//! Every node keeps its span. A statement that could not be read is [`Item::Broken`]; the rest of the file
//! is unharmed. The tree owns its names, so it outlives the text.

mod walk;

use crate::{quantity::Quantity, span::Span};

pub use walk::AllItems;

/// A name or word as written, with its place.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Name {
    /// The word as written.
    pub text: Box<str>,
    /// Where it stands.
    pub span: Span,
}

/// A quoted text with its place; `text` is without the quotes and with escapes resolved.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Text {
    /// The text between the quotes.
    pub text: Box<str>,
    /// Where it stands, quotes included.
    pub span: Span,
}

/// A dotted path, `left.M-KNEE.pos`: at least one segment.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Path {
    /// The names between the dots, outermost first.
    pub segments: Vec<Name>,
    /// The whole path.
    pub span: Span,
}

/// A calendar date, `2027-03-01`, already checked to exist.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Date {
    /// Year, four digits.
    pub year: u16,
    /// Month, 1 to 12.
    pub month: u8,
    /// Day of the month, from 1.
    pub day: u8,
}

impl std::fmt::Display for Date {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{:04}-{:02}-{:02}", self.year, self.month, self.day)
    }
}

/// A whole file: its items in the order written.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct File {
    /// Every statement at the outermost level.
    pub items: Vec<Item>,
}

/// One statement.
#[derive(Clone, Debug, PartialEq)]
pub enum Item {
    /// `wattle 1`: the edition of the language.
    Edition(Edition),
    /// `use "parts/legs.wattle"`.
    Use(Use),
    /// `let NECK-RUN = 1.2 m`.
    Let(Let),
    /// `robot "Parade heron" { … }`.
    Robot(Robot),
    /// `place head { … }`.
    Place(Place),
    /// `group EARS { simultaneity 2 }`.
    Group(Group),
    /// `part tray-pack is battery { … }`.
    Part(Part),
    /// `fuse F-A, F-B 60 A bolt-down at body`.
    Thing(Thing),
    /// `wire W1 PACK-A.pos to F-A.line 10 AWG red 120 mm`.
    Wire(Wire),
    /// `tie FRAME to BUS-NEG, SHUNT.2`.
    Tie(Tie),
    /// `harness NECK 1.2 m 20 AWG { … }` or `cable …`.
    Harness(Harness),
    /// `mate P3 with S3`.
    Mate(Mate),
    /// `mode parade "Walking" { … }`.
    Mode(Mode),
    /// `expect voltage D-LEGS.pos >= 20 V in parade`.
    Expect(Expect),
    /// `reading 160 mA through W1 in idle`.
    Reading(Reading),
    /// `accept RULE on THING because "…" until DATE`.
    Accept(Accept),
    /// `assembly LEG { … }`.
    Assembly(Assembly),
    /// `fit LEG as left { … }`.
    Fit(Fit),
    /// A statement that could not be read; its error is among the parse's errors.
    Broken(Span),
}

/// `wattle 1`.
#[derive(Clone, Debug, PartialEq)]
pub struct Edition {
    /// The number, as written; only known editions are valid, which the parse checks.
    pub number: u32,
    /// The whole statement.
    pub span: Span,
}

/// `use "file"`.
#[derive(Clone, Debug, PartialEq)]
pub struct Use {
    /// The path as written, relative to this file.
    pub path: Text,
    /// The whole statement.
    pub span: Span,
}

/// `let NAME = value`.
#[derive(Clone, Debug, PartialEq)]
pub struct Let {
    /// The constant's name.
    pub name: Name,
    /// What it stands for.
    pub value: Value,
    /// The whole statement.
    pub span: Span,
}

/// `robot "name" { settings }`.
#[derive(Clone, Debug, PartialEq)]
pub struct Robot {
    /// The robot's name.
    pub name: Text,
    /// `ambient`, `profile` and other settings.
    pub settings: Vec<Setting>,
    /// The whole statement.
    pub span: Span,
}

/// `place NAME, NAME { settings }`.
#[derive(Clone, Debug, PartialEq)]
pub struct Place {
    /// The names of the places.
    pub names: Vec<Name>,
    /// A label in quotes.
    pub label: Option<Text>,
    /// Values on the line.
    pub values: Vec<Value>,
    /// The block.
    pub settings: Vec<Setting>,
    /// The whole statement.
    pub span: Span,
}

/// `group NAME, NAME { settings }`.
#[derive(Clone, Debug, PartialEq)]
pub struct Group {
    /// The names of the groups.
    pub names: Vec<Name>,
    /// A label in quotes.
    pub label: Option<Text>,
    /// Values on the line.
    pub values: Vec<Value>,
    /// The block.
    pub settings: Vec<Setting>,
    /// The whole statement.
    pub span: Span,
}

/// `part NAME is KIND { … }`.
#[derive(Clone, Debug, PartialEq)]
pub struct Part {
    /// The catalogue name.
    pub name: Name,
    /// A kind, or another part that this one builds on.
    pub base: Name,
    /// A label in quotes.
    pub label: Option<Text>,
    /// Values on the line.
    pub values: Vec<Value>,
    /// The block.
    pub settings: Vec<Setting>,
    /// The whole statement.
    pub span: Span,
}

/// One or more things of one kind: `KIND NAME, NAME "label" : PART values on PATH at PATH { settings }`.
#[derive(Clone, Debug, PartialEq)]
pub struct Thing {
    /// The kind's word, known to stand in the table of kinds.
    pub kind: Name,
    /// The names, at least one.
    pub names: Vec<Name>,
    /// The catalogue part after the colon.
    pub part: Option<Name>,
    /// A label in quotes.
    pub label: Option<Text>,
    /// Ratings and words on the line.
    pub values: Vec<Value>,
    /// `on BLOCK`: what it is plugged into.
    pub on: Option<Path>,
    /// `at PLACE`.
    pub at: Option<Path>,
    /// The block.
    pub settings: Vec<Setting>,
    /// The whole statement.
    pub span: Span,
}

/// A conductor with two ends. Inside a `harness` or `cable` block the keyword is left out.
#[derive(Clone, Debug, PartialEq)]
pub struct Wire {
    /// Its name, or its core number in a cable.
    pub name: Name,
    /// First end.
    pub from: Path,
    /// Second end.
    pub to: Path,
    /// Size, colour and length on the line.
    pub values: Vec<Value>,
    /// `at PLACE`: where it runs.
    pub at: Option<Path>,
    /// The block.
    pub settings: Vec<Setting>,
    /// The whole statement.
    pub span: Span,
}

/// A joint without length: `tie A to B, C`.
#[derive(Clone, Debug, PartialEq)]
pub struct Tie {
    /// Two or more ends, all joined.
    pub ends: Vec<Path>,
    /// The block.
    pub settings: Vec<Setting>,
    /// The whole statement.
    pub span: Span,
}

/// Wires that run together.
#[derive(Clone, Debug, PartialEq)]
pub struct Harness {
    /// `harness` (loose wires) or `cable` (one sheath, numbered cores).
    pub word: Name,
    /// Its name.
    pub name: Name,
    /// A label in quotes.
    pub label: Option<Text>,
    /// Defaults for its wires, on the line.
    pub values: Vec<Value>,
    /// `at PLACE`.
    pub at: Option<Path>,
    /// Defaults and facts in the block.
    pub settings: Vec<Setting>,
    /// Its wires.
    pub wires: Vec<Wire>,
    /// Conductors in it that are not used, capped at both ends.
    pub spares: Vec<Spare>,
    /// The whole statement.
    pub span: Span,
}

/// A conductor of a harness or cable without ends: `5 spare grey`.
#[derive(Clone, Debug, PartialEq)]
pub struct Spare {
    /// Its name, or its core number in a cable.
    pub name: Name,
    /// Size, colour and length on the line.
    pub values: Vec<Value>,
    /// The block.
    pub settings: Vec<Setting>,
    /// The whole statement.
    pub span: Span,
}

/// `mate P3 with S3`: two connector halves, way to way.
#[derive(Clone, Debug, PartialEq)]
pub struct Mate {
    /// First half.
    pub first: Path,
    /// Second half.
    pub second: Path,
    /// Words on the line.
    pub values: Vec<Value>,
    /// The block.
    pub settings: Vec<Setting>,
    /// The whole statement.
    pub span: Span,
}

/// A named working state.
#[derive(Clone, Debug, PartialEq)]
pub struct Mode {
    /// Its name.
    pub name: Name,
    /// A label in quotes.
    pub label: Option<Text>,
    /// Its lines.
    pub lines: Vec<ModeLine>,
    /// The whole statement.
    pub span: Span,
}

/// One line of a mode: `M-LEFT, M-RIGHT 8 A`, `everything typical`, `duty 70 %`.
#[derive(Clone, Debug, PartialEq)]
pub struct ModeLine {
    /// What it is about: things, groups, `everything`, or a setting of the mode such as `duty`.
    pub subjects: Vec<Path>,
    /// The state, level or figure.
    pub values: Vec<Value>,
    /// The whole line.
    pub span: Span,
}

/// What an expectation compares.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Comparison {
    /// `>=`
    AtLeast,
    /// `<=`
    AtMost,
    /// `=`
    Equal,
}

/// The builder's own acceptance limit. Evaluated by the linter; here only its shape.
#[derive(Clone, Debug, PartialEq)]
pub struct Expect {
    /// `voltage`, `current`, `temperature`, `runtime` or `dead`.
    pub what: Name,
    /// What it is about.
    pub subjects: Vec<Path>,
    /// The comparison and the limit; none for `dead`.
    pub limit: Option<(Comparison, Value)>,
    /// `when PATH WORD`: the state that something is put in.
    pub when: Option<(Path, Name)>,
    /// `in MODE, MODE`.
    pub modes: Vec<Name>,
    /// `under any-fault`.
    pub any_fault: bool,
    /// The whole statement.
    pub span: Span,
}

/// A measurement on the bench.
#[derive(Clone, Debug, PartialEq)]
pub struct Reading {
    /// The value read.
    pub value: Value,
    /// `through`, `at` or `across`.
    pub relation: Name,
    /// Where it was read; two paths after `across`.
    pub subjects: Vec<Path>,
    /// `in MODE`.
    pub mode: Option<Name>,
    /// `on DATE`.
    pub date: Option<Date>,
    /// The whole statement.
    pub span: Span,
}

/// A risk that the builder has accepted, with the reason.
#[derive(Clone, Debug, PartialEq)]
pub struct Accept {
    /// The rule's dotted name.
    pub rule: Path,
    /// What it is accepted on.
    pub subject: Path,
    /// Why.
    pub reason: Text,
    /// `until DATE`: the last day it holds, with the date's place.
    pub until: Option<(Date, Span)>,
    /// The whole statement.
    pub span: Span,
}

/// A reusable sub-wiring.
#[derive(Clone, Debug, PartialEq)]
pub struct Assembly {
    /// Its name.
    pub name: Name,
    /// `terminals` and `parameter` settings.
    pub settings: Vec<Setting>,
    /// Its contents.
    pub items: Vec<Item>,
    /// The whole statement.
    pub span: Span,
}

/// A use of an assembly: `fit LEG as left, right { … }`.
#[derive(Clone, Debug, PartialEq)]
pub struct Fit {
    /// The assembly's name.
    pub assembly: Name,
    /// The names it is fitted under.
    pub names: Vec<Name>,
    /// `at PLACE`.
    pub at: Option<Path>,
    /// Parameter values.
    pub settings: Vec<Setting>,
    /// The whole statement.
    pub span: Span,
}

/// `key value value` in a block. `not key` and `no key` are read as `key` with `negated` set.
#[derive(Clone, Debug, PartialEq)]
pub struct Setting {
    /// The key.
    pub key: Name,
    /// Whether `not` or `no` stands before it.
    pub negated: bool,
    /// What follows; empty for a bare fact such as `sheathed`.
    pub values: Vec<Value>,
    /// The whole line.
    pub span: Span,
}

/// A value: an expression, a range, a tolerance, a word, a text, a path.
#[derive(Clone, Debug, PartialEq)]
pub struct Value {
    /// What it is.
    pub shape: Shape,
    /// Where it stands.
    pub span: Span,
}

/// The shapes of a [`Value`].
#[derive(Clone, Debug, PartialEq)]
pub enum Shape {
    /// `40 A`, `25 C`, `6S`, or a bare number.
    Quantity(Quantity),
    /// `6 V .. 30 V`; the ends in the order written.
    Range(Box<Value>, Box<Value>),
    /// `12 V ± 5 %`: the nominal value and the tolerance.
    Tolerance(Box<Value>, Box<Value>),
    /// `a + b`, `a × b`: an operation on two values.
    Sum(Operator, Box<Value>, Box<Value>),
    /// `-a`.
    Negative(Box<Value>),
    /// A bare word: a colour, a state, a constant's name.
    Word(Box<str>),
    /// A dotted path.
    Path(Path),
    /// A text in quotes.
    Text(Box<str>),
    /// A date.
    Date(Date),
}

/// The four operations on quantities.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Operator {
    /// `+`
    Add,
    /// `-` or `−`
    Subtract,
    /// `*` or `×`
    Multiply,
    /// `/` or `÷`
    Divide,
}
