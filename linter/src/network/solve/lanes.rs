//! Several variants of one network solved side by side: one walk over elements and factor serves them all.
//!
//! Wiring is nearly a tree, so finding the places in the factor costs more than the arithmetic there. Variants of one
//! shape (modes, corners) share these places; each is a lane. Lanes take plain Newton steps. What needs more care (a
//! load that sags, a converter that trips, contacts that go in circles, a part that comes loose, a step that must be
//! damped) is not decided here: such a lane is given up, and the careful search solves it from the start. A lane that is
//! answered has passed the same tests as the careful search's: Kirchhoff's law to the same share, no load below its
//! cut-off, all pivots positive, contacts at rest.

mod answer;
mod factor;
mod field;
mod search;

use crate::network::Variant;

use super::{Working, plan::Plan};

pub(super) use self::search::Search;

/// How many are solved at once.
pub(super) const WIDTH: usize = 8;

/// A number of each lane.
pub(super) type Lane = [f64; WIDTH];

/// All lanes 0.
const ZERO: Lane = [0.0; WIDTH];

/// A network to solve, and where to begin.
#[derive(Clone, Copy, Debug)]
pub struct Problem<'a> {
    /// The network.
    pub variant: Variant<'a>,
    /// The solution of the state before, of the same shape: contacts begin as they stand there; at rest without one.
    pub after: Option<&'a Working>,
    /// A solution that is likely to be near, of the same shape, with the same parts in work: the search begins there. Without
    /// one it begins from the sources alone.
    pub near: Option<&'a Working>,
}

/// Room for the search, kept from one to the next.
#[derive(Clone, Debug, Default)]
pub(super) struct Lanes {
    search: Search,
}

impl Lanes {
    /// Solves up to [`WIDTH`] problems on the plan that fits them all. `None` for one that needs the careful search.
    pub(super) fn solve(&mut self, plan: &Plan, problems: &[Problem<'_>]) -> Vec<Option<Working>> {
        if problems.is_empty() || !plan.is_free() {
            return vec![None; problems.len()];
        }
        self.search.begin(plan, problems);
        self.search.run(plan, problems);
        (0..problems.len()).map(|lane| self.search.answer(plan, problems, lane)).collect()
    }
}
