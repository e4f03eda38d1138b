//! Solving modes at their corners, with the drivers' plans and the contacts' history.

use std::{collections::BTreeMap, sync::Arc};

use wattle_grammar::quantity::Share;

use super::{Corner, Point, Setting, Warmth, warmth::Temperatures};
use crate::{
    design::{Design, Level, Mode, ModeId, State},
    network::{ElementId, Network, Problem, Solver, Unsolved, Variant, Working},
    topology::{Charge, Topology},
    unfold::{
        Further, Skeleton, ThirdLeads,
        plan::{Hitched, Plan, Seen},
    },
};

/// Plans of the drivers that are tried before a mode counts as going round in circles.
const MOST_PLANS: usize = 8;

/// Every mode at every corner, in design order; and how warm the wires are at the hot corners.
pub(super) fn points(
    design: &Design,
    topology: &Topology,
    skeleton: &Skeleton,
) -> (Vec<Point>, Temperatures) {
    let mut bench = Bench::new(design, topology, skeleton);
    let rests: Vec<Arc<Network>> =
        design.modes.iter().map(|mode| Arc::new(bench.rest(&mode.states))).collect();
    let mut found = Found { points: vec![Vec::new(); design.modes.len()], idle: BTreeMap::new() };
    found.solve(&mut bench, &rests, Warmth::Cold);
    let temperatures = Temperatures::new(design, &found.points);
    bench.factors = (0u32..)
        .map(ModeId)
        .zip(&design.modes)
        .map(|(mode, _)| temperatures.factors(design, skeleton, mode).into())
        .collect();
    found.solve(&mut bench, &rests, Warmth::Hot);
    (found.points.into_iter().flatten().collect(), temperatures)
}

/// The points so far: of each mode in the order of [`Corner::all`].
struct Found {
    points: Vec<Vec<Point>>,
    /// The solutions with nothing driving, of the modes in which something drives, by mode and corner.
    idle: BTreeMap<(ModeId, usize), Arc<Working>>,
}

impl Found {
    /// Adds the points of all modes for one warmth, as packs run down. A relay stays as it was between its two voltages,
    /// so each charge begins where the one before it ended; what is pushed begins as mode `run` stands, at all charges at once.
    fn solve(&mut self, bench: &mut Bench<'_>, rests: &[Arc<Network>], conductors: Warmth) {
        let design = bench.design;
        let (mut by_setting, run) = ([const { Vec::new() }; 2], run_mode(design).map(|(id, _)| id));
        let waits = |mode: &Mode| run.is_some() && is_pushed(mode);
        let lasting: Vec<ModeId> = ids(design, |mode| !waits(mode));
        for charge in Charge::ALL {
            self.solve_charges(bench, rests, &lasting, (&[charge], conductors), &mut by_setting);
        }
        let pushed: Vec<ModeId> = ids(design, waits);
        self.solve_charges(bench, rests, &pushed, (&Charge::ALL, conductors), &mut by_setting);
        for points in by_setting {
            for point in points {
                if let Some(of_mode) = self.points.get_mut(point.mode.index()) {
                    of_mode.push(point);
                }
            }
        }
    }

    /// Solves some modes at some charges with the regulators low and high, all at once; adds them to what was found for
    /// each setting.
    fn solve_charges(
        &mut self,
        bench: &mut Bench<'_>,
        rests: &[Arc<Network>],
        modes: &[ModeId],
        (charges, conductors): (&[Charge], Warmth),
        found: &mut [Vec<Point>; 2],
    ) {
        let corner = |charge| Setting::ALL.map(|regulators| Corner { charge, regulators, conductors });
        let corners: Vec<Corner> = charges.iter().copied().flat_map(corner).collect();
        let pairs = modes.iter().flat_map(|mode| corners.iter().map(|corner| (*mode, *corner)));
        let jobs: Vec<Job<'_>> = pairs
            .filter_map(|(mode, corner)| {
                let known = &found[corner.regulators as usize];
                let (after, near) = self.beginning(bench.design, known, mode, corner);
                let idle = self.idle_near(mode, corner);
                let states = &bench.design.modes.get(mode.index())?.states;
                Some(Job { mode, corner, states, rest: rests.get(mode.index())?.clone(), after, near, idle })
            })
            .collect();
        let (settled, idle) = bench.settle(&jobs);
        let idle: Vec<_> = idle
            .into_iter()
            .map(|(at, working)| ((jobs[at].mode, jobs[at].corner.index()), working))
            .collect();
        let new: Vec<Point> =
            jobs.iter().zip(settled).map(|(job, settled)| bench.point(job, settled)).collect();
        self.idle.extend(idle);
        for point in new {
            found[point.corner.regulators as usize].push(point);
        }
    }

