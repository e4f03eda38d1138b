//! The order in which nodes are eliminated, and what each elimination touches.
//!
//! Minimum degree on the explicit elimination graph. Wiring is nearly a tree with a few bus bars of very high degree, so
//! neighbour lists are kept lazily: dead and repeated neighbours stay in a long list until it has doubled, and its
//! degree is then an upper bound. Eliminating a leaf at a bar of 10,000 wires thus costs one decrement.

/// Lists up to this length are kept exact.
const SHORT: usize = 64;

/// The pattern of the factor: a column for each unknown, in elimination order.
#[derive(Clone, Debug, Default)]
pub(super) struct Elimination {
    /// Position of each unknown in the order.
    pub position: Vec<u32>,
    /// The unknown at each position.
    pub order: Vec<u32>,
    /// Where each column begins in `rows`; one more entry than columns.
    pub starts: Vec<u32>,
    /// Positions of the unknowns that a column touches, ascending.
    pub rows: Vec<u32>,
    /// Where in `rows` the entry of each pair of unknowns lies that a column joins, column after column, the first of the
    /// pair going before the second.
    pub targets: Vec<u32>,
    /// Where those of each column begin in `targets`.
    pub pair_starts: Vec<u32>,
}

impl Elimination {
    /// Orders `count` unknowns joined by `edges`.
    pub(super) fn new(count: usize, edges: &[(u32, u32)]) -> Self {
        let mut graph = Graph::new(count, edges);
        let mut queue = Queue::new(&graph.bound);
        let mut columns = Vec::with_capacity(count);
        while let Some(node) = queue.pop(&graph) {
            let near = graph.exact(node);
            let is_clique = near.len() + 1 == count - columns.len();
            columns.push((node, near.clone()));
            if is_clique {
                columns.extend((0..near.len()).filter_map(|at| {
                    let (first, rest) = near.get(at..)?.split_first()?;
                    Some((*first, rest.to_vec()))
                }));
                break;
            }
            graph.eliminate(node, &near);
            queue.push_all(&graph, &near);
        }
        Self::from_columns(count, &columns)
    }

    fn from_columns(count: usize, columns: &[(u32, Vec<u32>)]) -> Self {
        let mut position = vec![0; count];
        for (at, (node, _)) in columns.iter().enumerate() {
            position[*node as usize] = at as u32;
        }
        let mut starts = Vec::with_capacity(count + 1);
        let mut rows = Vec::with_capacity(columns.iter().map(|(_, near)| near.len()).sum());
        starts.push(0);
        for (_, near) in columns {
            let begin = rows.len();
            rows.extend(near.iter().map(|&node| position[node as usize]));
            rows[begin..].sort_unstable();
            starts.push(rows.len() as u32);
        }
        let order = columns.iter().map(|(node, _)| *node).collect();
        let mut elimination = Self { position, order, starts, rows, ..Self::default() };
        elimination.find_pairs();
        elimination
    }

    fn find_pairs(&mut self) {
        let mut targets = Vec::new();
        let mut pair_starts = Vec::with_capacity(self.len());
        for column in 0..self.len() {
            pair_starts.push(targets.len() as u32);
            let near = &self.rows[self.column(column)];
            for (at, &first) in near.iter().enumerate() {
                // Both lists rise, so one walk finds all partners.
                let mut slot = self.starts[first as usize];
                for &second in &near[at + 1..] {
                    while self.rows[slot as usize] != second {
                        slot += 1;
                    }
                    targets.push(slot);
                }
            }
        }
        (self.targets, self.pair_starts) = (targets, pair_starts);
    }

    /// The number of unknowns.
    pub(super) fn len(&self) -> usize {
        self.position.len()
    }

    /// Where a column lies in `rows`.
    pub(super) fn column(&self, at: usize) -> std::ops::Range<usize> {
        self.starts[at] as usize..self.starts[at + 1] as usize
    }

    /// Where the entry of two different unknowns lies in `rows`; `None` when they do not touch.
    pub(super) fn slot(&self, one: u32, other: u32) -> Option<usize> {
        let (a, b) = (self.position[one as usize], self.position[other as usize]);
        let column = self.column(a.min(b) as usize);
        self.rows[column.clone()].binary_search(&a.max(b)).ok().map(|at| column.start + at)
    }
}

/// The elimination graph.
struct Graph {
    /// Neighbours; a long list may hold eliminated and repeated ones.
    near: Vec<Vec<u32>>,
    /// Upper bound of the degree, exact for short lists.
    bound: Vec<u32>,
    /// Length of the list when it was last made exact.
    clean: Vec<usize>,
    gone: Vec<bool>,
    mark: Vec<u32>,
    stamp: u32,
}

