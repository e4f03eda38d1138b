//! From a project to a verdict: the one path that the command and the language server both take.

use wattle_grammar::{error::TextError, nearest::nearest, syntax::Date};

use crate::{
    accept, conductors,
    design::{self, Design},
    figures::Figures,
    finding::Verdict,
    fragment,
    inquiry::Inquiry,
    network::Unsolved,
    profile::{self, Profile},
    project::Project,
    rules,
    settle::settle,
    stock,
    topology::{Nature, Topology},
    trace::Trace,
    unread::Unread,
};

/// Everything that is known about a robot.
#[derive(Clone, Debug)]
pub struct Analysis {
    /// Its files.
    pub project: Project,
    /// The design.
    pub design: Design,
    /// What is joined to what.
    pub topology: Topology,
    /// Who feeds what.
    pub trace: Trace,
    /// The working points.
    pub figures: Figures,
    /// The basis for ampacity and protection.
    pub profile: Profile,
    /// Errors, findings, not assessed, basis.
    pub verdict: Verdict,
}

/// Analyses a robot. `today` is the day on which accepted risks are judged; without one no date is.
#[must_use]
pub fn analyse(project: Project, today: Option<Date>) -> Analysis {
    let (design, of_names) = design::lower(&project);
    let mut verdict = Verdict { errors: fragment::errors(&project), ..Verdict::default() };
    verdict.errors.extend(of_names);
    let profile = profile_of(&design, &mut verdict.errors);
    let topology = Topology::build(&design);
    let trace = Trace::new(&design, &topology);
    let figures = figures(&design, &topology, &trace, &mut verdict);
    verdict.basis.extend(basis(&design, &profile, &figures));
    let inquiry = Inquiry::new(&design, &topology, &trace, &figures, &profile).with_text(&project);
    judge(inquiry, &mut verdict);
    stock::bring_home(&design, &mut verdict);
    withhold(&project, &mut verdict);
    accept::apply(&design.accepts, &rules::names(), today, &mut verdict);
    settle(&mut verdict, &project);
    Analysis { project, design, topology, trace, figures, profile, verdict }
}

/// The profile that the robot names, else the default.
fn profile_of(design: &Design, errors: &mut Vec<TextError>) -> Profile {
    let Some((word, span)) = &design.robot.profile else { return profile::DEFAULT };
    if let Some(profile) = profile::by_word(word) {
        return profile.clone();
    }
    let words = profile::ALL.iter().map(|profile| profile.word);
    let near = nearest(word, words.clone());
    let help = near.map_or_else(
        || format!("the profiles are {}", words.collect::<Vec<_>>().join(", ")),
        |near| format!("did you mean `{near}`?"),
    );
    errors.push(TextError {
        help: Some(help),
        mend: near.map(|near| (*span, near.to_owned())),
        ..TextError::new(
            "language.unknown-profile",
            *span,
            format!("there is no profile `{word}`"),
            "no profile has this name",
        )
    });
    profile::DEFAULT
}

/// The working points, judged as if every diode and every part stood the right way round. None at all while a source is shorted: then
/// every current would be that mistake's, and one mistake is one finding.
fn figures(design: &Design, topology: &Topology, trace: &Trace, verdict: &mut Verdict) -> Figures {
    if trace.swamps_currents() {
        let why = "no current was judged: a source is shorted or stands in a ring that does not cancel";
        verdict.incomplete.push(why.to_owned());
        return Figures::default();
    }
    let figures = if trace.forward.is_empty() && trace.backwards.is_empty() {
        Figures::solve(design, topology)
    } else {
        Figures::solve(design, &turned_round(topology, trace))
    };
    verdict.incomplete.extend(unsolved(design, &figures));
    figures
}

/// The topology with every forward diode taken out and every backward part turned round.
fn turned_round(topology: &Topology, trace: &Trace) -> Topology {
    let mut mended = topology.clone();
    for forward in &trace.forward {
        if let Some(link) = mended.links.get_mut(forward.diode.0 as usize) {
            link.nature = Nature::Capacitor;
        }
    }
    for one in &trace.backwards {
        if let (Some(plus), Some(minus)) = (topology.node(one.plus), topology.node(one.minus)) {
            mended = mended.exchanged(one.thing, plus, minus);
        }
    }
    mended
}

/// A sentence for each mode that has no working point, whatever the reason.
fn unsolved(design: &Design, figures: &Figures) -> Vec<String> {
    let mut sentences: Vec<String> = Vec::new();
    for point in &figures.points {
        let Err(why) = &point.outcome else { continue };
        let mode = design.modes.get(point.mode.index()).map_or("", |mode| mode.name.as_str());
        let reason = match why {
            Unsolved::Overdrawn(_) => "a load asks for more than its source can carry",
            Unsolved::Chatter(_) => "a relay does not come to rest",
            Unsolved::SourceLoop(_) => "ideal sources stand in a ring that does not cancel",
            Unsolved::Unsettled(_) => "the iteration did not come to rest",
            Unsolved::NotFinite(_) => "the numbers ran out of range",
        };
        let sentence = format!("mode `{mode}` has no working point: {reason}; no current in it was judged");
        if !sentences.contains(&sentence) {
            sentences.push(sentence);
        }
    }
    sentences
}

/// On what the verdict stands.
fn basis(design: &Design, profile: &Profile, figures: &Figures) -> Vec<String> {
    let stated = if design.robot.profile.is_some() { "" } else { " (the default)" };
    let profile = format!("profile `{}`{stated}: {}", profile.word, profile.name);
    let assumed = design.assumptions.iter().chain(&figures.assumptions).cloned();
    std::iter::once(profile).chain(conductors::assumptions(design)).chain(assumed).collect()
}

/// Leaves out what is found on statements with an error of the text: the error may have cost them a fact.
fn withhold(project: &Project, verdict: &mut Verdict) {
    let unread = Unread::new(project);
    verdict.findings.retain(|finding| !unread.holds(finding.span));
    verdict.not_assessed.retain(|entry| !unread.holds(entry.span));
}

/// Asks every rule.
fn judge(mut inquiry: Inquiry<'_>, verdict: &mut Verdict) {
    for rule in rules::ALL {
        (rule.check)(&mut inquiry);
    }
    let (findings, not_assessed) = inquiry.into_parts();
    verdict.findings.extend(findings);
    verdict.not_assessed.extend(not_assessed);
}
