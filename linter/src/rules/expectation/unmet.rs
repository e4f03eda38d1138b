//! An expectation of the builder that does not hold.

use wattle_grammar::{
    kind::Role,
    quantity::{Amps, Quantity, Volts},
};

use crate::{
    design::{Bounds, Claim, Design, Expectation, ModeId, State, TerminalId, ThingId},
    figures::Point,
    finding::{Finding, Mend, NotAssessed, Severity},
    inquiry::Inquiry,
    naming,
    probe::{self, Shown},
    quantity_text::Figure,
    rule::{Rule, Source},
    topology::Charge,
};

/// The rule.
pub static RULE: Rule = Rule {
    name: "expectation.unmet",
    severity: Severity::Danger,
    summary: "What you expect of the robot does not hold by the computed figures.",
    why: "You wrote the limit down because something depends on it: a board that resets, a fuse that has to hold, a motor \
          that has to be without power when the stop is pressed.",
    condition: "In one of the expectation's modes (every mode when it names none), with full, half-charged or empty \
                batteries, the computed voltage or current lies beyond the limit; or a thing that is to be dead has more \
                than 1 V across its poles or draws more than 1 mA while the other thing is in the state. A voltage at a \
                terminal counts against the other pole of its thing, elsewhere against the lowest negative pole of a \
                source joined to it; what nothing joins counts as 0 V. Conductors are taken at 20 °C. Temperature, runtime \
                and `under any-fault` are not judged; they are listed as not assessed.",
    source: Source::Physics("the solved network of each mode; the limit is the builder's own"),
    legitimate: "Never: change the robot or the limit. One that holds in some modes only names them: `in run, climb`.",
    mend: "Look at what carries the current on the way there: longer wires, thin returns, a mode that closes another contact.",
    bad: r#"wattle 1
robot "Hut" { ambient 30 degC }
battery PACK lead-acid 6S 7 Ah 20 mohm
fuse F1 10 A blade
light LAMP 12 V 5 A { supply 9 V .. 16 V }
wire W1 PACK.pos to F1.line 12 AWG red 100 mm
wire W2 F1.load to LAMP.pos 16 AWG red 4 m
wire W3 LAMP.neg to PACK.neg 16 AWG black 4 m
expect voltage LAMP.pos >= 11 V in run
"#,
    good: r#"wattle 1
robot "Hut" { ambient 30 degC }
battery PACK lead-acid 6S 7 Ah 20 mohm
fuse F1 10 A blade
light LAMP 12 V 5 A { supply 9 V .. 16 V }
wire W1 PACK.pos to F1.line 12 AWG red 100 mm
wire W2 F1.load to LAMP.pos 16 AWG red 4 m
wire W3 LAMP.neg to PACK.neg 16 AWG black 4 m
expect voltage LAMP.pos >= 9.5 V in run
"#,
    check,
};

/// A part with no more than this across its poles is dead.
const DEAD_VOLTS: Volts = Volts(1.0);
/// A part that draws no more than this is dead.
const DEAD_AMPS: Amps = Amps(0.001);

fn check(inquiry: &mut Inquiry<'_>) {
    let design = inquiry.design;
    for expectation in &design.expectations {
        let outcome = match &expectation.claim {
            Claim::Voltage(probe, bounds) | Claim::Current(probe, bounds) => {
                let volts = matches!(expectation.claim, Claim::Voltage(..));
                let shown = |inquiry: &Inquiry<'_>, point: &Point| {
                    if volts {
                        probe::volts(design, inquiry.topology, point, probe).map(Shown::Volts)
                    } else {
                        probe::amps(inquiry.topology, point, probe).map(Shown::Amps)
                    }
                };
                limits(inquiry, expectation, *bounds, &shown)
            }
            Claim::Dead { things, when, state, word } => {
                let stopped = Stopped { when: *when, state: *state, word };
                dead(inquiry, expectation, things, &stopped)
            }
            Claim::Temperature(..) => Err("a verdict: temperatures of wires are not judged"),
            Claim::Runtime(_) => Err("a verdict: runtime is not judged"),
        };
        report(inquiry, expectation, outcome);
    }
}

/// What came of an expectation: findings, or why it was not judged.
type Outcome = Result<Vec<Finding>, &'static str>;

fn report(inquiry: &mut Inquiry<'_>, expectation: &Expectation, outcome: Outcome) {
    let unjudged = match outcome {
        Err(why) => Some(why),
        Ok(findings) => {
            let holds = findings.is_empty();
            findings.into_iter().for_each(|finding| inquiry.report(finding));
            let faults =
                "a verdict `under any-fault`: it holds with nothing failed, single faults are not judged";
            (expectation.any_fault && holds).then_some(faults)
        }
    };
    if let Some(missing) = unjudged {
        inquiry.not_assessed(NotAssessed {
            subject: expectation.subject.clone(),
            span: expectation.span,
            missing: missing.to_owned(),
            blocks: vec![RULE.name],
        });
    }
}

