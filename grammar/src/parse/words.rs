//! The words that the grammar knows. They are words only where the grammar looks for them: any of them may name a thing.

/// The meaning of a word to the grammar.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Word {
    /// A name or a value.
    Plain,
    /// A kind of part.
    Kind,
    /// `wattle`
    Wattle,
    /// `use`
    Use,
    /// `let`
    Let,
    /// `robot`
    Robot,
    /// `place`
    Place,
    /// `part`
    Part,
    /// `wire`
    Wire,
    /// `tie`
    Tie,
    /// `harness`
    Harness,
    /// `cable`
    Cable,
    /// `mate`
    Mate,
    /// `mode`
    Mode,
    /// `expect`
    Expect,
    /// `reading`
    Reading,
    /// `accept`
    Accept,
    /// `assembly`
    Assembly,
    /// `fit`
    Fit,
    /// `not`
    Not,
    /// `no`
    No,
    /// `to`
    To,
    /// `on`
    On,
    /// `at`
    At,
    /// `is`
    Is,
    /// `as`
    As,
    /// `in`
    In,
    /// `with`
    With,
    /// `when`
    When,
    /// `under`
    Under,
    /// `until`
    Until,
    /// `because`
    Because,
    /// `through`
    Through,
    /// `across`
    Across,
    /// `dead`
    Dead,
    /// `runtime`
    Runtime,
    /// `any-fault`
    AnyFault,
}

/// Words that begin a statement, kinds aside.
pub(super) const STATEMENTS: [(&str, Word); 17] = [
    ("wire", Word::Wire),
    ("wattle", Word::Wattle),
    ("use", Word::Use),
    ("let", Word::Let),
    ("robot", Word::Robot),
    ("place", Word::Place),
    ("part", Word::Part),
    ("tie", Word::Tie),
    ("harness", Word::Harness),
    ("cable", Word::Cable),
    ("mate", Word::Mate),
    ("mode", Word::Mode),
    ("expect", Word::Expect),
    ("reading", Word::Reading),
    ("accept", Word::Accept),
    ("assembly", Word::Assembly),
    ("fit", Word::Fit),
];

/// The kinds of parts.
pub(super) const KINDS: [&str; 34] = [
    "battery",
    "charger",
    "supply",
    "generator",
    "fuse",
    "breaker",
    "clamp",
    "switch",
    "stop",
    "relay",
    "contactor",
    "regulator",
    "driver",
    "amplifier",
    "controller",
    "receiver",
    "sensor",
    "motor",
    "servo",
    "light",
    "speaker",
    "meter",
    "load",
    "resistor",
    "capacitor",
    "diode",
    "shunt",
    "block",
    "splice",
    "stud",
    "plug",
    "socket",
    "slip-ring",
    "chassis",
];

impl Word {
    /// The meaning of a word at the start of a line.
    pub(super) fn at_start(text: &str) -> Self {
        let statement = STATEMENTS.iter().find(|(word, _)| *word == text);
        match (statement, text) {
            (Some((_, word)), _) => *word,
            (None, "not") => Self::Not,
            (None, "no") => Self::No,
            (None, _) if KINDS.contains(&text) => Self::Kind,
            (None, _) => Self::Plain,
        }
    }

    /// The meaning of a word further on in a line.
    pub(super) fn inside(text: &str) -> Self {
        match text {
            "to" => Self::To,
            "on" => Self::On,
            "at" => Self::At,
            "is" => Self::Is,
            "as" => Self::As,
            "in" => Self::In,
            "with" => Self::With,
            "when" => Self::When,
            "dead" => Self::Dead,
            "under" => Self::Under,
            "until" => Self::Until,
            "across" => Self::Across,
            "because" => Self::Because,
            "through" => Self::Through,
            "runtime" => Self::Runtime,
            "any-fault" => Self::AnyFault,
            _ => Self::Plain,
        }
    }

    /// Whether the word begins a statement.
    pub(super) const fn begins_statement(self) -> bool {
        !matches!(self, Self::Plain | Self::Not | Self::No) && (self as u8) < (Self::Not as u8)
    }

    /// Whether the word joins the parts of a statement, so that it cannot be a value on the line.
    pub(super) const fn joins(self) -> bool {
        let (this, first, last) = (self as u8, Self::To as u8, Self::Across as u8);
        first <= this && this <= last
    }
}

/// Every word that may begin a statement, for offering the nearest one.
pub(super) fn beginnings() -> impl Iterator<Item = &'static str> {
    STATEMENTS.iter().map(|(word, _)| *word).chain(KINDS)
}
