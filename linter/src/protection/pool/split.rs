//! Which nodes of a circuit form a pool, and which pool feeds which.

use super::{
    super::resistance::Passage,
    circuit::{Circuit, Joint},
};
use crate::{order::order, topology::sets::Sets};

/// Where each node is: its pool, and its place in it.
pub(super) struct Split {
    pub(super) pool_of: Vec<usize>,
    pub(super) place: Vec<u32>,
    pub(super) sizes: Vec<usize>,
}

impl Circuit<'_> {
    /// The pools, and an order in which each comes after those that feed it. Pools that feed each other in a circle are
    /// made one, as if their diodes conducted either way.
    pub(super) fn split(&self) -> (Split, Vec<usize>) {
        let mut sets = Sets::new(self.nodes.len());
        for joint in self.joints.iter().filter(|joint| matches!(joint.passage, Passage::Both(_))) {
            sets.join(joint.a as u32, joint.b as u32);
        }
        for chain in &self.chains {
            for (one, other) in chain.nodes().zip(chain.nodes().skip(1)) {
                sets.join(one as u32, other as u32);
            }
        }
        loop {
            let split = Split::new(&mut sets, self.nodes.len());
            let mut before: Vec<Vec<usize>> = vec![Vec::new(); split.sizes.len()];
            for (from, to) in self.joints.iter().filter_map(Joint::one_way) {
                let (from, to) = (split.pool_of[from], split.pool_of[to]);
                if from != to {
                    before[to].push(from);
                }
            }
            for before in &mut before {
                before.sort_unstable();
                before.dedup();
            }
            let order = order(&before);
            if order.cycles.is_empty() {
                return (split, order.sequence);
            }
            let mut first: Vec<Option<u32>> = vec![None; split.sizes.len()];
            for (node, pool) in (0u32..).zip(&split.pool_of) {
                first[*pool].get_or_insert(node);
            }
            for cycle in order.cycles {
                let nodes: Vec<u32> = cycle.iter().filter_map(|pool| first[*pool]).collect();
                nodes.windows(2).for_each(|pair| sets.join(pair[0], pair[1]));
            }
        }
    }
}

impl Split {
    fn new(sets: &mut Sets, nodes: usize) -> Self {
        let mut number: Vec<Option<usize>> = vec![None; nodes];
        let (mut pool_of, mut place, mut sizes) = (Vec::new(), Vec::new(), Vec::new());
        for node in 0..nodes as u32 {
            let pool = *number[sets.root(node) as usize].get_or_insert(sizes.len());
            if pool == sizes.len() {
                sizes.push(0);
            }
            pool_of.push(pool);
            place.push(sizes[pool] as u32);
            sizes[pool] += 1;
        }
        Self { pool_of, place, sizes }
    }
}