/// The modes that an expectation speaks of.
fn modes(design: &Design, expectation: &Expectation) -> Vec<ModeId> {
    if expectation.modes.is_empty() {
        (0u32..).map(ModeId).take(design.modes.len()).collect()
    } else {
        expectation.modes.clone()
    }
}

/// The working point that lies furthest beyond the limits, if any does.
fn limits(
    inquiry: &Inquiry<'_>,
    expectation: &Expectation,
    bounds: Bounds,
    shown: &dyn Fn(&Inquiry<'_>, &Point) -> Option<Shown>,
) -> Outcome {
    let mut worst: Option<(f64, Shown, &Point)> = None;
    for mode in modes(inquiry.design, expectation) {
        for point in inquiry.figures.points_of(mode) {
            let Some(found) = shown(inquiry, point) else {
                return Err(
                    "a figure to compare it with: one of its modes has no working point, or what it names carries no \
                            current of its own",
                );
            };
            let beyond = beyond(bounds, found.base());
            if beyond > 0.0 && worst.as_ref().is_none_or(|(most, ..)| beyond > *most) {
                worst = Some((beyond, found, point));
            }
        }
    }
    Ok(worst
        .map(|(_, found, point)| missed(inquiry, expectation, bounds, found, point))
        .into_iter()
        .collect())
}

/// How far a figure lies beyond the limits; 0 or less when it does not. The last digits of the solver do not count.
fn beyond(bounds: Bounds, found: f64) -> f64 {
    let slack = 1e-9 * found.abs();
    let low = bounds.low.map_or(f64::NEG_INFINITY, |low| low.value - found);
    let high = bounds.high.map_or(f64::NEG_INFINITY, |high| found - high.value);
    low.max(high) - slack
}

fn missed(
    inquiry: &Inquiry<'_>,
    expectation: &Expectation,
    bounds: Bounds,
    found: Shown,
    point: &Point,
) -> Finding {
    let mode = mode_name(inquiry.design, point.mode);
    let charge = charge(point.charge);
    let at = |limit: Quantity| found.like(limit.value);
    let expected = match (bounds.low.map(at), bounds.high.map(at)) {
        (Some(low), Some(high)) => format!("{low} to {high} is expected"),
        (Some(low), None) => format!("at least {low} is expected"),
        (None, Some(high)) => format!("at most {high} is expected"),
        (None, None) => "nothing is expected".to_owned(),
    };
    let (verb, severity) = match found {
        Shown::Volts(_) => ("stands at", Severity::Malfunction),
        Shown::Amps(_) => ("carries", Severity::Malfunction),
    };
    let message =
        format!("`{}` {verb} {found} in `{mode}` with {charge} batteries, {expected}", expectation.subject);
    let basis = format!("network solved in mode `{mode}`, conductors at 20 °C");
    let mut figures = vec![figure("computed", found, basis)];
    let limits = [("lower limit", bounds.low.map(at)), ("upper limit", bounds.high.map(at))];
    figures.extend(
        limits.into_iter().filter_map(|(what, limit)| Some(figure(what, limit?, "as expected".to_owned()))),
    );
    Finding {
        severity,
        figures,
        because: vec!["computed with conductors at 20 °C: warm ones drop more".to_owned()],
        ..finding(expectation, message, &mode)
    }
}

fn figure(what: &str, shown: Shown, basis: String) -> Figure {
    match shown {
        Shown::Volts(volts) => Figure::new(what, volts, basis),
        Shown::Amps(amps) => Figure::new(what, amps, basis),
    }
}

/// What is put into which state.
struct Stopped<'a> {
    when: ThingId,
    state: State,
    word: &'a str,
}

