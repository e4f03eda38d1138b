//! The search of all lanes: Newton steps, with converters that follow and contacts that switch on the way.

use super::{
    Lane, Problem,
    factor::Factor,
    field::{Balance, Field},
    laid::Laid,
};
use crate::network::{
    Converter, ElementId, Law,
    solve::{
        Working,
        attempt::{STILL, resume},
        contact::{self, Contacts, Move},
        converter::{Drive, Terminals},
        curve::Curve,
        engine::{FAINT, NOTHING, REFINING, RUNAWAY, SETTLED, TOLERATED},
        plan::Plan,
    },
};

/// Steps before the lanes that have not come to rest are given up.
const MOST_STEPS: u32 = 40;

/// Relative change of a slope that is worth a new factorisation: with an older one each step still leaves less than this
/// share of what was left over.
const CHORD: f64 = 1e-3;

/// Where a lane stands.
#[derive(Clone, Debug)]
pub(super) struct State {
    pub(super) contacts: Contacts,
    pub(super) drives: Vec<Drive>,
    converters: Vec<Converter>,
    /// How the converters' elements were laid last.
    set: Vec<Set>,
    /// Converters that have started in the last step: their outputs hold without limit for one step, which finds their rail.
    fresh: Vec<bool>,
    pub(super) phase: Phase,
    last: f64,
    slow: u32,
}

/// How a converter's elements were laid last; none: as its network has them.
#[derive(Clone, Copy, Debug, Default)]
struct Set {
    /// What its input asks for.
    input: Option<f64>,
    /// What its output gives, and whether without limit.
    output: Option<(Option<f64>, bool)>,
}

/// How far a lane is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Phase {
    /// Under way.
    Moving,
    /// At rest: an answer.
    Settled,
    /// In need of the careful search.
    Lost,
}

/// Room for the search.
#[derive(Clone, Debug)]
pub(super) struct Search<const W: usize> {
    pub(super) field: Field<W>,
    factor: Factor<W>,
    /// The slopes that the factor was made of; empty when it must be made anew.
    factored: Vec<Lane<W>>,
    step: Vec<Lane<W>>,
    pub(super) states: Vec<State>,
    pub(super) stable: [bool; W],
    pub(super) balance: Balance<W>,
    pub(super) rounds: u32,
    /// What the field is laid with, for each lane.
    pub(super) laid: Vec<Laid>,
}

