//! Working points of a network.
//!
//! Nodal analysis. Perfect joints and ideal sources tie nodes into clusters (`cluster`), each cluster is one unknown
//! (`plan`), the conductance matrix is ordered and factorised sparsely (`ordering`, `factor`), and Newton's method meets
//! the laws that are not straight (`engine`). Converters and contacts are settled around that (`attempt`).

mod attempt;
mod branch;
mod check;
mod cluster;
mod contact;
mod converter;
mod curve;
mod engine;
mod extended;
mod factor;
mod finish;
mod island;
mod lanes;
mod ordering;
mod plan;
mod ray;

use self::{
    attempt::Attempt,
    engine::Engine,
    lanes::{Lanes, WIDEST},
    plan::Plan,
};
use super::{ElementId, Network};

pub use self::lanes::Problem;

/// From so many nodes on fewer lanes are walked at once: all of them together do not fit into the caches near the core.
const LARGE: u32 = 10_000;

/// A solved network.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Working {
    /// Voltage of each node against the reference of its island, volt. The reference of an island is its lowest node id.
    pub volts: Vec<f64>,
    /// Current of each element from its `a` to its `b`, ampere. Of several perfect joints or ideal sources side by side
    /// the first carries all: nothing tells how the current divides.
    pub amps: Vec<f64>,
    /// The island of each node, numbered from 0 in the order of their lowest node. Elements that conduct nothing (open,
    /// blocked, reversed, switched off) do not join islands.
    pub island: Vec<u32>,
    /// No node violates Kirchhoff's current law by more than this, ampere.
    pub residual: f64,
    /// Whether each follower's contact is closed.
    pub closed: Vec<bool>,
    /// Whether each converter works; one whose input is too low is off.
    pub running: Vec<bool>,
    /// Current and power loads (converter inputs among them) that ask for something and stand below their cut-off
    /// voltage, in element order. One without any supply is among them: it stands at 0 V.
    pub below_cutoff: Vec<ElementId>,
    /// How many factorisations it took.
    pub rounds: u32,
}

impl Working {
    /// Whether it can be a solution of a network of this size, and so a place to begin from.
    fn is_of(&self, network: &Network) -> bool {
        self.has_size_of(network) && self.volts.iter().chain(&self.amps).all(|figure| figure.is_finite())
    }

    fn has_size_of(&self, network: &Network) -> bool {
        self.volts.len() == network.nodes as usize
            && self.island.len() == self.volts.len()
            && self.amps.len() == network.elements.len()
            && self.closed.len() == network.followers.len()
            && self.running.len() == network.converters.len()
    }
}

/// Why a network has no working point.
#[derive(Clone, Debug, PartialEq)]
pub enum Unsolved {
    /// Ideal sources and perfect joints form a loop whose voltages do not add up; the loop's elements, ascending.
    SourceLoop(Vec<ElementId>),
    /// These loads ask for more than their sources can carry, the heaviest first: each ends below its cut-off voltage
    /// (a converter: below its lowest input voltage, again and again), and would stand above it if they all drew nothing.
    Overdrawn(Vec<ElementId>),
    /// These contacts open and close for ever: indices into [`Network::followers`].
    Chatter(Vec<usize>),
    /// A number of this element is out of range: not finite, negative where it cannot be, a node that does not exist; or
    /// it is a given current that has nowhere to go.
    NotFinite(ElementId),
    /// The search ended without a working point that satisfies Kirchhoff's law; these elements were the furthest from it.
    Unsettled(Vec<ElementId>),
}

impl Unsolved {
    /// The reason as people read it.
    #[must_use]
    pub const fn words(&self) -> &'static str {
        match self {
            Self::Overdrawn(_) => "a load asks for more than its source can carry",
            Self::Chatter(_) => "a relay does not come to rest",
            Self::SourceLoop(_) => "ideal sources stand in a ring that does not cancel",
            Self::Unsettled(_) => "the iteration did not come to rest",
            Self::NotFinite(_) => "the numbers ran out of range",
        }
    }
}

/// Solves networks, and keeps what depends on their shape only for the next one.
///
/// Two networks have the same shape when they have the same number of nodes and their elements join the same nodes in
/// the same order. Laws may differ, as long as the same elements are perfect joints or ideal sources. A network of
/// another shape is solved as well; it only costs a new plan.
#[derive(Clone, Debug, Default)]
pub struct Solver {
    plan: Plan,
    engine: Engine,
    lanes: Lanes,
}

