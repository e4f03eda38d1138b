//! Solving modes one after the other, with the drivers' plans and the contacts' history.

use std::sync::Arc;

use wattle_grammar::quantity::Share;

use super::Point;
use crate::{
    design::{Design, Level, Mode, ModeId, State},
    network::{ElementId, Network, Solver, Unsolved, Working},
    topology::{Charge, Topology},
    unfold::{
        Further, Skeleton, ThirdLeads,
        plan::{Plan, Seen},
    },
};

/// Plans of the drivers that are tried before a mode counts as going round in circles.
const MOST_PLANS: usize = 8;

/// Every mode at every state of charge, in design order.
pub(super) fn points(design: &Design, topology: &Topology, skeleton: &Skeleton) -> Vec<Point> {
    let mut bench = Bench::new(design, topology, skeleton);
    let run = run_mode(design).map_or_else(Vec::new, |(id, mode)| bench.points_from_rest(id, mode));
    let mut points = Vec::with_capacity(design.modes.len() * 3);
    for (id, mode) in (0u32..).map(ModeId).zip(&design.modes) {
        if run.first().is_some_and(|point| point.mode == id) {
            points.extend(run.iter().cloned());
            continue;
        }
        if is_pushed(mode) && !run.is_empty() {
            points
                .extend(Charge::ALL.map(|charge| bench.point_after(id, mode, charge, before(&run, charge))));
        } else {
            points.extend(bench.points_from_rest(id, mode));
        }
    }
    points
}

/// The mode that pushing and losses of power begin from.
pub(super) fn run_mode(design: &Design) -> Option<(ModeId, &Mode)> {
    (0u32..).map(ModeId).zip(&design.modes).find(|(_, mode)| mode.name == "run")
}

/// The solution of `run` that stands for what was before: at the same charge, else at the first one that has one.
pub(super) fn before(run: &[Point], charge: Charge) -> Option<&Working> {
    let same = run.iter().find(|point| point.charge == charge).and_then(Point::working);
    same.or_else(|| run.iter().find_map(Point::working))
}

fn is_pushed(mode: &Mode) -> bool {
    mode.states.contains(&State::Turned)
}

fn is_ordinary(mode: &Mode) -> bool {
    !mode.states.iter().any(|state| matches!(state, State::Turned | State::Draws(Level::Stall)))
}

/// A network as it stood, and its solution or why there is none.
type Settled = (Network, Result<Working, Unsolved>);

/// A robot on the bench: one solver for all its modes.
#[derive(Clone, Debug)]
pub(super) struct Bench<'a> {
    design: &'a Design,
    topology: &'a Topology,
    skeleton: &'a Skeleton,
    solver: Solver,
    element_of: Arc<[Option<ElementId>]>,
    further: Arc<[Further]>,
    third_leads: Arc<ThirdLeads>,
}

impl<'a> Bench<'a> {
    pub(super) fn new(design: &'a Design, topology: &'a Topology, skeleton: &'a Skeleton) -> Self {
        Self {
            design,
            topology,
            skeleton,
            solver: Solver::default(),
            element_of: skeleton.element_of().into(),
            further: skeleton.further().into(),
            third_leads: Arc::new(skeleton.third_leads().clone()),
        }
    }

    /// The points of a mode: every contact at rest with full packs, then as the packs run down, each state of charge
    /// beginning where the one before it ended.
    fn points_from_rest(&mut self, id: ModeId, mode: &Mode) -> Vec<Point> {
        let mut points: Vec<Point> = Vec::new();
        for charge in Charge::ALL {
            let point = self.point_after(id, mode, charge, points.last().and_then(Point::working));
            points.push(point);
        }
        points
    }

    /// The point of a mode that begins with the contacts of an earlier solution, at rest without one.
    pub(super) fn point_after(
        &mut self,
        id: ModeId,
        mode: &Mode,
        charge: Charge,
        before: Option<&Working>,
    ) -> Point {
        let network = self.skeleton.network(self.design, self.topology, &mode.states, charge);
        let settled = self.solve(network, &mode.states, before);
        self.point(id, mode, charge, settled)
    }

    fn point(&self, id: ModeId, mode: &Mode, charge: Charge, settled: Settled) -> Point {
        let (network, outcome) = settled;
        Point {
            mode: id,
            charge,
            duty: mode.duty.max(Share(0.0)).min(Share(1.0)),
            ordinary: is_ordinary(mode),
            network,
            element_of: self.element_of.clone(),
            further: self.further.clone(),
            third_leads: self.third_leads.clone(),
            outcome,
        }
    }

    /// Solves first with nothing driving, which tells which drivers have power, then with the drivers driving until
    /// their plans stand still.
    fn solve(&mut self, network: Network, states: &[State], start: Option<&Working>) -> Settled {
        let outcome = self.solver.solve(&network, start);
        if !Seen::commands_motors(self.design, self.skeleton, states) {
            return (network, outcome);
        }
        match self.even_if_overdrawn(&network, &outcome, start) {
            Some(idle) => self.drive(network, states, &idle, outcome),
            None => (network, outcome),
        }
    }

    /// A solution to plan by: the outcome's, or the collapsed one when loads overdraw their sources.
    fn even_if_overdrawn(
        &mut self,
        network: &Network,
        outcome: &Result<Working, Unsolved>,
        start: Option<&Working>,
    ) -> Option<Working> {
        match outcome {
            Ok(working) => Some(working.clone()),
            Err(Unsolved::Overdrawn(_)) => self.solver.solve_collapsed(network, start).ok(),
            Err(_) => None,
        }
    }

    /// Lets the drivers drive until their plans stand still. Contacts that switch with the plans for ever chatter.
    fn drive(
        &mut self,
        network: Network,
        states: &[State],
        idle: &Working,
        outcome: Result<Working, Unsolved>,
    ) -> Settled {
        let mut plan = self.plan(&network, states, (idle, idle), &Plan::default());
        let mut settled = (network.clone(), outcome);
        if plan.is_empty() {
            return settled;
        }
        let mut now = idle.clone();
        let mut moving = Vec::new();
        for _ in 0..MOST_PLANS {
            let mut driven = network.clone();
            self.skeleton.drives().apply(&plan, &mut driven);
            let outcome = self.solver.solve(&driven, Some(&now));
            let working = self.even_if_overdrawn(&driven, &outcome, Some(&now));
            settled = (driven, outcome);
            let Some(working) = working else { return settled };
            let next = self.plan(&network, states, (idle, &working), &plan);
            if next == plan {
                return settled;
            }
            moving = differing(&now.closed, &working.closed);
            plan = next;
            now = working;
        }
        if moving.is_empty() { settled } else { (settled.0, Err(Unsolved::Chatter(moving))) }
    }

    fn plan(
        &self,
        network: &Network,
        states: &[State],
        (idle, now): (&Working, &Working),
        earlier: &Plan,
    ) -> Plan {
        let Self { design, topology, skeleton, .. } = *self;
        Plan::new(&Seen { design, topology, skeleton, states, network, idle, now }, earlier)
    }
}

/// The positions at which two lists differ.
fn differing(first: &[bool], second: &[bool]) -> Vec<usize> {
    let pairs = first.iter().zip(second).enumerate();
    pairs.filter(|(_, (one, other))| one != other).map(|(at, _)| at).collect()
}
