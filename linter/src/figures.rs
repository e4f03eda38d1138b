//! Working points: the network solved for every mode and state of charge, and what each wire and terminal sees.

use wattle_grammar::quantity::{Amps, Volts};

use crate::{
    design::{ModeId, TerminalId, WireId},
    network::{ElementId, Network, Unsolved, Working},
    topology::{Charge, LinkId, Topology},
};

/// One solved (or unsolvable) combination of mode and state of charge.
#[derive(Clone, Debug)]
pub struct Point {
    /// The mode.
    pub mode: ModeId,
    /// The state of charge of every battery.
    pub charge: Charge,
    /// The network as it stood.
    pub network: Network,
    /// The element of each link, by [`LinkId`]; `None` when the link has none (a capacitor).
    pub element_of: Vec<Option<ElementId>>,
    /// The result, or why there is none.
    pub outcome: Result<Working, Unsolved>,
}

/// All working points of a robot.
#[derive(Clone, Debug, Default)]
pub struct Figures {
    /// Modes in design order, each full, nominal, empty.
    pub points: Vec<Point>,
}

/// The worst a wire sees.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Worst {
    /// Magnitude of the current. With a duty it is the root mean square.
    pub amps: Amps,
    /// The point it occurs in: index into [`Figures::points`].
    pub point: usize,
}

impl Point {
    /// The current through a link, from its `a` to its `b`; `None` when unsolved.
    #[must_use]
    pub fn amps(&self, link: LinkId) -> Option<Amps> {
        let element = (*self.element_of.get(link.0 as usize)?)?;
        self.outcome.as_ref().ok()?.amps.get(element.0 as usize).copied().map(Amps)
    }

    /// The voltage of a terminal against the reference of its island; `None` when unsolved.
    #[must_use]
    pub fn volts(&self, topology: &Topology, terminal: TerminalId) -> Option<Volts> {
        let node = topology.node_of.get(terminal.index())?;
        self.outcome.as_ref().ok()?.volts.get(node.0 as usize).copied().map(Volts)
    }
}

impl Figures {
    /// The current through a wire at a point, from its `from` end to its `to` end.
    #[must_use]
    pub fn wire_amps(&self, point: usize, wire: WireId) -> Option<Amps> {
        self.points.get(point)?.amps(LinkId(wire.0))
    }
}
