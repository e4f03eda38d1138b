//! The electrical network: nodes, and two-terminal elements between them. Numbers only; no names.

mod solve;
mod variant;

pub use solve::{Problem, Solver, Unsolved, Working, solve};
pub use variant::Variant;

use wattle_grammar::quantity::{Amps, Ohms, Share, Volts, Watts};

/// A node of the network.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct NodeId(pub u32);

/// An element in [`Network::elements`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct ElementId(pub u32);

/// A two-terminal element. Its current is counted positive from `a` through the element to `b`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Element {
    /// First node: the plus terminal of a source, the anode of a diode, where a load's current enters.
    pub a: NodeId,
    /// Second node.
    pub b: NodeId,
    /// How current and voltage hang together.
    pub law: Law,
}

/// The law of an element. `v` is the voltage from `a` to `b`, `i` the current from `a` to `b`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Law {
    /// `v = R i`; 0 Ω is a perfect joint.
    Resistor(Ohms),
    /// `v = E + R i`: an EMF behind a resistance, plus at `a`; 0 Ω is an ideal source.
    Source {
        /// Electromotive force.
        emf: Volts,
        /// Internal resistance, 0 or more.
        resistance: Ohms,
    },
    /// A source that holds its voltage up to a limit and then its current, and takes none back unless it sinks.
    LimitedSource {
        /// Voltage without load.
        emf: Volts,
        /// Output resistance, above 0.
        resistance: Ohms,
        /// Highest current it gives.
        limit: Amps,
        /// Whether it takes current back.
        sinks: bool,
    },
    /// `i` is given, whatever the voltage (an ideal current source from `a` through itself to `b`).
    Current(Amps),
    /// A load that draws `amps` from `a` to `b`, and less, in proportion, below `cutoff`; nothing at reverse voltage.
    CurrentLoad {
        /// Current drawn.
        amps: Amps,
        /// Voltage below which it falls in proportion; above 0.
        cutoff: Volts,
    },
    /// A load that draws `watts`, down to `cutoff`; below that, the resistance it has there; nothing at reverse voltage.
    PowerLoad {
        /// Power drawn.
        watts: Watts,
        /// Voltage below which it is a resistance; above 0.
        cutoff: Volts,
    },
    /// Conducts from `a` to `b` above `drop`, behind `resistance` (above 0).
    Diode {
        /// Forward drop.
        drop: Volts,
        /// Slope resistance.
        resistance: Ohms,
    },
    /// Conducts nothing.
    Open,
}

/// A contact that follows the solved voltage of a coil.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Follower {
    /// The coil: an element whose voltage magnitude decides.
    pub coil: ElementId,
    /// The contact: a resistor while closed.
    pub contact: ElementId,
    /// Whether it is closed while the coil is at rest.
    pub normally_closed: bool,
    /// At or above this the contact has surely operated.
    pub operate: Volts,
    /// Below this the contact has surely released. Between the two it stays as it was.
    pub release: Volts,
    /// Resistance while closed.
    pub closed: Ohms,
    /// Whether it has operated already when the mode begins.
    pub begins_operated: bool,
}

/// A converter: what its output gives, its input draws.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Converter {
    /// The input: a [`Law::PowerLoad`] whose power follows the output.
    pub input: ElementId,
    /// The output: a [`Law::LimitedSource`].
    pub output: ElementId,
    /// Output power over input power, above 0, at most 1. A linear regulator has `linear` set instead.
    pub efficiency: Share,
    /// Input current equals output current (a linear regulator) rather than the powers matching.
    pub linear: bool,
    /// What it draws besides.
    pub quiescent: Amps,
    /// Set output voltage.
    pub output_volts: Volts,
    /// Least input voltage above the output; below it the output sags with the input. Negative for a converter whose output
    /// may lie above its input, by how much it may.
    pub dropout: Volts,
    /// Input voltage below which it is off.
    pub lowest_input: Volts,
}

/// A whole network.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Network {
    /// Number of nodes; ids run from 0.
    pub nodes: u32,
    /// Elements, in a fixed order.
    pub elements: Vec<Element>,
    /// Contacts that follow coils.
    pub followers: Vec<Follower>,
    /// Converters.
    pub converters: Vec<Converter>,
}
