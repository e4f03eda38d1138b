//! An expectation of the builder that does not hold.

mod runtime;
mod temperature;

use wattle_grammar::quantity::{Amps, Quantity, Volts};

use crate::{
    design::{Bounds, Claim, Design, Expectation, Level, Mode, ModeId, Partners, Probe, State, ThingId},
    figures::{Point, exceeds},
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
    condition: "In one of the expectation's modes (every mode when it names none), at any corner (batteries full, half-charged or empty, \
                regulators low or high within their `tolerance`, wires cold or warm), the computed voltage or current lies beyond the limit; or a thing that is to be dead, and \
                is commanded to work, has more than 1 V across its poles or leads (of a bar, plug or contact: at a terminal) \
                or draws more than 1 mA while the other thing is in the state. A voltage at a \
                terminal counts against the other pole of its thing, elsewhere against the lowest negative pole of a \
                source joined to it; what nothing joins counts as 0 V. \
                The runtime is the used share of the capacity over the mean current in each of its modes, without one in the \
                stated mix of modes (`share`) or else in `run`; by Peukert's law for lead. The temperature is the one at \
                which the wire settles with the root mean square current in the warmest air stated for it. `under any-fault` \
                is not judged; it is listed as not assessed.",
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
            Claim::Voltage(probe, bounds) => limits(inquiry, expectation, *bounds, |inquiry, point| {
                probe::volts(design, inquiry.topology, point, probe).map(Shown::Volts)
            }),
            Claim::Current(probe, bounds) => limits(inquiry, expectation, *bounds, |inquiry, point| {
                probe::amps(inquiry.topology, point, probe).map(Shown::Amps)
            }),
            Claim::Dead { things, when, state, word } => {
                let stopped = Stopped { when: *when, state: *state, word };
                dead(inquiry, expectation, things, &stopped)
            }
            Claim::Temperature(probe, bounds) => temperature::judged(inquiry, expectation, probe, *bounds),
            Claim::Runtime(bounds) => runtime::judged(inquiry, expectation, *bounds),
        };
        report(inquiry, expectation, outcome);
    }
}

/// What came of an expectation. What is found in one mode is told, whatever could not be judged in another.
#[derive(Default)]
struct Outcome {
    findings: Vec<Finding>,
    /// Why it was not judged, or not everywhere.
    unjudged: Option<String>,
}

impl Outcome {
    fn unjudged(why: &'static str) -> Self {
        Self { unjudged: Some(why.to_owned()), ..Self::default() }
    }
}

