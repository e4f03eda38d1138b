//! Working points of a network.

use super::{ElementId, Network};

/// A solved network.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Working {
    /// Voltage of each node against the reference of its island, volt. The reference of an island is its lowest node id.
    pub volts: Vec<f64>,
    /// Current of each element from its `a` to its `b`, ampere.
    pub amps: Vec<f64>,
    /// The island of each node, numbered from 0 in the order of their lowest node.
    pub island: Vec<u32>,
    /// Largest violation of Kirchhoff's current law over all nodes, ampere.
    pub residual: f64,
    /// Whether each follower's contact is closed.
    pub closed: Vec<bool>,
    /// How many factorisations it took.
    pub rounds: u32,
}

/// Why a network has no working point.
#[derive(Clone, Debug, PartialEq)]
pub enum Unsolved {
    /// Ideal sources and perfect joints form a loop whose voltages do not add up.
    SourceLoop(Vec<ElementId>),
    /// These loads ask for more than their sources can carry, the heaviest first.
    Overdrawn(Vec<ElementId>),
    /// These contacts open and close for ever: indices into [`Network::followers`].
    Chatter(Vec<usize>),
    /// The numbers ran out of range at this element.
    NotFinite(ElementId),
}

/// Solves a network.
///
/// `start` is a neighbouring solution to begin from, of a network of the same shape; contacts begin as they stand there.
///
/// # Errors
/// [`Unsolved`] names what has no working point.
pub fn solve(network: &Network, start: Option<&Working>) -> Result<Working, Unsolved> {
    let _ = (network, start);
    Ok(Working::default())
}
