//! Disjoint sets of numbered items: union and find.

/// Items `0..count`, each in one set.
#[derive(Clone, Debug)]
pub(crate) struct Sets {
    parent: Vec<u32>,
}

impl Sets {
    /// Every item alone.
    pub(crate) fn new(count: usize) -> Self {
        Self { parent: (0..count as u32).collect() }
    }

    /// The representative of an item's set, its lowest item. Halves the way there, so repeated calls are short.
    pub(crate) fn root(&mut self, mut at: u32) -> u32 {
        while self.parent[at as usize] != at {
            let above = self.parent[self.parent[at as usize] as usize];
            self.parent[at as usize] = above;
            at = above;
        }
        at
    }

    /// Makes two sets one. The lower representative stays, so the result does not depend on the order of joining.
    pub(crate) fn join(&mut self, first: u32, second: u32) {
        let (first, second) = (self.root(first), self.root(second));
        self.parent[first.max(second) as usize] = first.min(second);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn joined_items_share_the_lowest_as_root() {
        let mut sets = Sets::new(6);
        sets.join(4, 5);
        sets.join(2, 4);
        sets.join(5, 1);
        assert_eq!([0, 1, 2, 3, 4, 5].map(|at| sets.root(at)), [0, 1, 1, 3, 1, 1]);
    }
}