/// One finding for each thing that is not dead, in the mode where most is left of it.
fn dead(
    inquiry: &Inquiry<'_>,
    expectation: &Expectation,
    things: &[ThingId],
    stopped: &Stopped<'_>,
) -> Outcome {
    let design = inquiry.design;
    let mut trials = inquiry.figures.trials(design, inquiry.topology);
    let mut alive: Vec<Option<(Life, ModeId, Charge)>> = vec![None; things.len()];
    for id in modes(design, expectation) {
        for point in inquiry.figures.points_of(id) {
            let Some(mode) = design.modes.get(id.index()) else { continue };
            let mut changed = mode.clone();
            if let Some(slot) = changed.states.get_mut(stopped.when.index()) {
                *slot = stopped.state;
            }
            let after = trials.after(point, id, &changed, point.charge);
            for (thing, most) in things.iter().zip(&mut alive) {
                let Some(life) = life(inquiry, &after, *thing) else {
                    return Err("a working point: with that state the network of one of its modes has none");
                };
                if life.is_alive() && most.as_ref().is_none_or(|(more, ..)| life.volts > more.volts) {
                    *most = Some((life, id, point.charge));
                }
            }
        }
    }
    let found = things.iter().zip(alive).filter_map(|(thing, alive)| Some((*thing, alive?)));
    Ok(found.map(|(thing, alive)| lives(inquiry, expectation, stopped, thing, alive)).collect())
}

/// What is left of a thing's supply.
#[derive(Clone, Copy)]
struct Life {
    volts: Volts,
    amps: Amps,
}

impl Life {
    fn is_alive(self) -> bool {
        self.volts > DEAD_VOLTS || self.amps > DEAD_AMPS
    }
}

/// The voltage across a thing's poles and what it draws; `None` when the point has no solution.
fn life(inquiry: &Inquiry<'_>, point: &Point, thing: ThingId) -> Option<Life> {
    point.working()?;
    let (design, topology) = (inquiry.design, inquiry.topology);
    let across = poles(design, thing).and_then(|(plus, minus)| point.volts_between(topology, plus, minus));
    let volts = across.map_or(Volts(0.0), |volts| Volts(volts.0.abs()));
    let amps = probe::amps(topology, point, &crate::design::Probe::Thing(thing)).unwrap_or(Amps(0.0));
    Some(Life { volts, amps })
}

/// The two terminals that a thing is fed at.
fn poles(design: &Design, thing: ThingId) -> Option<(TerminalId, TerminalId)> {
    let of = |roles: &[Role]| {
        let mut found = design.terminals_of(thing).filter(|(_, terminal)| roles.contains(&terminal.role));
        found.next().map(|(id, _)| id)
    };
    let supply = of(&[Role::SupplyPositive, Role::SourcePositive, Role::CoilPositive]).zip(of(&[
        Role::SupplyNegative,
        Role::SourceNegative,
        Role::CoilNegative,
    ]));
    supply.or_else(|| {
        let mut leads = design
            .terminals_of(thing)
            .filter(|(_, terminal)| matches!(terminal.role, Role::MotorLead | Role::SpeakerLead));
        Some((leads.next()?.0, leads.next()?.0))
    })
}

fn lives(
    inquiry: &Inquiry<'_>,
    expectation: &Expectation,
    stopped: &Stopped<'_>,
    thing: ThingId,
    (life, mode, charge_of): (Life, ModeId, Charge),
) -> Finding {
    let design = inquiry.design;
    let mode = mode_name(design, mode);
    let (name, when) = (naming::thing(design, thing), naming::thing(design, stopped.when));
    let Life { volts, amps } = life;
    let drawn = if amps > DEAD_AMPS { format!(" and draws {amps}") } else { String::new() };
    let message = format!(
        "{name} has {volts}{drawn} in `{mode}` while {when} is {}, it is expected to be dead",
        stopped.word
    );
    let basis = format!("network solved in mode `{mode}` with {when} {}", stopped.word);
    Finding {
        severity: Severity::Danger,
        related: vec![(design.thing(thing).span, "still alive".to_owned())],
        figures: vec![
            Figure::new("voltage left", volts, basis.clone()),
            Figure::new("current left", amps, basis),
        ],
        because: vec![format!("worst with {} batteries", charge(charge_of))],
        help: vec![Mend::told("find what feeds it past the contact, and open that way too")],
        ..finding(expectation, message, &mode)
    }
}

fn finding(expectation: &Expectation, message: String, mode: &str) -> Finding {
    Finding {
        rule: RULE.name,
        severity: RULE.severity,
        span: expectation.span,
        subject: expectation.subject.clone(),
        message,
        label: "does not hold".to_owned(),
        related: Vec::new(),
        figures: Vec::new(),
        because: Vec::new(),
        mode: Some(mode.to_owned()),
        help: vec![Mend::told("change the robot, or name the modes it has to hold in")],
        accepted: None,
    }
}

fn mode_name(design: &Design, mode: ModeId) -> String {
    design.modes.get(mode.index()).map_or_else(String::new, |mode| mode.name.clone())
}

fn charge(charge: Charge) -> &'static str {
    match charge {
        Charge::Full => "full",
        Charge::Nominal => "half-charged",
        Charge::Empty => "empty",
    }
}
