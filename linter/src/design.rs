//! The design: names resolved, parts applied, every object with its terminals, ratings and the place it came from.
//!
//! Everything is in flat tables addressed by small ids, in the order of the text, so that all that follows is
//! deterministic. Nothing here is computed from physics.

use wattle_grammar::{
    kind::{Kind, KindId, Role},
    quantity::{Celsius, Metres, Quantity, Share, SquareMm, Unit},
    span::Span,
    syntax::Date,
};

mod accepts;
mod broken;
mod collect;
mod constants;
mod declared;
mod derive;
mod dimension;
mod ends;
mod expectations;
pub mod facts;
mod fit;
mod fits;
mod gather;
mod groups;
mod joints;
mod lower;
mod modes;
mod names;
mod parts;
mod places;
mod ports;
mod print;
mod rows;
mod scope;
mod shape;
mod sheet;
mod slip;
mod standing;
mod state;
#[cfg(test)]
mod testing;
mod things;
mod unfold;
mod value;
mod wires;

pub use lower::lower;

macro_rules! ids {
    ($($(#[$doc:meta])* $name:ident;)*) => {$(
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub struct $name(pub u32);
        impl $name {
            /// The position in its table.
            #[must_use]
            pub const fn index(self) -> usize { self.0 as usize }
        }
    )*};
}

ids! {
    /// A thing in [`Design::things`].
    ThingId;
    /// A terminal in [`Design::terminals`].
    TerminalId;
    /// A wire in [`Design::wires`].
    WireId;
    /// A tie in [`Design::ties`].
    TieId;
    /// A mate in [`Design::mates`].
    MateId;
    /// A place in [`Design::places`].
    PlaceId;
    /// A harness in [`Design::harnesses`].
    HarnessId;
    /// A mode in [`Design::modes`].
    ModeId;
}

/// A whole robot.
#[derive(Clone, Debug, Default)]
pub struct Design {
    /// The robot's name and settings.
    pub robot: Robot,
    /// Places, in text order.
    pub places: Vec<Place>,
    /// Things, in text order (assemblies unfolded where they are fitted).
    pub things: Vec<Thing>,
    /// Terminals of all things; those of one thing are consecutive.
    pub terminals: Vec<Terminal>,
    /// Wires, harness wires and cable cores, in text order.
    pub wires: Vec<Wire>,
    /// Ties.
    pub ties: Vec<Tie>,
    /// Mated connectors.
    pub mates: Vec<Mate>,
    /// Harnesses and cables.
    pub harnesses: Vec<Harness>,
    /// Fitted assemblies, each before what is fitted in it.
    pub fits: Vec<Fitted>,
    /// Modes, written ones first in text order, then the derived ones.
    pub modes: Vec<Mode>,
    /// Groups, by name.
    pub groups: Vec<Group>,
    /// Accepted risks.
    pub accepts: Vec<Accept>,
    /// The builder's own limits.
    pub expectations: Vec<Expectation>,
    /// Measurements on the bench.
    pub readings: Vec<Reading>,
    /// Sentences about what was derived or defaulted for the whole robot.
    pub assumptions: Vec<String>,
    /// Every name that the text defines, in text order; what stands in an assembly once, however often it is fitted.
    pub declared: Vec<Declared>,
    /// Ratings of parts that a thing's own rating of the same key takes the place of.
    pub replaced: Vec<(ThingId, Rated)>,
    /// Words of lines that could not be read. What such a line names may be wired there, so nobody says that it is not.
    pub in_doubt: std::collections::BTreeSet<String>,
}

/// The robot statement.
#[derive(Clone, Debug, Default)]
pub struct Robot {
    /// Its name; empty when there is no robot statement.
    pub name: String,
    /// Where it is declared.
    pub span: Span,
    /// Air temperature around the robot; the upper end is used for conductors.
    pub ambient: Option<(Celsius, Celsius)>,
    /// The protection profile's word, when written, with its place.
    pub profile: Option<(String, Span)>,
    /// Everything written on it.
    pub facts: Vec<Rated>,
}

/// A name as the text defines it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Declared {
    /// The name as written, without what stands before it elsewhere.
    pub name: Box<str>,
    /// Where it is defined.
    pub span: Span,
    /// What it names.
    pub of: NameOf,
    /// Names of one scope can be mistaken for each other: 0 is the robot, each harness and assembly has its own.
    pub scope: u32,
}

