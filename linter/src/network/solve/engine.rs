//! Finds node voltages that satisfy Kirchhoff's current law, for given laws.
//!
//! Newton's method on the network's content. Kinks are met by searching along the step ([`Ray`]). Where the slopes of
//! power loads make the step point uphill, or where something at work hangs on flat pieces of curves only, a firm step
//! with rising slopes everywhere is taken instead. A linear network is the special case of one step and its refinement.

use crate::network::{Element, ElementId, Unsolved};

use super::{
    branch::{Branch, Stage},
    curve::Curve,
    extended::Extended,
    factor::Factor,
    island::Parts,
    plan::Plan,
    ray::{Bent, Ray},
};

/// Current left over at a node, over what flows there, at which Kirchhoff's law counts as satisfied. Next to a milliohm the
/// rounding of a rail's voltage alone leaves some 3e-11.
pub(super) const SETTLED: f64 = 1e-10;

/// Current left over, over the largest current, that is accepted when more steps do not lessen it.
pub(super) const TOLERATED: f64 = 1e-10;

/// What counts as flowing at a node at least, as a share of the largest current.
pub(super) const FAINT: f64 = 1e-4;

/// Current left over, over the largest prospective current, that is nothing: where all currents are rounding, there is
/// no largest one to compare with.
pub(super) const NOTHING: f64 = 1e-26;

/// Current through an element that is rounding, over the largest current.
pub(super) const ROUNDING: f64 = 1e-15;

/// The same over the largest prospective current.
pub(super) const ROUNDING_OF_PROSPECTIVE: f64 = 1e-20;

/// Share left over below which steps are refinements.
pub(super) const REFINING: f64 = 1e-6;

/// A voltage, volt, that only a given current with nowhere to go drives an element to.
pub(super) const RUNAWAY: f64 = 1e15;

/// Steps before the search gives up.
const MOST_STEPS: u32 = 400;

/// Of steps without progress every such one is a firm one.
const PATIENCE: u32 = 6;

/// Relative change of a slope that is worth a new factorisation.
pub(super) const SAME_SLOPE: f64 = 1e-6;

/// How far the currents are from balance.
#[derive(Clone, Copy, Debug)]
struct Balance {
    largest: f64,
    /// Current left over that is nothing, ampere.
    nothing: f64,
    left_over: f64,
    /// The largest of what is left over at a node over what flows there.
    worst: f64,
}

/// The unknowns and what is known about them.
#[derive(Clone, Debug, Default)]
pub(super) struct Engine {
    branches: Vec<Branch>,
    levels: Vec<Extended>,
    left_over: Vec<f64>,
    flowing: Vec<f64>,
    step: Vec<f64>,
    factor: Factor,
    factored: Vec<f64>,
    stable: bool,
    /// Whether the last step is a firm one.
    firm: bool,
    stage: Stage,
    /// Current that is rounding, ampere.
    rounding: f64,
    /// The largest current that any source would drive through a short circuit, ampere; none while curves change.
    prospective: Option<f64>,
    /// Factorisations since the start of the solve.
    pub rounds: u32,
}

impl Engine {
    /// Begins a solve with all clusters at 0 V and no element drawing anything. An engine serves one plan; the factor
    /// of its last solve stays, for the case that no slope has changed.
    pub(super) fn reset(&mut self, plan: &Plan, elements: &[Element], offsets: &[f64]) {
        let count = plan.clusters.roots.len();
        self.levels.clear();
        self.levels.resize(count, Extended::default());
        self.rounds = 0;
        self.prospective = None;
        self.branches.clear();
        let numbered = elements.iter().zip(&plan.ends).enumerate();
        self.branches.extend(numbered.map(|(number, (element, &ends))| {
            let offset = offsets[element.a.0 as usize] - offsets[element.b.0 as usize];
            Branch::new(ends, plan.slot(number), offset)
        }));
    }

    /// Gives an element its curve; `shift` is that of its law, volt.
    pub(super) fn set_curve(&mut self, element: usize, curve: Curve, shift: f64) {
        self.prospective = None;
        let branch = &mut self.branches[element];
        branch.curve = curve;
        branch.shift = shift;
    }

    /// Puts a cluster at a voltage.
    pub(super) fn set_level(&mut self, cluster: usize, volts: f64) {
        self.levels[cluster] = Extended::new(volts);
    }

    /// The voltage of a cluster.
    pub(super) fn level(&self, cluster: u32) -> Extended {
        self.levels[cluster as usize]
    }

