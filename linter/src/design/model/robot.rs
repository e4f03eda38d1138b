//! The robot, its places, and the names that its text defines.

use wattle_grammar::{quantity::Celsius, span::Span};

use crate::design::Rated;

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
