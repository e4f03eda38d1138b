//! Changed modes: what happens when something is opened, removed or turned while contacts stand as they did.

use wattle_grammar::kind::KindId;

use std::sync::Arc;

use super::{Corner, Figures, Point, settle, settle::Job};
use crate::{
    design::{Design, Level, MateId, Mode, ModeId, State, ThingId},
    network::{Unsolved, Working},
    topology::{Charge, Topology},
};

/// What is lost from one moment to the next.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Lost {
    /// A switch, stop, breaker or fuse that opens; a battery or other source that is taken away; a connector half that is
    /// unplugged.
    Thing(ThingId),
    /// A mated pair that is parted.
    Mate(MateId),
}

/// A bench for changed modes; keeps the solver's plan from one trial to the next.
#[derive(Clone, Debug)]
pub struct Trials<'a> {
    design: &'a Design,
    figures: &'a Figures,
    bench: settle::Bench<'a>,
}

impl Figures {
    /// A bench for changed modes of the robot that the figures are of.
    #[must_use]
    pub fn trials<'a>(&'a self, design: &'a Design, topology: &'a Topology) -> Trials<'a> {
        Trials { design, figures: self, bench: settle::Bench::new(design, topology, &self.skeleton) }
    }
}

impl Trials<'_> {
    /// Solves a mode as it is after another state: contacts begin as they stood in `before` (at rest when that has no
    /// solution). The point carries the id `id`, the mode that was changed.
    pub fn after(&mut self, before: &Point, id: ModeId, changed: &Mode, charge: Charge) -> Point {
        self.point(id, changed, charge, before.working())
    }

    /// The robot at the moment after power is lost: contacts begin as in mode `run` at `charge`, `lost` is opened or
    /// taken away, the motors `turned` are turned from outside, no other motor is driven, every other load idles, and
    /// everything else stands as in `run`. Loads that ask for more than is left draw nothing. `None` when the robot has no mode `run`.
    ///
    /// The point carries the id of `run`.
    pub fn power_lost(&mut self, lost: &[Lost], turned: &[ThingId], charge: Charge) -> Option<Point> {
        let (id, changed) = self.changed(lost, turned)?;
        let run = self.figures.points_of(id);
        Some(self.even_if_overdrawn(id, changed, charge, settle::before(run, Corner::of(charge))))
    }

    /// The robot pushed after it has come to rest without power: `lost` is opened or taken away first, the contacts settle,
    /// and only then are the motors `turned`. `None` when the robot has no mode `run`.
    pub fn pushed_from_rest(&mut self, lost: &[Lost], turned: &[ThingId], charge: Charge) -> Option<Point> {
        let resting = self.power_lost(lost, &[], charge)?;
        let (id, changed) = self.changed(lost, turned)?;
        Some(self.even_if_overdrawn(id, changed, charge, resting.working()))
    }

    /// Solves a changed mode; where its loads ask for more than is left, as it is between their attempts to start: with
    /// none of them drawing, so at the highest voltage that comes about.
    fn even_if_overdrawn(
        &mut self,
        id: ModeId,
        changed: Mode,
        charge: Charge,
        before: Option<&Working>,
    ) -> Point {
        let point = self.point(id, &changed, charge, before);
        if !matches!(point.outcome, Err(Unsolved::Overdrawn(_) | Unsolved::Unsettled(_))) {
            return point;
        }
        let mut unloaded = changed;
        let drawing = unloaded.states.iter_mut().filter(|state| matches!(state, State::Draws(_)));
        drawing.for_each(|state| *state = State::Open);
        self.point(id, &unloaded, charge, before)
    }

    /// Solves a mode at the plain corner of a charge, after another state.
    fn point(&mut self, mode: ModeId, changed: &Mode, charge: Charge, after: Option<&Working>) -> Point {
        let (rest, corner) = (Arc::new(self.bench.rest(&changed.states)), Corner::of(charge));
        let job = Job { mode, corner, states: &changed.states, rest, after, near: after, idle: None };
        self.bench.point_at(&job, changed)
    }

    /// Mode `run` with everything idling, `lost` open and the motors `turned` turned from outside.
    fn changed(&self, lost: &[Lost], turned: &[ThingId]) -> Option<(ModeId, Mode)> {
        let (id, run) = settle::run_mode(self.design)?;
        let mut changed = run.clone();
        let idle = self.design.things().zip(&mut changed.states);
        idle.for_each(|((_, thing), state)| *state = idling(thing.id(), *state));
        for lost in lost {
            set(&mut changed.states, self.opened(*lost), State::Open);
        }
        for motor in turned {
            set(&mut changed.states, Some(*motor), State::Turned);
        }
        Some((id, changed))
    }

    /// The thing whose state says that something is lost; a parted pair is open at its first half.
    fn opened(&self, lost: Lost) -> Option<ThingId> {
        match lost {
            Lost::Thing(thing) => Some(thing),
            Lost::Mate(mate) => self.design.mates.get(mate.index()).map(|mate| mate.first.0),
        }
    }
}

/// What is left of a state when nothing is commanded any more.
fn idling(kind: KindId, state: State) -> State {
    match state {
        State::Draws(_) if kind == KindId::Motor => State::Draws(Level::Off),
        State::Draws(_) => State::Draws(Level::Idle),
        State::Turned => State::Draws(Level::Off),
        State::Plain | State::Closed | State::Open | State::Held => state,
    }
}

fn set(states: &mut [State], thing: Option<ThingId>, state: State) {
    if let Some(place) = thing.and_then(|thing| states.get_mut(thing.index())) {
        *place = state;
    }
}
