//! From the topology to a network: every link gets its law for a mode and a state of charge.
//!
//! The network has the same shape in every mode: only the laws differ, so that the solver can keep its plan and start
//! from a neighbouring solution. Element `n` is the element of link `n`; behind them stand the few further elements that
//! some links need (a clamp that also conducts backwards, the power that a driver draws for its motors).
//!
//! Drivers stand undriven here. What they do to their motors depends on whether they have power, which only a solution
//! tells: see [`crate::figures`].

mod battery;
mod contact;
mod convert;
pub(crate) mod drive;
mod further;
mod load;
mod motor;
pub(crate) mod plan;
mod skeleton;
mod third;
pub mod usual;
mod warm_coil;

pub use battery::source_figures;
pub(crate) use contact::{over_copper, wire_at};
pub use further::Further;
pub use load::{Draw, draw};
pub use motor::{Motor, motor};
pub use skeleton::Skeleton;
pub(crate) use third::ThirdLeads;

use crate::{
    design::{Design, Mode},
    network::{ElementId, Network},
    topology::{Charge, Topology},
};

/// A network and where each link is in it.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Unfolded {
    /// The network.
    pub network: Network,
    /// The element of each link, by [`crate::topology::LinkId`].
    pub element_of: Vec<Option<ElementId>>,
    /// Further elements of links, in link order.
    pub further: Vec<Further>,
}

/// The network of a mode with every battery at `charge` and no driver driving its motors.
#[must_use]
pub fn unfold(design: &Design, topology: &Topology, mode: &Mode, charge: Charge) -> Unfolded {
    let skeleton = Skeleton::new(design, topology);
    Unfolded {
        network: skeleton.network(design, topology, &mode.states, charge),
        element_of: skeleton.element_of().to_vec(),
        further: skeleton.further().to_vec(),
    }
}
