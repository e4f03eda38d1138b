//! Which nodes hang together, and voltages against the reference of their island.

use super::extended::Extended;

/// Sets of nodes that are joined step by step.
#[derive(Clone, Debug)]
pub(super) struct Parts {
    parent: Vec<u32>,
}

impl Parts {
    /// Every node on its own.
    pub(super) fn new(count: usize) -> Self {
        Self { parent: (0..count as u32).collect() }
    }

    /// The lowest node of the part that a node is in.
    pub(super) fn root(&mut self, node: u32) -> u32 {
        let mut node = node as usize;
        while self.parent[node] as usize != node {
            let above = self.parent[node] as usize;
            self.parent[node] = self.parent[above];
            node = above;
        }
        node as u32
    }

    /// Joins the parts of two nodes; the lower root stays.
    pub(super) fn join(&mut self, one: u32, other: u32) {
        let (a, b) = (self.root(one), self.root(other));
        self.parent[a.max(b) as usize] = a.min(b);
    }
}

/// The island of each node, numbered in the order of their lowest nodes, and the lowest node of each.
pub(super) fn number(parts: &mut Parts) -> (Vec<u32>, Vec<u32>) {
    let mut island = Vec::with_capacity(parts.parent.len());
    let mut lowest = Vec::new();
    for node in 0..parts.parent.len() as u32 {
        let root = parts.root(node);
        if root == node {
            island.push(lowest.len() as u32);
            lowest.push(node);
        } else {
            island.push(island[root as usize]);
        }
    }
    (island, lowest)
}

/// The voltage of each node against the lowest node of its island, volt; `level` and `offset` add up to a node's voltage.
pub(super) fn against_lowest(
    island: &[u32],
    lowest: &[u32],
    level: impl Fn(u32) -> Extended,
    offset: &[f64],
) -> Vec<f64> {
    let of = |(node, &island): (usize, &u32)| {
        let reference = lowest[island as usize];
        level(node as u32).minus_plus(level(reference), offset[node] - offset[reference as usize])
    };
    island.iter().enumerate().map(of).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn islands_are_numbered_by_their_lowest_node() {
        let mut parts = Parts::new(6);
        parts.join(5, 1);
        parts.join(4, 2);
        parts.join(1, 3);
        assert_eq!(number(&mut parts), (vec![0, 1, 2, 1, 2, 1], vec![0, 1, 2]));
    }
}
