//! A highest current of a short and the network that it comes from.

use wattle_grammar::quantity::{Amps, Ohms, Volts};

use crate::{design::ThingId, network::NodeId, trace::RailId};

/// The highest current of a short, and what it rests on.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Highest {
    /// The current.
    pub amps: Amps,
    /// Why it is not exact; none where it is.
    pub bound: Option<Bound>,
    /// A battery among those that feed it of which only the usual resistance of its chemistry is known.
    pub usual: Option<ThingId>,
    /// A source among those that feed it of which nothing is known: the current may be higher.
    pub unknown: Option<ThingId>,
    /// The network that gives it, as one voltage behind one resistance.
    pub reduced: Reduced,
}

/// Why a highest current is not exact.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Bound {
    /// The wiring is closely meshed: part of it is taken as one joint.
    Meshed,
    /// The device stands in a return: at most all that comes home there passes it.
    Return,
    /// A diode leads back to where it is fed from: of the ways in which it may stand the one that gives most is taken.
    Ring,
    /// So many diodes lead back to where they are fed from that only none and all of them are taken as conducting: no bound.
    Rings,
    /// Several diodes that are fed from one place lead there: what each of them gives alone is added.
    Diodes,
}

/// A network of sources before a short, reduced to one voltage behind one resistance (Thévenin): the current is
/// `volts / (ohms + own) − around + limits`.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Reduced {
    /// Where the current comes in: the near end of the link, or the shorted node itself; none where nothing feeds it.
    pub node: Option<NodeId>,
    /// The negative that it is shorted to.
    pub home: Option<RailId>,
    /// Voltage without load where the short is, every source full. With `ohms` 0 it is the voltage over the link itself.
    pub volts: Volts,
    /// Resistance of the network up to there at 20 °C.
    pub ohms: Ohms,
    /// Resistance of the wire or device itself, of a short at its far end; else 0.
    pub own: Ohms,
    /// What reaches the same short through the link itself, from its other end.
    pub around: Amps,
    /// What is added by what limits itself.
    pub limits: Amps,
}

/// What passes a link from one end when the short is at the other.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Through {
    /// The short lies at the near end, right behind where the current comes in: the highest.
    pub near: Highest,
    /// The short lies at the far end, with the link's own resistance before it.
    pub far: Far,
}

/// What passes a link to a short at its far end.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Far {
    /// The current.
    pub amps: Amps,
    /// The network that gives it.
    pub reduced: Reduced,
}

impl Far {
    /// The larger of two.
    #[must_use]
    pub fn max(self, other: Self) -> Self {
        if other.amps > self.amps { other } else { self }
    }
}

impl Highest {
    /// Keeps the higher of two, and what is not known of either.
    pub(super) fn keep(&mut self, other: &Self) {
        let (usual, unknown) = (self.usual.or(other.usual), self.unknown.or(other.unknown));
        if other.amps > self.amps {
            *self = *other;
        }
        (self.usual, self.unknown) = (usual, unknown);
    }
}