impl Solver {
    /// Plans for the shape of a network.
    #[must_use]
    pub fn new(network: &Network) -> Self {
        let mut solver = Self::default();
        if check::check(network).is_ok() {
            solver.prepare(network);
        }
        solver
    }

    fn prepare(&mut self, network: &Network) {
        if !self.plan.fits(network) {
            *self = Self { plan: Plan::new(network), ..Self::default() };
        }
    }

    /// Solves a network.
    ///
    /// `start` is a neighbouring solution to begin from, of a network of the same shape; contacts begin as they stand
    /// there, and at rest without it.
    ///
    /// # Errors
    /// [`Unsolved`] names what has no working point.
    pub fn solve(&mut self, network: &Network, start: Option<&Working>) -> Result<Working, Unsolved> {
        self.work(network, start, true)
    }

    /// Solves a network, and where loads overdraw their sources gives the collapsed working point instead of the error:
    /// the loads stand below their cut-off as the resistances that they are there.
    ///
    /// # Errors
    /// [`Unsolved`], but never [`Unsolved::Overdrawn`].
    pub fn solve_collapsed(
        &mut self,
        network: &Network,
        start: Option<&Working>,
    ) -> Result<Working, Unsolved> {
        self.work(network, start, false)
    }

    /// Solves several variants side by side, each as [`Self::solve`] would. It is quick for variants of one shape.
    ///
    /// # Errors
    /// [`Unsolved`] for each that has no working point.
    pub fn solve_all(&mut self, problems: &[Problem<'_>]) -> Vec<Result<Working, Unsolved>> {
        let is_large = problems.first().is_some_and(|problem| problem.variant.network.nodes > LARGE);
        let width = if is_large { WIDEST / 2 } else { WIDEST };
        problems.chunks(width).flat_map(|chunk| self.solve_chunk(chunk)).collect()
    }

    fn solve_chunk(&mut self, problems: &[Problem<'_>]) -> Vec<Result<Working, Unsolved>> {
        // One alone gains nothing side by side, and usually stands far from what is known.
        let answers = if problems.len() > 1 && self.suits_lanes(problems) {
            self.lanes.solve(&self.plan, problems)
        } else {
            vec![None; problems.len()]
        };
        let careful = |(answer, problem): (Option<Working>, &Problem<'_>)| {
            answer.map_or_else(|| self.solve(&problem.variant.network(), problem.after), Ok)
        };
        answers.into_iter().zip(problems).map(careful).collect()
    }

    /// Whether the networks are sound, of one shape, and begin from solutions of that shape. Prepares their plan.
    fn suits_lanes(&mut self, problems: &[Problem<'_>]) -> bool {
        if self.lanes.are_laid(problems) {
            return problems.iter().all(Problem::is_sound);
        }
        let mut checked: Option<&Network> = None;
        for problem in problems {
            let network = problem.variant.network;
            if !problem.is_sound() {
                return false;
            }
            if checked.is_some_and(|known| std::ptr::eq(known, &**network)) {
                continue;
            }
            if check::check(network).is_err() {
                return false;
            }
            if checked.is_none() {
                self.prepare(network);
            }
            if !self.plan.fits(network) {
                return false;
            }
            checked = Some(network);
        }
        true
    }

    fn work(
        &mut self,
        network: &Network,
        start: Option<&Working>,
        strict: bool,
    ) -> Result<Working, Unsolved> {
        check::check(network)?;
        self.prepare(network);
        let offsets = self.plan.clusters.offsets(&network.elements)?;
        let mut attempt = Attempt::new(network, &self.plan, &mut self.engine, &offsets, start);
        attempt.run()?;
        let working = finish::finish(&attempt, &offsets);
        let overdrawn = if strict { attempt.overdrawn() } else { Vec::new() };
        if overdrawn.is_empty() { Ok(working) } else { Err(Unsolved::Overdrawn(overdrawn)) }
    }
}

/// Solves a network once; see [`Solver::solve`].
///
/// # Errors
/// [`Unsolved`] names what has no working point.
pub fn solve(network: &Network, start: Option<&Working>) -> Result<Working, Unsolved> {
    Solver::default().solve(network, start)
}