/// What a name is the name of. Names of different sorts never stand in the same place of the text.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum NameOf {
    /// A thing, wire, core, harness or fitted assembly.
    Object,
    /// A place.
    Place,
    /// A group.
    Group,
    /// A part of the catalogue.
    Part,
    /// A constant or parameter.
    Constant,
    /// A mode.
    Mode,
    /// An assembly.
    Assembly,
    /// An outward terminal of an assembly.
    Terminal,
}

/// A place.
#[derive(Clone, Debug)]
pub struct Place {
    /// Its name.
    pub name: String,
    /// Where its name stands.
    pub span: Span,
    /// Air temperature range, its own or the robot's.
    pub ambient: Option<(Celsius, Celsius)>,
    /// A joint moves here.
    pub moving: bool,
    /// No air exchange.
    pub sealed: bool,
    /// Everything written on it.
    pub facts: Vec<Rated>,
}

/// A thing: one part in the robot.
#[derive(Clone, Debug)]
pub struct Thing {
    /// Its full name, `left.M-KNEE`.
    pub name: String,
    /// Its kind's row in the table.
    pub kind: &'static Kind,
    /// The label in quotes, if any.
    pub label: Option<String>,
    /// Where its name stands.
    pub span: Span,
    /// The whole statement that declares it.
    pub statement: Span,
    /// Where it lives.
    pub place: Option<PlaceId>,
    /// The block it is plugged into (`on`).
    pub on: Option<ThingId>,
    /// First of its terminals in [`Design::terminals`].
    pub first_terminal: u32,
    /// How many terminals it has.
    pub terminal_count: u32,
    /// Its ratings: its own, else its part's, else the kind's defaults.
    pub ratings: Vec<Rated>,
    /// What would hold without the measured ones among them.
    pub unmeasured: Vec<Rated>,
}

impl Thing {
    /// The kind's identity.
    #[must_use]
    pub fn id(&self) -> KindId {
        self.kind.id
    }

    /// The rating written or defaulted under `key`.
    #[must_use]
    pub fn rated(&self, key: &str) -> Option<&Rated> {
        self.ratings.iter().find(|rated| rated.key == key)
    }

    /// The single value under `key` in the typed unit `U`; of a range the upper end.
    #[must_use]
    pub fn get<U: Unit>(&self, key: &str) -> Option<U> {
        match &self.rated(key)?.value {
            RatedValue::Quantity(quantity) if quantity.dimension == U::DIMENSION => {
                Some(U::from_base(quantity.value))
            }
            RatedValue::Range(_, high) if high.dimension == U::DIMENSION => Some(U::from_base(high.value)),
            _ => None,
        }
    }

    /// Both ends of the range under `key`; a single value is the range of one point.
    #[must_use]
    pub fn range<U: Unit>(&self, key: &str) -> Option<(U, U)> {
        match &self.rated(key)?.value {
            RatedValue::Quantity(quantity) if quantity.dimension == U::DIMENSION => {
                Some((U::from_base(quantity.value), U::from_base(quantity.value)))
            }
            RatedValue::Range(low, high) if high.dimension == U::DIMENSION => {
                Some((U::from_base(low.value), U::from_base(high.value)))
            }
            _ => None,
        }
    }

    /// The word under `key`.
    #[must_use]
    pub fn word(&self, key: &str) -> Option<&str> {
        match &self.rated(key)?.value {
            RatedValue::Word(word) => Some(word),
            _ => None,
        }
    }

    /// The flag under `key`; `None` when neither written nor defaulted.
    #[must_use]
    pub fn flag(&self, key: &str) -> Option<bool> {
        match self.rated(key)?.value {
            RatedValue::Flag(flag) => Some(flag),
            _ => None,
        }
    }

    /// The bare number under `key`.
    #[must_use]
    pub fn number(&self, key: &str) -> Option<f64> {
        match &self.rated(key)?.value {
            RatedValue::Quantity(quantity) => Some(quantity.value),
            _ => None,
        }
    }
}

/// A rating with where it came from.
#[derive(Clone, Debug, PartialEq)]
pub struct Rated {
    /// The key in the kind's table.
    pub key: &'static str,
    /// The value.
    pub value: RatedValue,
    /// Where it came from.
    pub origin: Origin,
    /// What it is worth.
    pub standing: Standing,
}

/// What a written value is worth.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Standing {
    /// Under which conditions it holds; nothing when that is not written.
    pub basis: Option<Basis>,
    /// The day on which it was measured, on this very part.
    pub measured: Option<Date>,
}