    /// The voltage across an element, volt.
    pub(super) fn volts(&self, element: usize) -> f64 {
        self.branches[element].volts - self.branches[element].shift
    }

    /// The current through an element, ampere; 0 for a rigid one, and where it is but rounding.
    pub(super) fn amps(&self, element: usize) -> f64 {
        let amps = self.branches[element].amps;
        if amps.abs() <= self.rounding { 0.0 } else { amps }
    }

    /// The island of each cluster, numbered in the order of their lowest clusters.
    pub(super) fn islands(&self) -> Vec<u32> {
        let mut parts = Parts::new(self.levels.len());
        for branch in self.branches.iter().filter(|branch| branch.is_between()) {
            if branch.curve.conducts(branch.volts) {
                parts.join(branch.from, branch.to);
            }
        }
        parts.numbered().0
    }

    /// The curve of an element.
    pub(super) fn curve(&self, element: usize) -> Curve {
        self.branches[element].curve
    }

    /// A first guess from nothing: the sources with the resistances alone.
    ///
    /// # Errors
    /// [`Unsolved::NotFinite`].
    pub(super) fn guess(&mut self, plan: &Plan) -> Result<(), Unsolved> {
        self.levels.fill(Extended::default());
        self.evaluate(Stage::Sources)?;
        self.find_step(plan, false);
        self.advance(plan, 1.0);
        Ok(())
    }

    /// Searches from where the clusters stand.
    ///
    /// # Errors
    /// [`Unsolved::NotFinite`] for a number out of range or a given current that has nowhere to go,
    /// [`Unsolved::Unsettled`] when the steps run out.
    pub(super) fn search(&mut self, plan: &Plan, stage: Stage) -> Result<(), Unsolved> {
        let mut last = f64::INFINITY;
        let mut slow = 0;
        for _ in 0..MOST_STEPS {
            let balance = self.evaluate(stage)?;
            // One step beyond a rough one: its rounding may be far from where stiff parts hang on weak ones.
            if balance.worst <= SETTLED && last <= REFINING || balance.left_over <= balance.nothing {
                return Ok(());
            }
            slow = if balance.worst > 0.5 * last { slow + 1 } else { 0 };
            last = balance.worst;
            if slow >= 2 && balance.left_over <= TOLERATED * balance.largest {
                return Ok(());
            }
            if !self.pick_step(plan, balance, slow) {
                if stage == Stage::Loaded {
                    return Err(Unsolved::NotFinite(self.astray()));
                }
                return Ok(());
            }
            let refining = balance.worst <= REFINING && slow == 0;
            let length = if refining { 1.0 } else { self.ray(plan).length() };
            self.advance(plan, length);
        }
        Err(self
            .given_current_astray()
            .map_or_else(|| Unsolved::Unsettled(vec![self.worst_element()]), Unsolved::NotFinite))
    }

    /// Computes all voltages, currents and slopes, and what is left over at each cluster.
    fn evaluate(&mut self, stage: Stage) -> Result<Balance, Unsolved> {
        self.stage = stage;
        let count = self.levels.len();
        self.left_over.clear();
        self.left_over.resize(count, 0.0);
        self.flowing.clear();
        self.flowing.resize(count, 0.0);
        let prospective = self.prospective();
        let (mut largest, mut highest, mut total) = (0.0f64, 0.0f64, 0.0);
        for branch in &mut self.branches {
            branch.look(stage, &self.levels);
            let size = branch.amps.abs();
            largest = largest.max(size);
            highest = highest.max(branch.volts.abs());
            total += size;
            if branch.is_between() {
                self.left_over[branch.from as usize] += branch.amps;
                self.left_over[branch.to as usize] -= branch.amps;
                self.flowing[branch.from as usize] += size;
                self.flowing[branch.to as usize] += size;
            }
        }
        self.rounding = (ROUNDING * largest).max(ROUNDING_OF_PROSPECTIVE * prospective);
        if !total.is_finite() {
            return Err(Unsolved::NotFinite(self.worst_element()));
        }
        if highest > RUNAWAY {
            return Err(Unsolved::NotFinite(self.astray()));
        }
        Ok(self.balance(largest, NOTHING * prospective))
    }

    /// The largest current that any source would drive through a short circuit; it stays while the curves stay.
    fn prospective(&mut self) -> f64 {
        let branches = &self.branches;
        let largest = || branches.iter().map(Branch::prospective).fold(0.0, f64::max);
        *self.prospective.get_or_insert_with(largest)
    }