    /// A solution with nothing driving that is likely to be near: of the same corner cold, else of the charge before.
    fn idle_near(&self, mode: ModeId, corner: Corner) -> Option<&Working> {
        let cold = Corner { conductors: Warmth::Cold, ..corner };
        let fuller = corner.index().checked_sub(1).filter(|_| corner.charge != Charge::Full);
        let of = |corner: usize| self.idle.get(&(mode, corner)).map(|working| &**working);
        of(cold.index()).filter(|_| cold != corner).or_else(|| of(fuller?))
    }

    /// What a corner of a mode begins with: the state before, and a solution that is likely to be near.
    fn beginning<'a>(
        &'a self,
        design: &Design,
        known: &'a [Point],
        mode: ModeId,
        corner: Corner,
    ) -> (Option<&'a Working>, Option<&'a Working>) {
        let of = |wanted: ModeId| known.iter().filter(move |point| point.mode == wanted);
        let cold = Corner { conductors: Warmth::Cold, ..corner };
        let near = self.points.get(mode.index()).and_then(|points| points.get(cold.index()));
        let near = near.filter(|point| point.corner == cold && corner != cold).and_then(Point::working);
        let run = run_mode(design).filter(|_| design.modes.get(mode.index()).is_some_and(is_pushed));
        let after = match run {
            Some((run, _)) => {
                let same =
                    of(run).find(|point| point.corner.charge == corner.charge).and_then(Point::working);
                same.or_else(|| of(run).find_map(Point::working))
            }
            // What has pulled in cold stays in while it warms; whether it would pull in warm is another question.
            None => of(mode).next_back().and_then(Point::working).or(near),
        };
        let last = of(mode).next_back().and_then(Point::working);
        (after, near.or(last))
    }
}

fn ids(design: &Design, wanted: impl Fn(&Mode) -> bool) -> Vec<ModeId> {
    (0u32..).map(ModeId).zip(&design.modes).filter(|(_, mode)| wanted(mode)).map(|(id, _)| id).collect()
}

/// The mode that pushing and losses of power begin from.
pub(super) fn run_mode(design: &Design) -> Option<(ModeId, &Mode)> {
    (0u32..).map(ModeId).zip(&design.modes).find(|(_, mode)| mode.name == "run")
}

/// The solution of `run` that stands for what was before: at the same charge, else at the first one that has one.
pub(super) fn before(run: &[Point], corner: Corner) -> Option<&Working> {
    let same = run.iter().find(|point| point.corner == corner).and_then(Point::working);
    same.or_else(|| run.iter().find_map(Point::working))
}

fn is_pushed(mode: &Mode) -> bool {
    mode.states.contains(&State::Turned)
}

fn is_ordinary(mode: &Mode) -> bool {
    !mode.states.iter().any(|state| matches!(state, State::Turned | State::Draws(Level::Stall)))
}

/// A mode to be solved at a corner.
pub(super) struct Job<'a> {
    /// The mode whose id the point carries.
    pub(super) mode: ModeId,
    pub(super) corner: Corner,
    /// The state of each thing.
    pub(super) states: &'a [State],
    /// The network of these states with no driver driving.
    pub(super) rest: Arc<Network>,
    /// The state before.
    pub(super) after: Option<&'a Working>,
    /// A solution that is likely to be near.
    pub(super) near: Option<&'a Working>,
    /// The same for the solution with nothing driving, where something drives.
    pub(super) idle: Option<&'a Working>,
}

/// A network as it stood, and its solution or why there is none.
type Settled = (Arc<Network>, Outcome);

/// A solution, or why there is none.
type Outcome = Result<Arc<Working>, Unsolved>;

/// The plan of drivers that was applied last to a network, and what came of it.
type Applied = (Arc<Network>, Plan, Arc<Network>);

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
    /// The factors on resistances at the hot corners, by mode.
    factors: Vec<Arc<[f64]>>,
    /// The plan that was applied last for each mode and setting: at another charge it is often the same.
    applied: BTreeMap<(ModeId, usize), Applied>,
    /// Which motors hang on which channels in a mode's network, as contacts stood last.
    hitched: BTreeMap<ModeId, (Arc<Network>, Vec<bool>, Hitched)>,
}