/// Under which conditions a rating holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Basis {
    /// For as long as one likes.
    Continuous,
    /// For a short time.
    Peak,
    /// Unknown: a number from a package or a shop page.
    Advertised,
}

impl Basis {
    /// The word as written.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Continuous => "continuous",
            Self::Peak => "peak",
            Self::Advertised => "advertised",
        }
    }
}

/// What some signal terminals of a thing are.
#[derive(Clone, Debug, PartialEq)]
pub struct Port {
    /// The terminals, each with where it is written.
    pub terminals: Vec<(String, Span)>,
    /// What is said of them, by the rows of [`wattle_grammar::kind::setting::PORT`].
    pub rated: Vec<Rated>,
    /// The line.
    pub span: Span,
}

/// The value of a rating.
#[derive(Clone, Debug, PartialEq)]
pub enum RatedValue {
    /// One quantity.
    Quantity(Quantity),
    /// A range, lower end first.
    Range(Quantity, Quantity),
    /// A word of the table.
    Word(String),
    /// Yes or no.
    Flag(bool),
    /// A text.
    Text(String),
    /// The full name of a thing, wire or place; of a group its name.
    Reference(String),
    /// Terminals of the thing itself, in table order.
    Terminals(Vec<String>),
    /// Words of the table.
    Words(Vec<String>),
    /// A date.
    Date(Date),
    /// Signal terminals of the thing itself.
    Ports(Vec<Port>),
}

/// Where a rating came from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Origin {
    /// Written on the thing itself.
    Thing(Span),
    /// Written on its part.
    Part(Span),
    /// Written on its harness.
    Harness(Span),
    /// The kind's default, on this authority.
    Default(&'static str),
}

/// A terminal of a thing.
#[derive(Clone, Debug)]
pub struct Terminal {
    /// The thing it belongs to.
    pub thing: ThingId,
    /// Its name within the thing, `pos`, `t3`, `m1a`.
    pub name: String,
    /// What it is for.
    pub role: Role,
    /// Its number in a repeated family, as in its name; 0 for a single one.
    pub number: u32,
}

/// A conductor between two terminals.
#[derive(Clone, Debug)]
pub struct Wire {
    /// Its full name; a harness wire is `NECK.H1`.
    pub name: String,
    /// Where its name stands.
    pub span: Span,
    /// The whole statement.
    pub statement: Span,
    /// First end, with where it is written.
    pub from: (TerminalId, Span),
    /// Second end, with where it is written.
    pub to: (TerminalId, Span),
    /// Cross-section, with where it is written and how (`12 AWG`, `2.5 mm²`).
    pub size: Option<WireSize>,
    /// Length.
    pub length: Option<Metres>,
    /// Where the length is written.
    pub length_span: Option<Span>,
    /// Colour word as written.
    pub colour: Option<String>,
    /// Temperature class of the insulation.
    pub insulation: Option<Celsius>,
    /// Where it runs, its own or its harness's place.
    pub place: Option<PlaceId>,
    /// The harness or cable it belongs to.
    pub harness: Option<HarnessId>,
    /// Sheathed or enclosed for its whole length.
    pub sheathed: bool,
    /// The tail a part came with.
    pub supplied_tail: bool,
    /// Conductors in its bundle, when stated on the wire itself.
    pub bundle: Option<u32>,
    /// A source limits the current in it to this by design (`current-limit`), ampere, with where it is stated.
    pub current_limit: Option<(wattle_grammar::quantity::Amps, Span)>,
    /// Not connected on purpose.
    pub spare: bool,
    /// Shares a current with others on purpose.
    pub parallel_by_intent: bool,
    /// Its resistance from end to end, when stated: it counts instead of what size and length give.
    pub resistance: Option<wattle_grammar::quantity::Ohms>,
    /// Everything written on the wire or its harness, and the table's default for the metal, in table order.
    pub facts: Vec<Rated>,
}

/// A conductor size.
#[derive(Clone, Debug, PartialEq)]
pub struct WireSize {
    /// Cross-section.
    pub area: SquareMm,
    /// As the author wrote it, `12 AWG` or `2.5 mm²`.
    pub written: String,
    /// Whether it was written as an AWG number.
    pub awg: bool,
    /// Where it is written (on the wire or on its harness).
    pub span: Span,
}

