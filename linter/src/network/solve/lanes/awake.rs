//! Which clusters take part in a search. Much of a robot stands still in a mode: what lies behind open contacts, and ends
//! that hang by one wire only, through which nothing can flow.

use crate::network::solve::plan::Plan;

/// The clusters that take part.
#[derive(Clone, Debug, Default)]
pub(super) struct Awake {
    /// In elimination order.
    pub(super) clusters: Vec<One>,
    /// Clusters that hang by one resistance, each with the cluster at its other end, which comes before it.
    pub(super) hanging: Vec<(u32, u32)>,
    /// Whether something hangs by each of the resistances.
    pub(super) hangs: Vec<bool>,
}

/// A cluster that takes part.
#[derive(Clone, Copy, Debug)]
pub(super) struct One {
    pub(super) cluster: u32,
    /// Its position in the elimination.
    pub(super) position: u32,
}

impl Awake {
    /// Finds them by the ends of all resistances and of all else that may carry a current.
    pub(super) fn new<T>(plan: &Plan, plain: &[T], others: &[T], ends: impl Fn(&T) -> (u32, u32)) -> Self {
        let count = plan.clusters.roots.len();
        let mut degree = vec![0u32; count];
        // The exclusive or of the resistances at a cluster: of the last one that is left, its number.
        let mut number = vec![0u32; count];
        for (at, (from, to)) in (0u32..).zip(plain.iter().map(&ends)) {
            for cluster in [from, to] {
                degree[cluster as usize] += 1;
                number[cluster as usize] ^= at;
            }
        }
        let mut holds = vec![false; count];
        for (from, to) in others.iter().map(&ends) {
            holds[from as usize] = true;
            holds[to as usize] = true;
        }
        let mut hangs = vec![false; plain.len()];
        let mut hanging = Vec::new();
        for first in 0..count as u32 {
            let mut cluster = first;
            while degree[cluster as usize] == 1 && !holds[cluster as usize] {
                let by = number[cluster as usize];
                let (from, to) = ends(&plain[by as usize]);
                let other = if from == cluster { to } else { from };
                hangs[by as usize] = true;
                hanging.push((cluster, other));
                for end in [cluster, other] {
                    degree[end as usize] -= 1;
                    number[end as usize] ^= by;
                }
                // What hung by this one may now hang itself; what comes later is met anyway.
                cluster = other;
            }
        }
        hanging.reverse();
        let takes_part = |position: &u32| {
            let cluster = plan.elimination.order[*position as usize];
            degree[cluster as usize] > 0 || holds[cluster as usize]
        };
        let positions = (0..count as u32).filter(takes_part);
        let one = |position: u32| One { cluster: plan.elimination.order[position as usize], position };
        Self { clusters: positions.map(one).collect(), hanging, hangs }
    }
}

#[cfg(test)]
mod tests {
    use wattle_grammar::quantity::Ohms;

    use super::*;
    use crate::network::{Element, Law, Network, NodeId};

    fn awake(nodes: u32, plain: &[(u32, u32)], others: &[(u32, u32)]) -> (Vec<u32>, Awake) {
        let element =
            |(a, b): &(u32, u32)| Element { a: NodeId(*a), b: NodeId(*b), law: Law::Resistor(Ohms(1.0)) };
        let elements = plain.iter().chain(others).map(element).collect();
        let plan = Plan::new(&Network { nodes, elements, ..Network::default() });
        let awake = Awake::new(&plan, plain, others, |ends| *ends);
        let mut clusters: Vec<u32> = awake.clusters.iter().map(|one| one.cluster).collect();
        clusters.sort_unstable();
        (clusters, awake)
    }

    #[test]
    fn a_tree_of_wires_hangs_from_where_something_flows() {
        // A source between 0 and 1, a load between 2 and 0; 3 to 5 hang at 2, one behind the other.
        let (clusters, found) = awake(6, &[(1, 2), (2, 3), (4, 3), (4, 5)], &[(1, 0), (2, 0)]);
        assert_eq!(clusters, [0, 1, 2]);
        assert_eq!(found.hanging, [(3, 2), (4, 3), (5, 4)]);
        assert_eq!(found.hangs, [false, true, true, true]);
    }

    #[test]
    fn what_nothing_reaches_does_not_take_part() {
        let (clusters, found) = awake(7, &[(1, 2), (4, 5)], &[(1, 0), (2, 0)]);
        assert_eq!(clusters, [0, 1, 2]);
        assert_eq!(found.hanging, [(4, 5)]);
    }

    #[test]
    fn a_ring_of_wires_is_left_alone() {
        let (clusters, found) = awake(4, &[(1, 2), (2, 3), (3, 1)], &[(1, 0)]);
        assert_eq!(clusters, [0, 1, 2, 3]);
        assert!(found.hanging.is_empty());
    }

    #[test]
    fn a_wire_from_a_cluster_to_itself_holds_nothing_up() {
        let (clusters, _) = awake(3, &[(1, 1), (1, 2)], &[(1, 0)]);
        assert_eq!(clusters, [0, 1]);
    }
}
