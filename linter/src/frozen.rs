//! A working point's network held still: contacts as they stand there, and nothing that draws by command.
//!
//! What is left is what limits a current of the first moment: cells, supplies, conductors, closed contacts, diodes,
//! coils and resistors. On it resistances seen from somewhere are measured, and unequal packs and empty capacitors are
//! joined. A point carries the network as it is with full packs, regulators as set and conductors at 20 °C, and so it is
//! held.

use wattle_grammar::quantity::{Amps, Volts};

use crate::{
    figures::Point,
    network::{ElementId, Law, Network, NodeId, Working, solve},
    topology::{LinkId, Nature, Topology},
};

/// The network of a solved point with its contacts held.
#[derive(Clone, Debug)]
pub struct Frozen {
    network: Network,
}

impl Frozen {
    /// Holds the contacts of a point still; what draws stays. `None` for one without a solution.
    #[must_use]
    pub fn loaded(point: &Point) -> Option<Self> {
        let working = point.working()?;
        let mut network = Network::clone(&point.network);
        for (follower, closed) in network.followers.iter().zip(&working.closed) {
            let law = if *closed { Law::Resistor(follower.closed) } else { Law::Open };
            if let Some(contact) = network.elements.get_mut(follower.contact.0 as usize) {
                contact.law = law;
            }
        }
        network.followers.clear();
        Some(Self { network })
    }

    /// Holds a point still with its loads taken away; `None` for one without a solution.
    #[must_use]
    pub fn new(topology: &Topology, point: &Point) -> Option<Self> {
        let Self { mut network } = Self::loaded(point)?;
        network.converters.clear();
        for element in &mut network.elements {
            if matches!(element.law, Law::Current(_) | Law::CurrentLoad { .. } | Law::PowerLoad { .. }) {
                element.law = Law::Open;
            }
        }
        let mut frozen = Self { network };
        let is_load = |nature| {
            matches!(
                nature,
                Nature::Load | Nature::ConverterInput | Nature::ConverterOutput | Nature::DriverInput
            )
        };
        for (id, link) in (0u32..).map(LinkId).zip(&topology.links) {
            if is_load(link.nature) {
                frozen.set(id, Law::Open);
            }
        }
        Some(frozen)
    }

    /// Gives a link's own element another law.
    pub fn set(&mut self, link: LinkId, law: Law) {
        if let Some(element) = self.network.elements.get_mut(link.0 as usize) {
            element.law = law;
        }
    }

    /// The law of a link's own element.
    #[must_use]
    pub fn law(&self, link: LinkId) -> Option<Law> {
        self.network.elements.get(link.0 as usize).map(|element| element.law)
    }

    /// Solves it as it stands; `None` when it has no solution.
    #[must_use]
    pub fn solve(&self) -> Option<Still> {
        solve(&self.network, None).ok().map(Still)
    }
}

/// A solved [`Frozen`].
#[derive(Clone, Debug)]
pub struct Still(Working);

impl Still {
    /// The current of a link's own element, from its `a` to its `b`.
    #[must_use]
    pub fn amps(&self, link: LinkId) -> Amps {
        self.element_amps(ElementId(link.0))
    }

    fn element_amps(&self, element: ElementId) -> Amps {
        Amps(self.0.amps.get(element.0 as usize).copied().unwrap_or(0.0))
    }

    /// The voltage from one node to another; 0 when nothing joins them.
    #[must_use]
    pub fn volts(&self, plus: NodeId, minus: NodeId) -> Volts {
        let at =
            |node: NodeId| Some((*self.0.volts.get(node.0 as usize)?, *self.0.island.get(node.0 as usize)?));
        let across = match (at(plus), at(minus)) {
            (Some((high, one)), Some((low, other))) if one == other => high - low,
            _ => 0.0,
        };
        Volts(across)
    }
}