/// A job whose drivers drive.
struct Driving {
    job: usize,
    idle: Arc<Working>,
    now: Arc<Working>,
    plan: Plan,
    moving: Vec<usize>,
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
            factors: Vec::new(),
            applied: BTreeMap::new(),
            hitched: BTreeMap::new(),
        }
    }

    /// The network of a mode while no driver drives.
    pub(super) fn rest(&self, states: &[State]) -> Network {
        self.skeleton.network(self.design, self.topology, states, Charge::Full)
    }

    /// The point of one mode at a corner.
    pub(super) fn point_at(&mut self, job: &Job<'_>, mode: &Mode) -> Point {
        let settled = self.settle(std::slice::from_ref(job)).0.pop();
        let nothing = || (job.rest.clone(), Err(Unsolved::Unsettled(Vec::new())));
        self.point_of(job, mode, settled.unwrap_or_else(nothing))
    }

    fn point(&self, job: &Job<'_>, settled: Settled) -> Point {
        self.point_of(job, &self.design.modes[job.mode.index()], settled)
    }

    fn point_of(&self, job: &Job<'_>, mode: &Mode, settled: Settled) -> Point {
        let (network, outcome) = settled;
        Point {
            mode: job.mode,
            corner: job.corner,
            duty: mode.duty.max(Share(0.0)).min(Share(1.0)),
            ordinary: is_ordinary(mode),
            pushed: is_pushed(mode),
            network,
            element_of: self.element_of.clone(),
            further: self.further.clone(),
            third_leads: self.third_leads.clone(),
            outcome,
        }
    }

    /// Solves first with nothing driving, which tells which drivers have power, then with the drivers driving until
    /// their plans stand still. The second list has the solutions with nothing driving, by job.
    fn settle(&mut self, jobs: &[Job<'_>]) -> (Vec<Settled>, Vec<(usize, Arc<Working>)>) {
        // What is near with drivers driving is not near without.
        let drives = |job: &Job<'_>| Seen::commands_motors(self.design, self.skeleton, job.states);
        let drives: Vec<bool> = jobs.iter().map(drives).collect();
        let problems = jobs.iter().zip(&drives);
        let idle = self.solve(
            problems
                .map(|(job, drives)| (job, &job.rest, job.after, if *drives { job.idle } else { job.near })),
        );
        let mut settled: Vec<Settled> = jobs.iter().map(|job| job.rest.clone()).zip(idle).collect();
        let (mut driving, mut idles): (Vec<Driving>, Vec<(usize, Arc<Working>)>) = (Vec::new(), Vec::new());
        for (at, job) in jobs.iter().enumerate().filter(|(at, _)| drives.get(*at) == Some(&true)) {
            let Some((_, outcome)) = settled.get(at) else { continue };
            let Some(idle) = self.even_if_overdrawn(job, &job.rest, outcome, job.after) else { continue };
            let plan = self.plan(job, (&idle, &idle), &Plan::default());
            idles.push((at, idle.clone()));
            if !plan.is_empty() {
                driving.push(Driving { job: at, now: idle.clone(), idle, plan, moving: Vec::new() });
            }
        }
        for _ in 0..MOST_PLANS {
            if driving.is_empty() {
                return (settled, idles);
            }
            driving = self.drive(jobs, driving, &mut settled);
        }
        for one in driving.into_iter().filter(|one| !one.moving.is_empty()) {
            if let Some((_, outcome)) = settled.get_mut(one.job) {
                *outcome = Err(Unsolved::Chatter(one.moving));
            }
        }
        (settled, idles)
    }

    /// Solves with the plans as they are. Returns those whose plans have changed. Contacts that switch with the plans
    /// for ever chatter.
    fn drive(&mut self, jobs: &[Job<'_>], driving: Vec<Driving>, settled: &mut [Settled]) -> Vec<Driving> {
        let mut networks = Vec::with_capacity(driving.len());
        for one in &driving {
            networks.extend(jobs.get(one.job).map(|job| self.driven(job, &one.plan)));
        }
        let problems = driving.iter().zip(&networks).filter_map(|(one, network)| {
            let job = jobs.get(one.job)?;
            Some((job, network, Some(&*one.now), job.near))
        });
        let outcomes = self.solve(problems);
        let mut still_moving = Vec::new();
        for ((mut one, network), outcome) in driving.into_iter().zip(networks).zip(outcomes) {
            let Some(job) = jobs.get(one.job) else { continue };
            let working = self.even_if_overdrawn(job, &network, &outcome, Some(&one.now));
            if let Some(place) = settled.get_mut(one.job) {
                *place = (network, outcome);
            }
            let Some(working) = working else { continue };
            let next = self.plan(job, (&one.idle, &working), &one.plan);
            if next != one.plan {
                one.moving = differing(&one.now.closed, &working.closed);
                (one.plan, one.now) = (next, working);
                still_moving.push(one);
            }
        }
        still_moving
    }

    /// The network of a job with its drivers driving.
    fn driven(&mut self, job: &Job<'_>, plan: &Plan) -> Arc<Network> {
        let key = (job.mode, job.corner.regulators as usize);
        if let Some((rest, applied, driven)) = self.applied.get(&key)
            && Arc::ptr_eq(rest, &job.rest)
            && applied == plan
        {
            return driven.clone();
        }
        let mut network = Network::clone(&job.rest);
        self.skeleton.drives().apply(plan, &mut network);
        let network = Arc::new(network);
        self.applied.insert(key, (job.rest.clone(), plan.clone(), network.clone()));
        network
    }

    /// Solves networks of jobs side by side.
    fn solve<'b>(
        &mut self,
        problems: impl Iterator<Item = (&'b Job<'b>, &'b Arc<Network>, Option<&'b Working>, Option<&'b Working>)>,
    ) -> Vec<Outcome> {
        let Self { skeleton, factors, solver, .. } = self;
        let problems: Vec<Problem<'_>> = problems
            .map(|(job, network, after, near)| Problem {
                variant: variant(skeleton, factors, job, network),
                after,
                near,
            })
            .collect();
        solver.solve_all(&problems).into_iter().map(|outcome| outcome.map(Arc::new)).collect()
    }

    /// A solution to plan by: the outcome's, or the collapsed one when loads overdraw their sources.
    fn even_if_overdrawn(
        &mut self,
        job: &Job<'_>,
        network: &Arc<Network>,
        outcome: &Outcome,
        start: Option<&Working>,
    ) -> Option<Arc<Working>> {
        match outcome {
            Ok(working) => Some(working.clone()),
            Err(Unsolved::Overdrawn(_)) => {
                let network = variant(self.skeleton, &self.factors, job, network).network();
                self.solver.solve_collapsed(&network, start).ok().map(Arc::new)
            }
            Err(_) => None,
        }
    }

    fn plan(&mut self, job: &Job<'_>, (idle, now): (&Working, &Working), earlier: &Plan) -> Plan {
        let Self { design, topology, skeleton, .. } = *self;
        let seen = Seen { design, topology, skeleton, states: job.states, network: &job.rest, idle, now };
        let hitched = self.hitched.entry(job.mode).or_insert_with(|| Self::hitched(&seen, job));
        if !Arc::ptr_eq(&hitched.0, &job.rest) || hitched.1 != now.closed {
            *hitched = Self::hitched(&seen, job);
        }
        Plan::new(&seen, &hitched.2, earlier)
    }

    fn hitched(seen: &Seen<'_>, job: &Job<'_>) -> (Arc<Network>, Vec<bool>, Hitched) {
        (job.rest.clone(), seen.now.closed.clone(), Hitched::new(seen))
    }
}

/// A network of a job at the job's corner.
fn variant<'b>(
    skeleton: &'b Skeleton,
    factors: &'b [Arc<[f64]>],
    job: &Job<'_>,
    network: &'b Arc<Network>,
) -> Variant<'b> {
    let Corner { charge, regulators, conductors } = job.corner;
    let is_hot = conductors == Warmth::Hot;
    Variant {
        network,
        emf: skeleton.emf(charge),
        warmth: factors.get(job.mode.index()).filter(|_| is_hot),
        set: &skeleton.set_volts()[regulators as usize],
        coils: if is_hot { skeleton.warm_coils(job.mode) } else { &[] },
    }
}

/// The positions at which two lists differ.
fn differing(first: &[bool], second: &[bool]) -> Vec<usize> {
    let pairs = first.iter().zip(second).enumerate();
    pairs.filter(|(_, (one, other))| one != other).map(|(at, _)| at).collect()
}
