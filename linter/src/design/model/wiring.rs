//! What joins terminals: wires, ties, mates, harnesses and cables.

use wattle_grammar::{
    quantity::{Amps, Celsius, Metres, Ohms, SquareMm},
    span::Span,
};

use crate::design::{HarnessId, PlaceId, Rated, TerminalId, ThingId, WireId};

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
    pub current_limit: Option<(Amps, Span)>,
    /// Not connected on purpose.
    pub spare: bool,
    /// Shares a current with others on purpose.
    pub parallel_by_intent: bool,
    /// Its metal is aluminium, clad with copper or not; else it is copper.
    pub aluminium: bool,
    /// Its resistance from end to end, when stated: it counts instead of what size and length give.
    pub resistance: Option<Ohms>,
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
