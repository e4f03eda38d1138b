//! Which nodes hang together.

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

    /// The part of each node, numbered in the order of their lowest nodes, and the lowest node of the part of each.
    pub(super) fn numbered(&self) -> (Vec<u32>, Vec<u32>) {
        let mut numbers: Vec<u32> = Vec::with_capacity(self.parent.len());
        let mut lowest: Vec<u32> = Vec::with_capacity(self.parent.len());
        let mut next = 0;
        for node in 0..self.parent.len() as u32 {
            // The node above it has been here already.
            let above = self.parent[node as usize] as usize;
            if above == node as usize {
                numbers.push(next);
                lowest.push(node);
                next += 1;
            } else {
                numbers.push(numbers[above]);
                lowest.push(lowest[above]);
            }
        }
        (numbers, lowest)
    }
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
        assert_eq!(parts.numbered(), (vec![0, 1, 2, 1, 2, 1], vec![0, 1, 2, 1, 2, 1]));
    }
}
