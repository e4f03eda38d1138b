//! What is told of one thing or wire: its figures, each with its derivation.

use wattle_grammar::span::Span;

use crate::explained::Explained;

/// Which part of the account an entry belongs to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Section {
    /// What gives energy: packs, chargers, supplies, and regulators by their output.
    Source,
    /// Fuses and breakers.
    Device,
    /// The contacts of switches, stops, relays, contactors and slip rings.
    Contact,
    /// The bars of blocks.
    Bar,
    /// What uses energy.
    Load,
    /// Wires and cores.
    Wire,
    /// What a short comes to, on a wire or behind a device.
    Short,
    /// Batteries as stores of energy, and how long the robot lasts.
    Energy,
    /// What surges when contacts close, motors give back, or supplies are opened.
    Surge,
    /// A terminal; only told when it is asked for by name.
    Terminal,
}

impl Section {
    /// What stands above its figures where a thing has several entries.
    #[must_use]
    pub const fn heading(self) -> &'static str {
        match self {
            Self::Source => "as a source",
            Self::Device => "as a device",
            Self::Contact => "as a contact",
            Self::Bar => "as a bar",
            Self::Load => "as a load",
            Self::Wire => "as a wire",
            Self::Short => "under a short",
            Self::Energy => "as a store of energy",
            Self::Surge => "when something surges",
            Self::Terminal => "as a terminal",
        }
    }

    /// The word for machines.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Source => "source",
            Self::Device => "device",
            Self::Contact => "contact",
            Self::Bar => "bar",
            Self::Load => "load",
            Self::Wire => "wire",
            Self::Short => "short",
            Self::Energy => "energy",
            Self::Surge => "surge",
            Self::Terminal => "terminal",
        }
    }
}

/// The figures of one thing, wire or terminal in one section.
#[derive(Clone, Debug)]
pub struct Entry {
    /// Where it belongs.
    pub section: Section,
    /// Its full name.
    pub name: String,
    /// What it is, in a few words: `fuse`, `wire from F1.load to LAMP.pos`.
    pub is: String,
    /// Where it is declared.
    pub span: Span,
    /// Its figures, in the order in which they build on each other.
    pub figures: Vec<Explained>,
}

impl Entry {
    /// The first figure of a name.
    #[must_use]
    pub fn figure(&self, what: &str) -> Option<&Explained> {
        self.figures.iter().find(|figure| figure.what == what)
    }

    /// The number of a figure in the unit that it is told in.
    #[must_use]
    pub fn value(&self, what: &str) -> Option<f64> {
        self.figure(what)?.amount.number()
    }
}
