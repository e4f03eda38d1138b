//! From a project to a verdict: the one path that the command and the language server both take.

use wattle_grammar::{error::TextError, span::Span, syntax::Date};

use crate::{
    accept, conductors,
    design::{self, Design},
    figures::Figures,
    finding::Verdict,
    fragment,
    inquiry::Inquiry,
    line_errors,
    profile::{self, Profile},
    project::Project,
    rules::{self, accept::unused},
    settings::{Chosen, FILE_NAME, Settings},
    settle::settle,
    stock,
    studies::Studies,
    topology::{Nature, Topology},
    trace::Trace,
    unread::Unread,
    warming::Bench,
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
    /// What protects what, what batteries last, what surges: see [`Analysis::protection`], [`Analysis::energy`] and
    /// [`Analysis::surges`].
    pub studies: Studies,
    /// Errors, findings, not assessed, basis.
    pub verdict: Verdict,
}

/// Analyses a robot. `today` is the day on which accepted risks are judged; without one no date is.
#[must_use]
pub fn analyse(project: Project, today: Option<Date>) -> Analysis {
    let (design, of_names) = design::lower(&project);
    let mut verdict = Verdict { errors: fragment::errors(&project), ..Verdict::default() };
    let of_settings = project.settings.iter().flat_map(|settings| &settings.errors);
    verdict.errors.extend(of_settings.cloned());
    let of_text = verdict.errors.len();
    verdict.errors.extend(of_names);
    let profile = profile_of(&project, &design, &mut verdict);
    let topology = Topology::build(&design);
    let trace = Trace::new(&design, &topology);
    let figures = figures(&design, &topology, &trace, &mut verdict);
    verdict.basis.extend(basis(&project, &design, &profile, &figures));
    let inquiry = Inquiry::new(&design, &topology, &trace, &figures, &profile).with_text(&project);
    verdict.basis.extend(Bench::of(inquiry.given()).averaging());
    let studies = judge(inquiry, &mut verdict);
    stock::bring_home(&design, &mut verdict);
    accept::apply(&design.accepts, &rules::names(), today, &mut verdict);
    withhold(&project, (&design, &topology), &mut verdict);
    verdict.incomplete.extend(no_table(&profile));
    line_errors::one_for_each(&project, of_text, &mut verdict.errors);
    settle(&mut verdict, &project);
    Analysis { project, design, topology, trace, figures, profile, studies, verdict }
}

/// The profile that the robot names, else the one of the settings file, else the default: the table of settings has the
/// words of the profiles. `own` without a table is told, and covers no wire.
fn profile_of(project: &Project, design: &Design, verdict: &mut Verdict) -> Profile {
    let settings = project.settings.as_ref();
    let Some((word, place)) = &design.robot.profile else {
        return settings.and_then(Settings::default_profile).unwrap_or_else(|| profile::DEFAULT.clone());
    };
    if word != profile::OWN {
        return profile::by_word(word).unwrap_or(profile::DEFAULT).clone();
    }
    if settings.is_none_or(|settings| settings.table.is_none() && settings.errors.is_empty()) {
        verdict.errors.push(no_own_table(*place, settings.is_some()));
    }
    Profile::own(settings.and_then(|settings| settings.table.clone()))
}

/// What is left unjudged without a table that could be read.
fn no_table(profile: &Profile) -> Option<String> {
    let why =
        "no wire and no device was judged by ampacity: the settings file has no table that could be read";
    (!profile.has_figures()).then(|| why.to_owned())
}

/// The robot asks for a table that nobody wrote.
fn no_own_table(place: Span, is_file: bool) -> TextError {
    let lacks = if is_file { "it has no table `[ampacity]`" } else { "there is no such file here or above" };
    let message = format!("`own` is the table of the settings file `{FILE_NAME}`, and {lacks}");
    TextError::new("settings.missing-table", place, message, "needs a table of the author's").help(format!(
        "write `[ampacity]` with `name`, `source`, `air`, `insulation` and `sizes` into `{FILE_NAME}`, or name a published profile: `boat`"
    ))
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
        let reason = why.words();
        let sentence = format!("mode `{mode}` has no working point: {reason}; no current in it was judged");
        if !sentences.contains(&sentence) {
            sentences.push(sentence);
        }
    }
    sentences
}

/// On what the verdict stands.
fn basis(project: &Project, design: &Design, profile: &Profile, figures: &Figures) -> Vec<String> {
    let assumed = design.assumptions.iter().chain(&figures.assumptions).cloned();
    of_profile(project, design, profile)
        .into_iter()
        .chain(conductors::assumptions(design))
        .chain(assumed)
        .collect()
}

/// The profile and who chose it; of the author's own table also its source, the file, and what passes on the author's word.
fn of_profile(project: &Project, design: &Design, profile: &Profile) -> Vec<String> {
    let settings = project.settings.as_ref();
    let file = settings.and_then(|settings| project.file(settings.file)).map(|file| file.path.display());
    let stated = match (&design.robot.profile, settings.map(|settings| settings.profile), &file) {
        (None, Some(Chosen::Word(_) | Chosen::Unclear), Some(file)) => format!(" (of `{file}`)"),
        (None, ..) => " (the default)".to_owned(),
        (Some(_), ..) => String::new(),
    };
    let mut sentences =
        vec![format!("profile `{}`{stated}: {}; no altitude is taken", profile.word, profile.name)];
    if let (true, Some(settings), Some(file)) = (profile.word == profile::OWN, settings, file) {
        sentences.push(format!("ampacities by the author's table in `{file}`, from: {}", profile.source));
        sentences.extend(settings.notes.iter().cloned());
    }
    sentences
}

/// Leaves out what may be the doing of an error: what is found on statements that it cost a fact, and on those that take
/// their facts from them. With any error there is, nobody knows that an accepted risk is not needed.
fn withhold(project: &Project, (design, topology): (&Design, &Topology), verdict: &mut Verdict) {
    if verdict.errors.is_empty() && design.lost.is_empty() {
        return;
    }
    let unread = Unread::new(project, &verdict.errors, &design.lost).with_circuit(project, design, topology);
    if unread.is_of_robot() {
        let why =
            "nothing was judged: the settings of the robot were not understood, and they hold for everything";
        verdict.incomplete.push(why.to_owned());
    } else if unread.is_of_circuit() {
        // What has no working point may have one with what is missing, so why it has none is not told; that no current was
        // judged there is.
        let no_current = if verdict.incomplete.is_empty() { "" } else { ", nor currents everywhere" };
        verdict.incomplete.clear();
        let why = format!(
            "no voltage and no feed was judged{no_current}: a statement of the circuit was not understood"
        );
        verdict.incomplete.push(why);
    }
    verdict.findings.retain(|finding| !unread.explains(finding) && finding.rule != unused::RULE.name);
    verdict.not_assessed.retain(|gap| !unread.explains_gap(gap));
}

/// Asks every rule; the tables that were made for them.
fn judge(mut inquiry: Inquiry<'_>, verdict: &mut Verdict) -> Studies {
    for rule in rules::ALL {
        (rule.check)(&mut inquiry);
    }
    let (findings, not_assessed, studies) = inquiry.into_parts();
    verdict.findings.extend(findings);
    verdict.not_assessed.extend(not_assessed);
    studies
}
