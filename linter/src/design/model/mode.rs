//! Modes: what each thing does in a working state; groups of things.

use wattle_grammar::{
    quantity::{Amps, Celsius, Share},
    span::Span,
};

use crate::design::{Rated, ThingId};

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
    /// A relay or contactor that had pulled in before; whether it stays in is computed.
    Held,
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
    Amps(Amps),
}