fn report(inquiry: &mut Inquiry<'_>, expectation: &Expectation, mut outcome: Outcome) {
    if outcome.findings.is_empty() && outcome.unjudged.is_none() && expectation.any_fault {
        let faults =
            "a verdict `under any-fault`: it holds with nothing failed, single faults are not judged";
        outcome.unjudged = Some(faults.to_owned());
    }
    outcome.findings.into_iter().for_each(|finding| inquiry.report(finding));
    if let Some(missing) = outcome.unjudged {
        inquiry.not_assessed(NotAssessed {
            subject: expectation.subject.clone(),
            span: expectation.span,
            missing,
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

/// Why nothing is said of a mode without figures, as while a source is shorted.
const NO_FIGURES: &str = "a working point in one of its modes";

/// The working point that lies furthest beyond the limits, if any does.
fn limits(
    inquiry: &Inquiry<'_>,
    expectation: &Expectation,
    bounds: Bounds,
    shown: impl Fn(&Inquiry<'_>, &Point) -> Option<Shown>,
) -> Outcome {
    let mut outcome = Outcome::default();
    let mut worst: Option<(f64, Shown, &Point)> = None;
    for mode in modes(inquiry.design, expectation) {
        let points = inquiry.figures.points_of(mode);
        if points.iter().all(|point| point.working().is_none()) {
            outcome.unjudged = Some(NO_FIGURES.to_owned());
        }
        for point in points {
            let Some(found) = shown(inquiry, point) else {
                let no_current = "a figure to compare it with: what it names carries no current of its own";
                let solved = point.working().is_some();
                outcome.unjudged = Some(if solved { no_current } else { NO_FIGURES }.to_owned());
                continue;
            };
            let beyond = beyond(bounds, found.base());
            if beyond > 0.0 && worst.as_ref().is_none_or(|(most, ..)| exceeds(beyond, *most)) {
                worst = Some((beyond, found, point));
            }
        }
    }
    outcome
        .findings
        .extend(worst.map(|(_, found, point)| missed(inquiry, expectation, bounds, found, point)));
    outcome
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
    let corner = naming::corner(inquiry.design, point.corner);
    let at = |limit: Quantity| found.like(limit.value);
    let expected = match (bounds.low.map(at), bounds.high.map(at)) {
        (Some(low), Some(high)) => format!("{low} to {high} is expected"),
        (Some(low), None) => format!("at least {low} is expected"),
        (None, Some(high)) => format!("at most {high} is expected"),
        (None, None) => "nothing is expected".to_owned(),
    };
    let verb = match found {
        Shown::Volts(_) => "stands at",
        Shown::Amps(_) => "carries",
    };
    let message = format!("`{}` {verb} {found} in `{mode}` with {corner}, {expected}", expectation.subject);
    let basis = format!("network solved in mode `{mode}` with {corner}");
    let mut figures = vec![found.figure("computed", basis)];
    let limits = [("lower limit", bounds.low.map(at)), ("upper limit", bounds.high.map(at))];
    figures.extend(limits.into_iter().filter_map(|(what, limit)| Some(limit?.figure(what, "as expected"))));
    Finding { severity: Severity::Malfunction, figures, ..finding(expectation, message, &mode) }
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
    let mut outcome = Outcome::default();
    let mut trials = inquiry.figures.trials(design, inquiry.topology);
    let partners = Partners::new(design);
    let mut alive: Vec<Option<(Life, ModeId, Charge)>> = vec![None; things.len()];
    for id in modes(design, expectation) {
        let points = inquiry.figures.points_of(id);
        let Some(mode) = design.modes.get(id.index()).filter(|_| !points.is_empty()) else {
            outcome.unjudged = Some(NO_FIGURES.to_owned());
            continue;
        };
        let changed = changed(mode, &partners, things, stopped);
        for point in points.iter().filter(|point| point.corner.is_plain()) {
            let after = trials.after(point, id, &changed, point.corner.charge);
            for (thing, most) in things.iter().zip(&mut alive) {
                let Some(life) = life(inquiry, &after, *thing) else {
                    outcome.unjudged = Some(NO_FIGURES.to_owned());
                    continue;
                };
                if life.is_alive()
                    && most.as_ref().is_none_or(|(more, ..)| exceeds(life.volts.0, more.volts.0))
                {
                    *most = Some((life, id, point.corner.charge));
                }
            }
        }
    }
    let found = things.iter().zip(alive).filter_map(|(thing, alive)| Some((*thing, alive?)));
    outcome.findings.extend(found.map(|(thing, alive)| lives(inquiry, expectation, stopped, thing, alive)));
    outcome
}

/// A mode with one thing put into a state, and with those that are to be dead commanded to work: what only idles because
/// nobody asks for it is not dead.
fn changed(mode: &Mode, partners: &Partners, things: &[ThingId], stopped: &Stopped<'_>) -> Mode {
    let mut changed = mode.clone();
    for thing in things {
        if let Some(State::Draws(level @ (Level::Off | Level::Idle))) = changed.states.get_mut(thing.index())
        {
            *level = Level::Typical;
        }
    }
    partners.put(&mut changed.states, stopped.when, stopped.state);
    changed
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

/// The voltage that is left on a thing and what it draws; `None` when the point has no solution.
fn life(inquiry: &Inquiry<'_>, point: &Point, thing: ThingId) -> Option<Life> {
    let volts = probe::left_on(inquiry.design, inquiry.topology, point, thing)?;
    let amps = probe::amps(inquiry.topology, point, &Probe::Thing(thing)).unwrap_or(Amps(0.0));
    Some(Life { volts, amps })
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
        because: vec![format!(
            "worst with {} batteries, and with {name} commanded to work",
            charge_of.word()
        )],
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

#[cfg(test)]
mod tests {
    use std::path::Path;

    use super::RULE;
    use crate::{
        analysis,
        project::{self, Loader},
    };

    struct Given(&'static str);

    impl Loader for Given {
        fn load(&self, _: &Path) -> Result<Vec<u8>, String> {
            Ok(self.0.as_bytes().to_vec())
        }
    }

    #[test]
    fn without_figures_nothing_holds_and_nothing_is_found() {
        let text = "wattle 1\nrobot \"Hut\" { ambient 30 degC }\nbattery PACK lead-acid 6S 7 Ah 20 mohm\nstop S 10 A\n\
                    light LAMP 12 V 1 A\ntie PACK.pos to PACK.neg\nexpect voltage LAMP.pos >= 9 V in run\n\
                    expect dead LAMP when S pressed under any-fault\nreading 12 V at LAMP.pos in run\n";
        let verdict = analysis::analyse(project::open(Path::new("hut.wattle"), &Given(text)), None).verdict;
        assert!(verdict.findings.iter().all(|finding| finding.rule != RULE.name));
        let unjudged = verdict.not_assessed.iter().filter(|entry| entry.missing.contains("a working point"));
        assert_eq!(unjudged.count(), 3, "{:?}", verdict.not_assessed);
    }
}