impl Graph {
    fn new(count: usize, edges: &[(u32, u32)]) -> Self {
        let mut degree = vec![0usize; count];
        for &(a, b) in edges {
            degree[a as usize] += 1;
            degree[b as usize] += 1;
        }
        let mut near: Vec<Vec<u32>> = degree.iter().map(|&d| Vec::with_capacity(d)).collect();
        for &(a, b) in edges {
            near[a as usize].push(b);
            near[b as usize].push(a);
        }
        let mut graph = Self {
            near,
            bound: vec![0; count],
            clean: vec![0; count],
            gone: vec![false; count],
            mark: vec![0; count],
            stamp: 0,
        };
        (0..count as u32).for_each(|node| graph.tidy(node));
        graph
    }

    /// Drops eliminated and repeated neighbours.
    fn tidy(&mut self, node: u32) {
        self.stamp += 1;
        let at = node as usize;
        self.mark[at] = self.stamp;
        let (mark, gone, stamp) = (&mut self.mark, &self.gone, self.stamp);
        self.near[at].retain(|&other| {
            let fresh = !gone[other as usize] && mark[other as usize] != stamp;
            mark[other as usize] = stamp;
            fresh
        });
        self.clean[at] = self.near[at].len();
        self.bound[at] = self.clean[at] as u32;
    }

    /// The neighbours of a node that is about to be eliminated.
    fn exact(&mut self, node: u32) -> Vec<u32> {
        self.tidy(node);
        std::mem::take(&mut self.near[node as usize])
    }

    /// Takes a node out and joins its neighbours to each other.
    fn eliminate(&mut self, node: u32, near: &[u32]) {
        self.gone[node as usize] = true;
        for &one in near {
            let at = one as usize;
            if near.len() > 1 {
                self.near[at].extend(near.iter().filter(|&&other| other != one));
            }
            let len = self.near[at].len();
            if len <= SHORT || len > 2 * self.clean[at] {
                self.tidy(one);
            } else {
                self.bound[at] = (self.bound[at] + near.len() as u32).saturating_sub(2).min(len as u32);
            }
        }
    }
}

/// Nodes by degree; entries that are out of date are skipped when they come up.
struct Queue {
    buckets: Vec<Vec<u32>>,
    least: usize,
}

impl Queue {
    fn new(bound: &[u32]) -> Self {
        let mut queue = Self { buckets: Vec::new(), least: 0 };
        // Pushed backwards, so that the lowest node of a degree comes out first.
        for (node, &degree) in bound.iter().enumerate().rev() {
            queue.push(node as u32, degree as usize);
        }
        queue
    }

    fn push(&mut self, node: u32, degree: usize) {
        if degree >= self.buckets.len() {
            self.buckets.resize_with(degree + 1, Vec::new);
        }
        self.buckets[degree].push(node);
        self.least = self.least.min(degree);
    }

    fn push_all(&mut self, graph: &Graph, nodes: &[u32]) {
        for &node in nodes {
            self.push(node, graph.bound[node as usize] as usize);
        }
    }

    fn pop(&mut self, graph: &Graph) -> Option<u32> {
        while let Some(bucket) = self.buckets.get_mut(self.least) {
            match bucket.pop() {
                Some(node)
                    if !graph.gone[node as usize] && graph.bound[node as usize] as usize == self.least =>
                {
                    return Some(node);
                }
                Some(_) => {}
                None => self.least += 1,
            }
        }
        None
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_tree_has_no_fill() {
        let edges: Vec<(u32, u32)> = (1..200).map(|node| (node / 3, node)).collect();
        assert_eq!(Elimination::new(200, &edges).rows.len(), 199);
    }

    #[test]
    fn chains_between_two_bars_have_hardly_any_fill() {
        // Two bars joined by 500 chains of three wires.
        let mut edges = Vec::new();
        for chain in 0..500u32 {
            let (one, two) = (2 + 2 * chain, 3 + 2 * chain);
            edges.extend([(0, one), (one, two), (two, 1)]);
        }
        let elimination = Elimination::new(1002, &edges);
        assert_eq!(elimination.rows.len(), 500 * 2 * 2 + 1);
    }

    #[test]
    fn every_edge_has_a_slot_and_strangers_have_none() {
        let edges = [(0, 1), (1, 2), (2, 3), (3, 0), (1, 0), (5, 4)];
        let elimination = Elimination::new(6, &edges);
        assert!(edges.iter().all(|&(a, b)| elimination.slot(a, b).is_some()));
        assert_eq!(elimination.slot(0, 4), None);
    }

    #[test]
    fn every_unknown_has_one_position() {
        let edges: Vec<(u32, u32)> =
            (0..60).map(|k| (k * 7 % 40, (k * 11 + 3) % 40)).filter(|(a, b)| a != b).collect();
        let mut position = Elimination::new(40, &edges).position;
        position.sort_unstable();
        assert_eq!(position, (0..40).collect::<Vec<u32>>());
    }
}
