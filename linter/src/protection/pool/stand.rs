//! The ways in which the diodes before and within a pool may stand.

use std::collections::BTreeSet;

use super::{
    super::inverse::{Grid, Inverse},
    solved::Pool,
};

/// So many diodes into one pool are taken away one by one; of more there are all or these.
const MOST_DIODES: usize = 8;

/// Of so many diodes within one pool every choice is looked at.
pub(super) const MOST_RINGS: usize = 3;

/// Of one pool so many ways to stand are looked at from the next.
const MOST_FACES: usize = 8;

/// What feeds a pool through a diode.
pub(super) struct Behind {
    pub(super) node: u32,
    /// Voltage without load and resistance, once for each way in which the diodes before it may stand.
    pub(super) faces: Vec<(f64, f64)>,
}

impl Behind {
    fn highest(&self) -> f64 {
        self.faces.iter().map(|face| face.0).fold(0.0, f64::max)
    }
}

/// A pool for each way in which its diodes may stand. Of sources behind diodes those conduct that lie highest, down to
/// some voltage; diodes within the pool conduct or do not. A source that should not conduct only takes something away, so
/// that of these ways the one which gives most is the one that holds. A diode within the pool may lead a current back
/// past a link, so that what passes this link may come out too high, never too low.
pub(super) fn ways_to_stand(grid: Grid, rings: &[(u32, u32, f64)], mut behind: Vec<Behind>) -> Vec<Inverse> {
    if rings.is_empty() && behind.is_empty() {
        return vec![grid.invert()];
    }
    behind.retain(|one| !one.faces.is_empty());
    behind.sort_by(|one, other| other.highest().total_cmp(&one.highest()));
    let mut stands = Vec::new();
    for count in (0..=behind.len()).filter(|count| *count <= MOST_DIODES || *count == behind.len()) {
        let before = behind.iter().take(count);
        let faces = before.clone().map(|one| one.faces.len()).max().unwrap_or(1).min(MOST_FACES);
        for face in 0..faces {
            let mut open = grid.clone();
            for one in before.clone() {
                if let Some((volts, ohms)) = one.faces.get(face).or(one.faces.last()) {
                    open.source(one.node, *volts, *ohms);
                }
            }
            for closed in choices(rings.len()) {
                let mut grid = open.clone();
                let shut = rings.iter().enumerate().filter(|(at, _)| closed & (1 << at.min(&63)) != 0);
                shut.for_each(|(_, (from, to, ohms))| grid.join(*from, *to, *ohms));
                stands.push(grid.invert());
            }
        }
    }
    stands
}

/// Whether what comes through several diodes comes, some way before, from one pool.
pub(super) fn meet(before: &[usize], solved: &[Option<Pool>]) -> bool {
    let mut met: BTreeSet<usize> = BTreeSet::new();
    for first in before {
        let mut own = BTreeSet::new();
        let mut stack = vec![*first];
        while let Some(pool) = stack.pop() {
            if !own.insert(pool) {
                continue;
            }
            if met.contains(&pool) {
                return true;
            }
            stack.extend(solved.get(pool).and_then(Option::as_ref).into_iter().flat_map(|pool| &pool.before));
        }
        met.extend(own);
    }
    false
}

/// Which of so many diodes within a pool conduct, as bits: every choice of a few, of more none and all.
fn choices(diodes: usize) -> Vec<u64> {
    if diodes <= MOST_RINGS { (0..1 << diodes).collect() } else { vec![0, u64::MAX] }
}
