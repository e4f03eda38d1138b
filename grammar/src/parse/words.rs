//! The words that the grammar knows. They are words only where the grammar looks for them: any of them may name a thing.

use std::sync::OnceLock;

use crate::{kind, nearest::nearest};

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
    /// `group`
    Group,
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
    /// `spare`
    Spare,
    /// `runtime`
    Runtime,
    /// `any-fault`
    AnyFault,
    /// Two words with a solidus between, `red/white`: a value, never a name.
    Pair,
}

/// Words that begin a statement, kinds aside.
pub(super) const STATEMENTS: [(&str, Word); 18] = [
    ("wire", Word::Wire),
    ("wattle", Word::Wattle),
    ("use", Word::Use),
    ("let", Word::Let),
    ("robot", Word::Robot),
    ("place", Word::Place),
    ("group", Word::Group),
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

/// The words that begin statements, by first letter: every line asks.
fn index() -> &'static [Vec<(&'static str, Word)>] {
    static INDEX: OnceLock<Vec<Vec<(&'static str, Word)>>> = OnceLock::new();
    INDEX.get_or_init(|| {
        let mut index = vec![Vec::new(); 256];
        let kinds = kind::ALL.iter().map(|kind| (kind.word, Word::Kind));
        let negations = [("not", Word::Not), ("no", Word::No)];
        for (text, word) in STATEMENTS.into_iter().chain(kinds).chain(negations) {
            if let Some(bucket) = text.bytes().next().and_then(|first| index.get_mut(usize::from(first))) {
                bucket.push((text, word));
            }
        }
        index
    })
}

impl Word {
    /// The meaning of a word at the start of a line.
    pub(super) fn at_start(text: &str) -> Self {
        let bucket = text.bytes().next().and_then(|first| index().get(usize::from(first)));
        let known = bucket.and_then(|bucket| bucket.iter().find(|(word, _)| *word == text));
        known.map_or(Self::Plain, |(_, word)| *word)
    }

    /// The meaning of a word further on in a line.
    pub(super) fn inside(text: &str) -> Self {
        match text {
            "to" => Self::To,
            "no" => Self::No,
            "not" => Self::Not,
            "spare" => Self::Spare,
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

    /// Whether the word joins the parts of a statement or denies a fact, so that it cannot be a value on the line.
    pub(super) const fn joins(self) -> bool {
        let (this, first, last) = (self as u8, Self::Not as u8, Self::Across as u8);
        first <= this && this <= last
    }
}

/// Every word that may begin a statement, for offering the nearest one.
pub(super) fn beginnings() -> impl Iterator<Item = &'static str> {
    STATEMENTS.iter().map(|(word, _)| *word).chain(kind::ALL.iter().map(|kind| kind.word))
}

/// Whether a word is a mistyped `word`.
pub(super) fn resembles(found: &str, word: &str) -> bool {
    !Word::at_start(found).begins_statement() && nearest(found, beginnings()) == Some(word)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_statements_are_those_of_the_table() {
        let mut ours: Vec<&str> = STATEMENTS.iter().map(|(word, _)| *word).collect();
        let mut table: Vec<&str> = kind::statement::ALL.iter().map(|statement| statement.word).collect();
        ours.sort_unstable();
        table.sort_unstable();
        assert_eq!(ours, table);
    }

    #[test]
    fn every_beginning_is_known_and_the_rest_is_plain() {
        for word in beginnings() {
            assert!(Word::at_start(word).begins_statement(), "{word}");
        }
        for word in ["not", "no", "to", "at", "coil", "voltage", ""] {
            assert!(!Word::at_start(word).begins_statement(), "{word}");
        }
        assert!(["to", "across", "not", "no"].into_iter().all(|word| Word::inside(word).joins()));
        assert!(!Word::inside("dead").joins() && !Word::Plain.joins() && !Word::Wire.joins());
    }
}