    fn balance(&self, largest: f64, nothing: f64) -> Balance {
        let mut balance = Balance { largest, nothing, left_over: 0.0, worst: 0.0 };
        for (left, flowing) in self.left_over.iter().zip(&self.flowing) {
            let scale = (flowing + FAINT * largest).min(largest);
            balance.left_over = balance.left_over.max(left.abs());
            // Only what is worse than the worst so far is divided: most nodes are far from it.
            if left.abs() > balance.worst * scale {
                balance.worst = left.abs() / scale;
            }
        }
        balance
    }

    /// Finds a step, a firm one where need be. Returns whether all currents have somewhere to go.
    fn pick_step(&mut self, plan: &Plan, balance: Balance, slow: u32) -> bool {
        let least = (TOLERATED * balance.largest).max(balance.nothing);
        if slow % PATIENCE != PATIENCE - 1 {
            let astray = self.find_step(plan, false);
            if self.stable && astray <= least {
                return true;
            }
        }
        self.find_step(plan, true) <= least
    }

    /// Solves for the step that would balance the currents if all slopes stayed. Returns the largest current astray.
    fn find_step(&mut self, plan: &Plan, firm: bool) -> f64 {
        self.firm = firm;
        if firm {
            for branch in &mut self.branches {
                branch.slope = self.stage.acting(branch.curve).firm_slope(branch.volts);
            }
        }
        let changed = |(branch, old): (&Branch, &f64)| (branch.slope - old).abs() > SAME_SLOPE * old.abs();
        if self.factored.len() != self.branches.len() || self.branches.iter().zip(&self.factored).any(changed)
        {
            self.factorise(plan);
        }
        let elimination = &plan.elimination;
        self.step.resize(elimination.len(), 0.0);
        for (left, &position) in self.left_over.iter().zip(&elimination.position) {
            self.step[position as usize] = -left;
        }
        self.factor.solve(elimination, &mut self.step)
    }

    fn factorise(&mut self, plan: &Plan) {
        self.factor.clear(&plan.elimination);
        self.factored.clear();
        for branch in &self.branches {
            self.factored.push(branch.slope);
            if let Some(slot) = branch.slot() {
                self.factor.add(slot, branch.slope);
            }
        }
        self.stable = self.factor.factorise(&plan.elimination);
        self.rounds += 1;
    }

    /// The content along the step.
    fn ray(&self, plan: &Plan) -> Ray {
        let position = &plan.elimination.position;
        let step = |cluster: u32| self.step[position[cluster as usize] as usize];
        let mut ray = Ray { firm: self.firm, ..Ray::default() };
        for branch in self.branches.iter().filter(|branch| branch.is_between()) {
            let change = step(branch.from) - step(branch.to);
            let curve = self.stage.acting(branch.curve);
            if curve.is_straight() {
                ray.base += branch.amps * change;
                ray.growth += branch.slope * change * change;
            } else {
                ray.bent.push(Bent { curve, volts: branch.volts, change });
            }
        }
        ray
    }

    fn advance(&mut self, plan: &Plan, length: f64) {
        for (level, &position) in self.levels.iter_mut().zip(&plan.elimination.position) {
            *level = level.plus(length * self.step[position as usize]);
        }
    }

    /// The first given current that bridges parts that no other element joins firmly.
    fn given_current_astray(&self) -> Option<ElementId> {
        let mut parts = Parts::new(self.levels.len());
        for branch in self.branches.iter().filter(|branch| branch.curve.slope(branch.volts) != 0.0) {
            parts.join(branch.from, branch.to);
        }
        let given = self.branches.iter().position(|branch| {
            matches!(branch.curve, Curve::Fixed(amps) if amps != 0.0)
                && parts.root(branch.from) != parts.root(branch.to)
        });
        given.map(|number| ElementId(number as u32))
    }

    /// What to name when a current has nowhere to go.
    fn astray(&self) -> ElementId {
        self.given_current_astray().unwrap_or_else(|| self.worst_element())
    }

    /// The first element that is not finite, or the one at the node with the most left over.
    fn worst_element(&self) -> ElementId {
        let left = |branch: &Branch| {
            self.left_over[branch.from as usize].abs().max(self.left_over[branch.to as usize].abs())
        };
        let broken = self.branches.iter().position(|branch| !branch.amps.is_finite());
        let most = || {
            let numbered = self.branches.iter().enumerate();
            numbered.max_by(|a, b| left(a.1).total_cmp(&left(b.1))).map_or(0, |(number, _)| number)
        };
        ElementId(broken.unwrap_or_else(most) as u32)
    }
}
