//! Several variants of one network solved side by side: one walk over elements and factor serves them all.
//!
//! Wiring is nearly a tree, so finding the places in the factor costs more than the arithmetic there. Variants of one
//! shape (modes, corners) share these places; each is a lane. Lanes take plain Newton steps. What needs more care (a
//! load that sags, a converter that trips, contacts that go in circles, a part that comes loose, a step that must be
//! damped) is not decided here: such a lane is given up, and the careful search solves it from the start. A lane that is
//! answered has passed the same tests as the careful search's: Kirchhoff's law to the same share, no load below its
//! cut-off, all pivots positive, contacts at rest.

mod answer;
mod awake;
mod bent;
mod factor;
mod field;
mod laid;
mod level;
mod search;

use crate::network::Variant;

use self::search::Search;
use super::{Working, plan::Plan};

/// How many are solved at once, at most.
pub(super) const WIDEST: usize = 8;

/// A number of each lane.
type Lane<const W: usize> = [f64; W];

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

impl Problem<'_> {
    /// Whether its changed voltages can be computed with, and what it begins from is of the size of its network. Other
    /// figures that cannot be computed with come out as no numbers, or as pivots that are not positive.
    pub(super) fn is_sound(&self) -> bool {
        let mut starts = [self.near, self.after].into_iter().flatten();
        starts.all(|start| start.has_size_of(self.variant.network)) && self.variant.has_sound_volts()
    }
}

/// Searches of one width that are kept laid out: the modes of a robot come again at every charge and warmth.
const KEPT: usize = 4;

/// Room for the searches, kept from one to the next.
#[derive(Clone, Debug, Default)]
pub(super) struct Lanes {
    two: Vec<Search<2>>,
    four: Vec<Search<4>>,
    six: Vec<Search<6>>,
    eight: Vec<Search<WIDEST>>,
}

impl Lanes {
    /// Whether the problems are laid out already.
    pub(super) fn are_laid(&self, problems: &[Problem<'_>]) -> bool {
        self.two.iter().any(|search| search.is_laid(problems))
            || self.four.iter().any(|search| search.is_laid(problems))
            || self.six.iter().any(|search| search.is_laid(problems))
            || self.eight.iter().any(|search| search.is_laid(problems))
    }

    /// Solves up to [`WIDEST`] problems on the plan that fits them all. `None` for one that needs the careful search.
    pub(super) fn solve(&mut self, plan: &Plan, problems: &[Problem<'_>]) -> Vec<Option<Working>> {
        if !plan.is_free() {
            return vec![None; problems.len()];
        }
        match problems.len() {
            0 => Vec::new(),
            1 | 2 => solve(&mut self.two, plan, problems),
            3 | 4 => solve(&mut self.four, plan, problems),
            5 | 6 => solve(&mut self.six, plan, problems),
            _ => solve(&mut self.eight, plan, problems),
        }
    }
}

/// Solves by the search in which the problems are laid out already, else by the one that was not used for longest.
fn solve<const W: usize>(
    kept: &mut Vec<Search<W>>,
    plan: &Plan,
    problems: &[Problem<'_>],
) -> Vec<Option<Working>> {
    let laid = kept.iter().position(|search| search.is_laid(problems));
    let mut search = match laid {
        Some(at) => kept.remove(at),
        None if kept.len() < KEPT => Search::default(),
        None => kept.remove(0),
    };
    let answers = search.solve(plan, problems);
    kept.push(search);
    answers
}