impl<const W: usize> Search<W> {
    /// Whether the problems are laid, but for numbers that are quickly changed.
    pub(super) fn is_laid(&self, problems: &[Problem<'_>]) -> bool {
        self.laid.len() == problems.len()
            && self.laid.iter().zip(problems).all(|(laid, problem)| laid.is_of(&problem.variant))
    }

    /// Solves up to `W` problems. `None` for one that needs the careful search.
    pub(super) fn solve(&mut self, plan: &Plan, problems: &[Problem<'_>]) -> Vec<Option<Working>> {
        self.begin(plan, problems);
        self.run(plan, problems);
        self.answers(problems)
    }

    /// Lays the problems out, as far as they are not.
    fn begin(&mut self, plan: &Plan, problems: &[Problem<'_>]) {
        if self.laid.len() == problems.len() {
            for (lane, (laid, problem)) in self.laid.iter_mut().zip(problems).enumerate() {
                laid.follow(&problem.variant, lane, &mut self.field);
            }
        } else {
            self.field.lay(plan, problems);
            self.laid = problems.iter().map(|problem| Laid::new(&problem.variant)).collect();
        }
        self.field.stand(plan, problems);
        self.factored.clear();
        self.step.clear();
        self.rounds = 0;
        self.states.clear();
        for (lane, problem) in problems.iter().enumerate().take(W) {
            self.states.push(State::new(problem));
            self.set_contacts(problem, lane);
        }
    }

    /// Searches until every lane is at rest or lost.
    fn run(&mut self, plan: &Plan, problems: &[Problem<'_>]) {
        let mut guessing: [bool; W] =
            std::array::from_fn(|lane| problems.get(lane).is_none_or(|one| one.near.is_none()));
        for round in 0..MOST_STEPS {
            self.set_drives(problems);
            let balance = self.field.evaluate(plan, &guessing, FAINT);
            self.balance = balance;
            for lane in (0..self.states.len()).filter(|lane| !guessing[*lane]) {
                self.look(problems, lane, &balance);
            }
            // The first guess moves everything by whole volts, the second one takes out what was rounded on the way.
            if round > 0 {
                guessing = [false; W];
            }
            if self.states.iter().all(|state| state.phase != Phase::Moving) {
                return;
            }
            self.advance(plan, &balance);
        }
        self.states.iter_mut().filter(|state| state.phase == Phase::Moving).for_each(State::lose);
    }

    /// Lets a lane's converters follow, and its contacts once all else is at rest.
    fn look(&mut self, problems: &[Problem<'_>], lane: usize, balance: &Balance<W>) {
        let Some(problem) = problems.get(lane) else { return };
        let state = &mut self.states[lane];
        if state.phase != Phase::Moving {
            return;
        }
        if !balance.finite[lane] || balance.largest[lane] > RUNAWAY {
            return state.lose();
        }
        let nothing = NOTHING * self.field.prospective()[lane];
        let is_balanced = state.is_balanced(lane, balance, nothing);
        let change = state.follow(&self.field, lane);
        if state.drives.iter().any(Drive::has_tripped) {
            return state.lose();
        }
        if !(is_balanced && change <= STILL) {
            return;
        }
        let (field, coils) = (&self.field, problem.variant.coils);
        let volts = |contact: usize, coil: ElementId| {
            field.volts(coil.0 as usize, lane) / coils.get(contact).copied().unwrap_or(1.0)
        };
        match state.contacts.follow(&problem.variant.network.followers, volts) {
            Move::Still => state.phase = Phase::Settled,
            // What balances all the same after that is at rest: what was switched carries nothing.
            Move::Switched => self.set_contacts(problem, lane),
            Move::Chatter(_) => state.lose(),
        }
    }

    fn set_contacts(&mut self, problem: &Problem<'_>, lane: usize) {
        let Some(state) = self.states.get(lane) else { return };
        for (follower, &closed) in problem.variant.network.followers.iter().zip(&state.contacts.closed) {
            let curve = match contact::law(follower, closed) {
                Law::Open => Curve::OPEN,
                law => Curve::new(&law),
            };
            self.field.set(follower.contact.0 as usize, lane, curve, 0.0);
        }
        self.factored.clear();
    }

    fn set_drives(&mut self, problems: &[Problem<'_>]) {
        let field = &mut self.field;
        for (lane, (state, problem)) in self.states.iter_mut().zip(problems).enumerate() {
            if state.phase == Phase::Moving {
                state.set_drives(problem, |element, law| field.set_law(element, lane, law));
            }
        }
    }

    /// Whether each lane stays as it is: at rest, lost, or none.
    fn stays(&self) -> [bool; W] {
        std::array::from_fn(|lane| self.states.get(lane).is_none_or(|one| one.phase != Phase::Moving))
    }

    /// One step of every lane that is under way. One at rest would only be moved by rounding, with an old factor.
    fn advance(&mut self, plan: &Plan, balance: &Balance<W>) {
        if self.slopes_have_changed() {
            self.factorise(plan);
        }
        let elimination = &plan.elimination;
        self.step.resize(elimination.len(), [0.0; W]);
        self.field.lacking(&self.stays(), &mut self.step);
        let astray = self.factor.solve(elimination, self.field.awake(), &mut self.step);
        let prospective = self.field.prospective();
        for (lane, state) in self.states.iter_mut().enumerate() {
            let least = (TOLERATED * balance.largest[lane]).max(NOTHING * prospective[lane]);
            if astray[lane] > least {
                state.lose();
            }
        }
        self.field.advance(&self.step);
    }

    /// Whether any lane that is under way needs a new factor.
    fn slopes_have_changed(&self) -> bool {
        let slopes = self.field.bent_slopes();
        let chord = self.stays().map(|stays| if stays { f64::INFINITY } else { CHORD });
        let has_changed = |(slope, old): (&Lane<W>, &Lane<W>)| {
            let mut changed = false;
            for lane in 0..W {
                changed |= (slope[lane] - old[lane]).abs() > chord[lane] * old[lane].abs();
            }
            changed
        };
        self.factored.len() != slopes.len() + 1 || slopes.zip(self.factored.iter().skip(1)).any(has_changed)
    }

    fn factorise(&mut self, plan: &Plan) {
        self.factored.clear();
        // The first entry says that there is a factor, even of a network in which nothing is bent.
        self.factored.push([0.0; W]);
        self.factored.extend(self.field.bent_slopes());
        self.factor.clear(&plan.elimination);
        for (slot, slope) in self.field.slopes() {
            self.factor.add(slot, slope);
        }
        self.stable = self.factor.factorise(&plan.elimination, self.field.awake());
        self.rounds += 1;
    }
}

impl<const W: usize> Default for Search<W> {
    fn default() -> Self {
        Self {
            field: Field::default(),
            factor: Factor::default(),
            factored: Vec::new(),
            step: Vec::new(),
            states: Vec::new(),
            stable: [false; W],
            balance: Balance::NONE,
            rounds: 0,
            laid: Vec::new(),
        }
    }
}

impl State {
    fn new(problem: &Problem<'_>) -> Self {
        let network = problem.variant.network;
        let numbered = network.converters.iter().enumerate();
        let converters: Vec<Converter> =
            numbered.map(|(number, converter)| problem.variant.converter(number, converter)).collect();
        let drives = match problem.near.or(problem.after) {
            Some(near) => resume(network, &converters, near),
            None => vec![Drive::default(); converters.len()],
        };
        let at_rest =
            || network.followers.iter().map(|one| one.normally_closed != one.begins_operated).collect();
        let closed = problem.after.map_or_else(at_rest, |after| after.closed.clone());
        Self {
            contacts: Contacts::new(closed),
            fresh: vec![false; drives.len()],
            set: vec![Set::default(); drives.len()],
            drives,
            converters,
            phase: Phase::Moving,
            last: f64::INFINITY,
            slow: 0,
        }
    }

    fn lose(&mut self) {
        self.phase = Phase::Lost;
    }

    /// Gives the elements of converters that have changed their laws.
    fn set_drives(&mut self, problem: &Problem<'_>, mut set_law: impl FnMut(usize, &Law)) {
        let law = |id: ElementId| problem.variant.network.elements[id.0 as usize].law;
        let drives = self.converters.iter().zip(&self.drives).zip(&self.fresh).zip(&mut self.set);
        for (((converter, drive), fresh), set) in drives {
            let (input, output) = (Some(drive.asked), Some((drive.output(), *fresh)));
            if set.input != input {
                set_law(converter.input.0 as usize, &drive.input_law(converter, law(converter.input)));
            }
            if set.output != output {
                let output = match drive.output_law(law(converter.output)) {
                    Law::LimitedSource { emf, resistance, .. } if *fresh => Law::Source { emf, resistance },
                    law => law,
                };
                set_law(converter.output.0 as usize, &output);
            }
            *set = Set { input, output };
        }
    }

    /// Whether Kirchhoff's current law holds; see [`crate::network::solve::engine`].
    fn is_balanced<const W: usize>(&mut self, lane: usize, balance: &Balance<W>, nothing: f64) -> bool {
        let (worst, left_over) = (balance.worst[lane], balance.left_over[lane]);
        let refined = worst <= SETTLED && self.last <= REFINING || left_over <= nothing;
        self.slow = if worst > 0.5 * self.last { self.slow + 1 } else { 0 };
        self.last = worst;
        refined || self.slow >= 2 && left_over <= TOLERATED * balance.largest[lane]
    }

    /// Lets the converters follow what they see. Returns the largest relative change.
    fn follow<const W: usize>(&mut self, field: &Field<W>, lane: usize) -> f64 {
        let mut most = 0.0f64;
        for ((converter, drive), fresh) in self.converters.iter().zip(&mut self.drives).zip(&mut self.fresh) {
            let (input, output) = (converter.input.0 as usize, converter.output.0 as usize);
            let seen = Terminals {
                input_volts: field.volts(input, lane),
                output_volts: field.volts(output, lane),
                output_amps: -field.amps(output, lane),
            };
            let was_running = drive.running;
            most = most.max(drive.follow(converter, seen, 1.0));
            *fresh = drive.running && !was_running;
        }
        most
    }
}
