//! Ratings: what is known of a thing, where it came from, and what it is worth.

use wattle_grammar::{quantity::Quantity, span::Span, syntax::Date};

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
    /// Written on the robot, for all its wires.
    Robot(Span),
    /// The kind's default, on this authority.
    Default(&'static str),
}
