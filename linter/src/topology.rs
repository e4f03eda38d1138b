//! What is joined to what: nodes and the links between them, once for the robot, before any mode is looked at.
//!
//! Ties, bars of blocks, splices, studs and a fuse's seat on its block are perfect joints: their terminals share a
//! node. Everything else is a [`Link`] with two ends. The solver's network and the protection search are both made
//! from this one picture.

mod build;
mod inside;
mod joined;
mod look;
pub mod rating;
pub(crate) mod sets;
#[cfg(test)]
mod tests;

use wattle_grammar::quantity::{Amps, Ohms, Volts};

use crate::{
    design::{MateId, ThingId, WireId},
    network::NodeId,
};

/// A link in [`Topology::links`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct LinkId(pub u32);

/// The whole picture.
#[derive(Clone, Debug, Default)]
pub struct Topology {
    /// The node of each terminal, by [`crate::design::TerminalId`].
    pub node_of: Vec<NodeId>,
    /// Number of nodes.
    pub nodes: u32,
    /// Links in a fixed order: wires, then mated ways, then the insides of things.
    pub links: Vec<Link>,
    /// The links at each node, by [`NodeId`], in link order.
    pub links_at: Vec<Vec<LinkId>>,
    /// The links inside each thing, by [`ThingId`]: the first one and the one behind the last.
    pub inside: Vec<(LinkId, LinkId)>,
}

/// What a link belongs to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Owner {
    /// A wire.
    Wire(WireId),
    /// Way number `1`-based of a mate.
    MatedWay(MateId, u32),
    /// The inside of a thing; the number tells apart several links of one thing.
    Thing(ThingId, u32),
}

/// A two-ended link.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Link {
    /// First node: plus of a source, anode of a diode, the supply side of a load.
    pub a: NodeId,
    /// Second node.
    pub b: NodeId,
    /// What it belongs to.
    pub owner: Owner,
    /// What it is electrically.
    pub nature: Nature,
}

/// What a link is electrically.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Nature {
    /// A wire.
    Wire,
    /// A mated way of a connector, or a ring of a slip ring.
    Mated,
    /// A fuse or breaker.
    Protective {
        /// Rated current; `None` when not stated.
        rated: Option<Amps>,
    },
    /// A hand-operated contact: switch or stop. Open or closed as the mode says.
    HandContact {
        /// Whether the contact is a break contact (closed while the device is at rest).
        breaks: bool,
    },
    /// A contact that follows the coil of the same thing.
    CoilContact {
        /// Whether it is closed while the coil is at rest.
        normally_closed: bool,
        /// The coil's link.
        coil: LinkId,
    },
    /// A coil.
    Coil(Ohms),
    /// A shunt or other low resistance in the main current.
    Shunt(Ohms),
    /// A resistor; infinite when its resistance is not stated.
    Resistor(Ohms),
    /// A diode from `a` to `b`, a part of its own or the one across a coil.
    Diode,
    /// A capacitor (conducts nothing at rest).
    Capacitor,
    /// A clamp.
    Clamp,
    /// A battery segment between two neighbouring brought-out poles or taps, plus at `a`.
    Cells {
        /// Cells in series in the segment.
        cells: u32,
        /// Cells in series in the whole pack.
        of: u32,
    },
    /// A charger's, supply's or generator's output, plus at `a`.
    Supply,
    /// The input of a converter.
    ConverterInput,
    /// The output of a converter, plus at `a`.
    ConverterOutput,
    /// The common negative of a converter that is not isolated: a joint between input and output negative.
    ConverterGround,
    /// The supply input of a driver.
    DriverInput,
    /// The freewheel diode of a driver from a motor lead (`a`) to its positive rail, or from its negative rail (`a`) to
    /// a motor lead.
    BridgeDiode,
    /// The bridge of one channel of a driver, between its two motor leads.
    BridgeOutput,
    /// The winding of a motor.
    Winding,
    /// A speaker's coil.
    SpeakerCoil,
    /// An amplifier's output between the two speaker leads.
    AmplifierOutput,
    /// A load between its supply terminals.
    Load,
    /// A measuring input.
    Sense,
}

impl Nature {
    /// Whether it is something that is fed, so that a fault in it draws whatever the devices before it let pass. Clamps
    /// and capacitors are as well, though they draw nothing at rest.
    #[must_use]
    pub const fn is_load(self) -> bool {
        matches!(
            self,
            Self::Load
                | Self::Coil(_)
                | Self::ConverterInput
                | Self::DriverInput
                | Self::Winding
                | Self::SpeakerCoil
                | Self::Clamp
                | Self::Capacitor
        )
    }
}

/// Which end of its charge a battery is at.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Charge {
    /// End of charge: highest voltage.
    Full,
    /// Nominal voltage.
    Nominal,
    /// End of discharge: lowest voltage under load.
    Empty,
}

impl Charge {
    /// Every state of charge, the highest voltage first.
    pub const ALL: [Self; 3] = [Self::Full, Self::Nominal, Self::Empty];

    /// As people say it of a battery.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Full => "full",
            Self::Nominal => "half-charged",
            Self::Empty => "empty",
        }
    }
}

/// The open-circuit voltage of a source at a state of charge and its internal resistance.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SourceFigures {
    /// Voltage without load.
    pub emf: Volts,
    /// Internal resistance.
    pub resistance: Ohms,
}
