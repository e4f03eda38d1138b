//! Nodes whose voltages hang rigidly together: joined by perfect joints and ideal sources.
//!
//! A cluster is one unknown of the solve. Inside it the rigid elements form a tree from its lowest node; each gives the
//! offset of a node from that root. A rigid element that closes a loop is redundant when the voltages agree: nothing
//! tells how the current divides, and it is taken to carry none, so that of several the one listed first carries all.

use std::collections::BTreeSet;

use crate::network::{Element, ElementId, Law, Unsolved};

use super::curve::is_rigid;

const NONE: u32 = u32::MAX;

/// Relative disagreement of the voltages around a loop that passes for rounding.
const AGREES: f64 = 1e-9;

/// A rigid element of the tree: `child` is reached from `parent` over it.
#[derive(Clone, Copy, Debug)]
struct Step {
    child: u32,
    parent: u32,
    element: u32,
}

/// The clusters of a network.
#[derive(Clone, Debug, Default)]
pub(super) struct Clusters {
    /// The cluster of each node, numbered in the order of their lowest nodes.
    pub of: Vec<u32>,
    /// The lowest node of each cluster.
    pub roots: Vec<u32>,
    /// The trees, parents before children.
    tree: Vec<Step>,
    /// Rigid elements outside the trees.
    redundant: Vec<u32>,
}

impl Clusters {
    /// Finds the clusters; `rigid` tells which elements count as rigid. Elements must be within the nodes.
    pub(super) fn new(nodes: usize, elements: &[Element], rigid: impl Fn(usize) -> bool) -> Self {
        let mut at = vec![Vec::new(); nodes];
        for (number, element) in elements.iter().enumerate().filter(|(number, _)| rigid(*number)) {
            at[element.a.0 as usize].push((number as u32, element.b.0));
            at[element.b.0 as usize].push((number as u32, element.a.0));
        }
        let mut clusters = Self { of: vec![NONE; nodes], ..Self::default() };
        let mut used = vec![false; elements.len()];
        for node in 0..nodes as u32 {
            if clusters.of[node as usize] == NONE {
                clusters.grow(node, &at, &mut used);
            }
        }
        clusters
    }

    /// Walks one cluster from its lowest node, nearest nodes first.
    fn grow(&mut self, root: u32, at: &[Vec<(u32, u32)>], used: &mut [bool]) {
        let cluster = self.roots.len() as u32;
        self.roots.push(root);
        self.of[root as usize] = cluster;
        let mut next = self.tree.len();
        let mut parent = root;
        loop {
            for &(element, child) in &at[parent as usize] {
                if std::mem::replace(&mut used[element as usize], true) {
                    continue;
                }
                if self.of[child as usize] == NONE {
                    self.of[child as usize] = cluster;
                    self.tree.push(Step { child, parent, element });
                } else {
                    self.redundant.push(element);
                }
            }
            let Some(step) = self.tree.get(next) else { return };
            parent = step.child;
            next += 1;
        }
    }

    /// The voltage of each node over its cluster's root, volt.
    ///
    /// # Errors
    /// [`Unsolved::SourceLoop`] with the elements of a loop whose voltages do not add up, ascending.
    pub(super) fn offsets(&self, elements: &[Element]) -> Result<Vec<f64>, Unsolved> {
        let mut offsets = vec![0.0; self.of.len()];
        for step in &self.tree {
            let element = &elements[step.element as usize];
            let emf = emf(element);
            let rise = if element.a.0 == step.child { emf } else { -emf };
            offsets[step.child as usize] = offsets[step.parent as usize] + rise;
        }
        for &number in &self.redundant {
            let element = &elements[number as usize];
            let (a, b) = (offsets[element.a.0 as usize], offsets[element.b.0 as usize]);
            let emf = emf(element);
            let size = a.abs().max(b.abs()).max(emf.abs()).max(1e-3);
            if (a - b - emf).abs() > AGREES * size {
                return Err(Unsolved::SourceLoop(self.around(element, number)));
            }
        }
        Ok(offsets)
    }

    /// The loop that an element closes.
    fn around(&self, element: &Element, number: u32) -> Vec<ElementId> {
        let mut up = vec![None; self.of.len()];
        for step in &self.tree {
            up[step.child as usize] = Some(*step);
        }
        let path = |from: u32| -> BTreeSet<u32> {
            let steps = std::iter::successors(up[from as usize], |step| up[step.parent as usize]);
            steps.map(|step| step.element).collect()
        };
        let mut around = &path(element.a.0) ^ &path(element.b.0);
        around.insert(number);
        around.into_iter().map(ElementId).collect()
    }

    /// Fills in the currents of the rigid elements, ampere, from what the others carry away at each node.
    pub(super) fn fill_currents(&self, elements: &[Element], amps: &mut [f64]) {
        let mut away = vec![0.0; self.of.len()];
        for (element, &current) in elements.iter().zip(amps.iter()) {
            away[element.a.0 as usize] += current;
            away[element.b.0 as usize] -= current;
        }
        for step in self.tree.iter().rev() {
            let needed = away[step.child as usize];
            let into_b = elements[step.element as usize].b.0 == step.child;
            amps[step.element as usize] = if into_b { needed } else { -needed };
            away[step.parent as usize] += needed;
        }
    }
}

/// The voltage from `a` to `b` of a rigid element, volt.
fn emf(element: &Element) -> f64 {
    debug_assert!(is_rigid(&element.law));
    match element.law {
        Law::Source { emf, .. } => emf.0,
        _ => 0.0,
    }
}

#[cfg(test)]
mod tests {
    use wattle_grammar::quantity::{Ohms, Volts};

    use super::*;
    use crate::network::NodeId;

    fn source(a: u32, b: u32, volts: f64) -> Element {
        Element { a: NodeId(a), b: NodeId(b), law: Law::Source { emf: Volts(volts), resistance: Ohms(0.0) } }
    }

    fn offsets(nodes: usize, elements: &[Element]) -> Result<Vec<f64>, Unsolved> {
        Clusters::new(nodes, elements, |_| true).offsets(elements)
    }

    #[test]
    fn stacked_sources_add_up() {
        assert_eq!(offsets(3, &[source(1, 0, 12.0), source(2, 1, 6.0)]), Ok(vec![0.0, 12.0, 18.0]));
    }

    #[test]
    fn a_loop_that_disagrees_is_named_without_its_stem() {
        let elements = [source(1, 0, 1.0), source(2, 1, 5.0), source(3, 2, 5.0), source(3, 1, 9.0)];
        let loop_of = vec![ElementId(1), ElementId(2), ElementId(3)];
        assert_eq!(offsets(4, &elements), Err(Unsolved::SourceLoop(loop_of)));
    }

    #[test]
    fn a_source_on_a_single_node_is_a_loop_of_its_own() {
        assert_eq!(offsets(1, &[source(0, 0, 3.0)]), Err(Unsolved::SourceLoop(vec![ElementId(0)])));
    }

    #[test]
    fn the_first_of_two_equal_sources_carries_all() {
        let load = Element { a: NodeId(1), b: NodeId(0), law: Law::Resistor(Ohms(4.0)) };
        let elements = [source(1, 0, 12.0), source(1, 0, 12.0), load];
        let clusters = Clusters::new(2, &elements, |number| number < 2);
        let mut amps = [0.0, 0.0, 3.0];
        clusters.fill_currents(&elements, &mut amps);
        assert_eq!(amps, [-3.0, 0.0, 3.0]);
    }
}
