//! What depends on the shape of a network only: its clusters, the elimination and each element's slot in it.

use crate::network::{Element, Network};

use super::{cluster::Clusters, curve::is_rigid, ordering::Elimination};

const NONE: u32 = u32::MAX;

/// Everything that can be kept while the laws change but the shape does not.
#[derive(Clone, Debug, Default)]
pub(super) struct Plan {
    nodes: u32,
    /// Each element's nodes and whether it is rigid.
    shape: Vec<(u32, u32, bool)>,
    pub clusters: Clusters,
    pub elimination: Elimination,
    /// The clusters of each element's nodes.
    pub ends: Vec<(u32, u32)>,
    slots: Vec<u32>,
}

impl Plan {
    /// Plans for a network whose references are sound.
    pub(super) fn new(network: &Network) -> Self {
        let shape = shape(network);
        let clusters = Clusters::new(network.nodes as usize, &network.elements, |number| shape[number].2);
        let cluster_of = |node: u32| clusters.of[node as usize];
        let ends: Vec<(u32, u32)> = shape.iter().map(|&(a, b, _)| (cluster_of(a), cluster_of(b))).collect();
        let edges: Vec<(u32, u32)> = ends.iter().copied().filter(|(a, b)| a != b).collect();
        let elimination = Elimination::new(clusters.roots.len(), &edges);
        let slot = |&(a, b): &(u32, u32)| if a == b { None } else { elimination.slot(a, b) };
        let slots = ends.iter().map(|ends| slot(ends).map_or(NONE, |slot| slot as u32)).collect();
        Self { nodes: network.nodes, shape, clusters, elimination, ends, slots }
    }

    /// Whether it is the plan of this network.
    pub(super) fn fits(&self, network: &Network) -> bool {
        let follows = |number: usize| network.followers.iter().any(|one| one.contact.0 as usize == number);
        let is_same = |(number, (element, &(a, b, rigid))): (usize, (&Element, &(u32, u32, bool)))| {
            let same_rigid = is_rigid(&element.law) == rigid || (!rigid && follows(number));
            (element.a.0, element.b.0) == (a, b) && same_rigid
        };
        self.nodes == network.nodes
            && self.shape.len() == network.elements.len()
            && network.elements.iter().zip(&self.shape).enumerate().all(is_same)
            && network.followers.iter().all(|one| !self.is_rigid(one.contact.0 as usize))
    }

    /// The slot of an element; `None` when both its nodes are in one cluster.
    pub(super) fn slot(&self, element: usize) -> Option<usize> {
        self.slots.get(element).filter(|slot| **slot != NONE).map(|slot| *slot as usize)
    }

    /// Whether no element is rigid.
    pub(super) fn is_free(&self) -> bool {
        self.clusters.roots.len() == self.nodes as usize
    }

    /// Whether an element is rigid.
    pub(super) fn is_rigid(&self, element: usize) -> bool {
        self.shape.get(element).is_some_and(|shape| shape.2)
    }
}

/// Contacts that follow a coil are never rigid, so that switching them keeps the shape.
fn shape(network: &Network) -> Vec<(u32, u32, bool)> {
    let of = |element: &Element| (element.a.0, element.b.0, is_rigid(&element.law));
    let mut shape: Vec<(u32, u32, bool)> = network.elements.iter().map(of).collect();
    for follower in &network.followers {
        if let Some(contact) = shape.get_mut(follower.contact.0 as usize) {
            contact.2 = false;
        }
    }
    shape
}