/// A joint without length.
#[derive(Clone, Debug)]
pub struct Tie {
    /// The joined terminals, with where each is written.
    pub ends: Vec<(TerminalId, Span)>,
    /// The whole statement.
    pub span: Span,
    /// Everything written on it.
    pub facts: Vec<Rated>,
}

/// Two mated connector halves.
#[derive(Clone, Debug)]
pub struct Mate {
    /// First half, with where it is written.
    pub first: (ThingId, Span),
    /// Second half.
    pub second: (ThingId, Span),
    /// The whole statement.
    pub span: Span,
    /// Way of the first half joined to which way of the second.
    pub ways: Vec<(TerminalId, TerminalId)>,
    /// Crossed over or mirrored on purpose.
    pub crossover: bool,
    /// Everything written on it.
    pub facts: Vec<Rated>,
}

/// A harness or cable.
#[derive(Clone, Debug)]
pub struct Harness {
    /// Its name.
    pub name: String,
    /// Where its name stands.
    pub span: Span,
    /// One sheath with cores, not loose wires.
    pub cable: bool,
    /// Where it runs.
    pub place: Option<PlaceId>,
    /// Other conductors that run with it, when stated: conductors in the bundle in all.
    pub bundle: Option<u32>,
    /// Its wires.
    pub wires: Vec<WireId>,
    /// Conductors in it that are not used.
    pub spares: Vec<SpareCore>,
    /// Everything written on it.
    pub facts: Vec<Rated>,
}

/// A conductor of a harness or cable without ends, capped.
#[derive(Clone, Debug)]
pub struct SpareCore {
    /// Its full name, `C1.5`.
    pub name: String,
    /// Where its name stands.
    pub span: Span,
    /// Everything written on it or its harness.
    pub facts: Vec<Rated>,
}

/// A group of things that a mode can name at once.
#[derive(Clone, Debug)]
pub struct Group {
    /// Its name.
    pub name: String,
    /// Where its statement has its name; none when only its members name it.
    pub span: Option<Span>,
    /// Its members.
    pub members: Vec<ThingId>,
    /// At most so many of them work at once.
    pub simultaneity: Option<u32>,
}

/// An assembly fitted under a name.
#[derive(Clone, Debug)]
pub struct Fitted {
    /// Its full name, `left.KNEE`.
    pub name: String,
    /// Where its name stands.
    pub span: Span,
    /// The whole statement of the assembly.
    pub assembly: Span,
}

/// Where a mode came from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ModeOrigin {
    /// Written by the author.
    Written,
    /// Derived because it was not written.
    Derived,
}

/// A named working state.
#[derive(Clone, Debug)]
pub struct Mode {
    /// Its name.
    pub name: String,
    /// Where it is declared, or the robot statement when derived.
    pub span: Span,
    /// Written or derived.
    pub origin: ModeOrigin,
    /// The state of each thing, by [`ThingId`].
    pub states: Vec<State>,
    /// Share of the time that loads draw their figure; 1 is always.
    pub duty: Share,
    /// Air temperature in this mode, when stated.
    pub ambient: Option<Celsius>,
    /// Everything written on it, but for the states of things.
    pub facts: Vec<Rated>,
}

/// What a thing does in a mode. Contacts of relays and contactors are not set here: they follow their coils.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum State {
    /// Nothing special: a passive part, a join, a fuse in place.
    Plain,
    /// A switch, stop, breaker or fuse that conducts; a mated connector; a source that is connected.
    Closed,
    /// One that does not.
    Open,
    /// A load at a level.
    Draws(Level),
    /// A motor turned from outside: it is a source.
    Turned,
}

/// How much a load draws.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Level {
    /// Nothing: it is switched off by command.
    Off,
    /// Its idle figure.
    Idle,
    /// Its typical figure.
    Typical,
    /// Its peak figure.
    Peak,
    /// Its stall figure.
    Stall,
    /// An explicit current.
    Amps(wattle_grammar::quantity::Amps),
}

/// An accepted risk.
#[derive(Clone, Debug)]
pub struct Accept {
    /// The rule's dotted name as written.
    pub rule: String,
    /// Where the rule's name stands.
    pub rule_span: Span,
    /// The full name of what it is accepted on.
    pub subject: String,
    /// Where that stands.
    pub subject_span: Span,
    /// Why.
    pub reason: String,
    /// The last day it holds, with its place.
    pub until: Option<(Date, Span)>,
    /// The whole statement.
    pub span: Span,
}

