//! What must come first: nodes put behind everything they depend on, and the cycles that forbid it.

/// The result of [`order`].
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(crate) struct Order {
    /// Every node once, each after the nodes it depends on (as far as cycles allow).
    pub(crate) sequence: Vec<usize>,
    /// Each cycle in the order of dependence: every node depends on the next one, the last on the first. A node
    /// stands in one cycle at most, so that one mistake is told once.
    pub(crate) cycles: Vec<Vec<usize>>,
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Mark {
    New,
    /// On the stack, at this depth.
    Open(usize),
    Done,
    /// In a cycle that is already told.
    Told,
}

/// Orders the nodes `0..edges.len()`; `edges[n]` are the nodes that `n` depends on. Works without recursion, so a
/// chain may be as long as the text.
pub(crate) fn order(edges: &[Vec<usize>]) -> Order {
    let mut walk =
        Walk { edges, marks: vec![Mark::New; edges.len()], stack: Vec::new(), order: Order::default() };
    for node in 0..edges.len() {
        if walk.marks.get(node) == Some(&Mark::New) {
            walk.from(node);
        }
    }
    walk.order
}

struct Walk<'a> {
    edges: &'a [Vec<usize>],
    marks: Vec<Mark>,
    /// The open nodes, each with the position of its next edge.
    stack: Vec<(usize, usize)>,
    order: Order,
}

impl Walk<'_> {
    fn from(&mut self, node: usize) {
        self.open(node);
        while let Some((node, at)) = self.stack.last_mut() {
            let (node, edge) = (*node, *at);
            *at += 1;
            match self.edges.get(node).and_then(|edges| edges.get(edge)).copied() {
                Some(target) => self.follow(target),
                None => self.close(node),
            }
        }
    }

    fn open(&mut self, node: usize) {
        self.mark(node, Mark::Open(self.stack.len()));
        self.stack.push((node, 0));
    }

    fn follow(&mut self, target: usize) {
        match self.marks.get(target) {
            Some(Mark::New) => self.open(target),
            Some(Mark::Open(depth)) => self.tell(*depth),
            Some(Mark::Done | Mark::Told) | None => {}
        }
    }

    fn tell(&mut self, depth: usize) {
        let cycle: Vec<usize> = self.stack.iter().skip(depth).map(|(node, _)| *node).collect();
        let told = cycle.iter().any(|node| matches!(self.marks.get(*node), Some(Mark::Told)));
        if told {
            return;
        }
        for node in &cycle {
            self.mark(*node, Mark::Told);
        }
        self.order.cycles.push(cycle);
    }

    fn close(&mut self, node: usize) {
        self.stack.pop();
        if !matches!(self.marks.get(node), Some(Mark::Told)) {
            self.mark(node, Mark::Done);
        }
        self.order.sequence.push(node);
    }

    fn mark(&mut self, node: usize, mark: Mark) {
        if let Some(slot) = self.marks.get_mut(node) {
            *slot = mark;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn dependencies_come_first() {
        let found = order(&[vec![1, 2], vec![2], vec![]]);
        assert_eq!(found, Order { sequence: vec![2, 1, 0], cycles: vec![] });
    }

    #[test]
    fn a_cycle_is_told_whole_and_once() {
        let found = order(&[vec![1], vec![2], vec![0, 1], vec![0]]);
        assert_eq!(found.cycles, vec![vec![0, 1, 2]]);
        assert_eq!(found.sequence.len(), 4);
    }

    #[test]
    fn a_node_that_needs_itself_is_a_cycle() {
        assert_eq!(order(&[vec![0]]).cycles, vec![vec![0]]);
    }

    #[test]
    fn separate_cycles_are_told_separately() {
        assert_eq!(order(&[vec![1], vec![0], vec![3], vec![2]]).cycles, vec![vec![0, 1], vec![2, 3]]);
    }

    #[test]
    fn a_long_chain_needs_no_stack() {
        let edges: Vec<Vec<usize>> = (1..=200_000).map(|next| vec![next]).collect();
        assert_eq!(order(&edges).sequence.len(), 200_000);
    }
}