/// The builder's own limit.
#[derive(Clone, Debug)]
pub struct Expectation {
    /// What is expected.
    pub claim: Claim,
    /// The modes it holds in; every mode when empty.
    pub modes: Vec<ModeId>,
    /// Whether it has to hold with any one thing failed, too.
    pub any_fault: bool,
    /// What it is about, by full name: the identity of a finding.
    pub subject: String,
    /// The whole statement.
    pub span: Span,
}

/// What an expectation or a reading is about.
#[derive(Clone, Debug, PartialEq)]
pub enum Probe {
    /// A terminal: its voltage against the negative pole of what feeds it.
    Terminal(TerminalId),
    /// Two terminals: the voltage of the first against the second.
    Between(TerminalId, TerminalId),
    /// The current in a wire.
    Wire(WireId),
    /// The current through a thing.
    Thing(ThingId),
}

/// Limits, both allowed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bounds {
    /// The least.
    pub low: Option<Quantity>,
    /// The most.
    pub high: Option<Quantity>,
}

/// What is expected.
#[derive(Clone, Debug, PartialEq)]
pub enum Claim {
    /// A voltage at a terminal.
    Voltage(Probe, Bounds),
    /// A current.
    Current(Probe, Bounds),
    /// The temperature of a wire.
    Temperature(Probe, Bounds),
    /// How long the batteries last.
    Runtime(Bounds),
    /// Things have no supply while another is in a state.
    Dead {
        /// The things that are to be dead.
        things: Vec<ThingId>,
        /// What is put into a state.
        when: ThingId,
        /// The state.
        state: State,
        /// The word of the state as written.
        word: String,
    },
}

/// A measurement on the bench.
#[derive(Clone, Debug)]
pub struct Reading {
    /// What was measured.
    pub probe: Probe,
    /// The value read.
    pub value: Quantity,
    /// In which mode.
    pub mode: Option<ModeId>,
    /// On which day.
    pub date: Option<Date>,
    /// What it is about, by full name.
    pub subject: String,
    /// The whole statement.
    pub span: Span,
}

impl Design {
    /// Whether a line that could not be read speaks of this thing, or a whole file is missing.
    #[must_use]
    pub fn is_in_doubt(&self, thing: ThingId) -> bool {
        self.is_name_in_doubt(&self.thing(thing).name)
    }

    /// Whether a line that could not be read speaks of what has this full name.
    #[must_use]
    pub fn is_name_in_doubt(&self, name: &str) -> bool {
        !self.in_doubt.is_empty() && name.split('.').any(|part| self.in_doubt.contains(part))
    }

    /// The thing behind an id.
    #[must_use]
    pub fn thing(&self, id: ThingId) -> &Thing {
        &self.things[id.index()]
    }

    /// The terminal behind an id.
    #[must_use]
    pub fn terminal(&self, id: TerminalId) -> &Terminal {
        &self.terminals[id.index()]
    }

    /// The wire behind an id.
    #[must_use]
    pub fn wire(&self, id: WireId) -> &Wire {
        &self.wires[id.index()]
    }

    /// Every thing with its id.
    pub fn things(&self) -> impl Iterator<Item = (ThingId, &Thing)> {
        (0u32..).map(ThingId).zip(&self.things)
    }

    /// Every wire with its id.
    pub fn wires(&self) -> impl Iterator<Item = (WireId, &Wire)> {
        (0u32..).map(WireId).zip(&self.wires)
    }

    /// The terminals of a thing, in table order.
    pub fn terminals_of(&self, id: ThingId) -> impl Iterator<Item = (TerminalId, &Terminal)> {
        let thing = self.thing(id);
        let range = thing.first_terminal..thing.first_terminal + thing.terminal_count;
        range.map(|at| (TerminalId(at), &self.terminals[at as usize]))
    }

    /// The terminal of a thing with this name.
    #[must_use]
    pub fn terminal_named(&self, id: ThingId, name: &str) -> Option<TerminalId> {
        self.terminals_of(id).find(|(_, terminal)| terminal.name == name).map(|(at, _)| at)
    }

    /// `THING.terminal`, or the bare thing for a kind with one terminal.
    #[must_use]
    pub fn terminal_name(&self, id: TerminalId) -> String {
        let terminal = self.terminal(id);
        let thing = self.thing(terminal.thing);
        if thing.terminal_count == 1 {
            thing.name.clone()
        } else {
            format!("{}.{}", thing.name, terminal.name)
        }
    }
}
