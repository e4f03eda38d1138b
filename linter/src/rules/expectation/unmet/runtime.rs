//! How long the batteries are expected to last.

use wattle_grammar::quantity::{Quantity, Seconds};

use super::{Outcome, finding, mode_name};
use crate::{
    design::{Bounds, Expectation, ModeId},
    energy::Lasts,
    finding::{Finding, Severity},
    inquiry::Inquiry,
    missing::Missing,
    naming,
    quantity_text::Figure,
};

/// In each of the modes that are named; without one in the stated mix, and where none is stated in mode `run`.
pub(super) fn judged(inquiry: &Inquiry<'_>, expectation: &Expectation, bounds: Bounds) -> Outcome {
    let mut outcome = Outcome::default();
    let mut worst: Option<(f64, Finding)> = None;
    for (name, lasts) in cases(inquiry, expectation) {
        match lasts {
            Ok(lasts) => {
                let beyond = beyond(bounds, lasts);
                if beyond > 0.0 && worst.as_ref().is_none_or(|(most, _)| beyond > *most) {
                    worst = Some((beyond, missed(expectation, bounds, &name, lasts)));
                }
            }
            Err(missing) => outcome.unjudged = Some(words(inquiry, &missing)),
        }
    }
    outcome.findings.extend(worst.map(|(_, finding)| finding));
    outcome
}

/// Each with the name of its mode.
fn cases(inquiry: &Inquiry<'_>, expectation: &Expectation) -> Vec<(String, Result<Lasts, Missing>)> {
    let energy = &inquiry.energy;
    let in_mode = |mode: &ModeId| (format!("`{}`", mode_name(inquiry.design, *mode)), energy.lasts_in(*mode));
    if !expectation.modes.is_empty() {
        return expectation.modes.iter().map(in_mode).collect();
    }
    if let Some(mix) = &energy.mix {
        return vec![("the stated mix of modes".to_owned(), mix.lasts.clone())];
    }
    let run = (0u32..).map(ModeId).zip(&inquiry.design.modes).find(|(_, mode)| mode.name == "run");
    let missing = || Missing::of_robot("a mode `run` or a `share` on the modes of a working day");
    vec![run.map_or_else(|| (String::new(), Err(missing())), |(mode, _)| in_mode(&mode))]
}

/// By which factor a time lies beyond the limits; 0 when it does not.
fn beyond(bounds: Bounds, lasts: Lasts) -> f64 {
    let Lasts::For(time) = lasts else {
        return if bounds.high.is_some() { f64::MAX } else { 0.0 };
    };
    let low = bounds.low.map_or(0.0, |low| low.value - time.0);
    let high = bounds.high.map_or(0.0, |high| time.0 - high.value);
    (low.max(high) - 1e-9 * time.0).max(0.0)
}

fn words(inquiry: &Inquiry<'_>, missing: &Missing) -> String {
    match missing.of {
        Some(thing) => format!("{} of {}", missing.what, naming::thing(inquiry.design, thing)),
        None => missing.what.clone(),
    }
}

fn missed(expectation: &Expectation, bounds: Bounds, name: &str, lasts: Lasts) -> Finding {
    let at = |limit: Quantity| Seconds(limit.value);
    let limit = bounds.low.or(bounds.high).map_or(Seconds(0.0), at);
    let (found, limit) = match lasts {
        Lasts::For(time) => wattle_grammar::unit::told_apart(time.0, limit.0, "s"),
        Lasts::Forever => ("for ever".to_owned(), limit.to_string()),
    };
    let expected = match (bounds.low, bounds.high) {
        (Some(low), Some(high)) => format!("{} to {} is expected", at(low), at(high)),
        (Some(_), None) => format!("at least {limit} is expected"),
        (None, _) => format!("at most {limit} is expected"),
    };
    let mut figures = Vec::new();
    if let Lasts::For(time) = lasts {
        figures.push(Figure::new("runtime", time, "used share of the capacity over the mean current"));
    }
    let limits = [("lower limit", bounds.low.map(at)), ("upper limit", bounds.high.map(at))];
    figures.extend(
        limits.into_iter().filter_map(|(what, limit)| Some(Figure::new(what, limit?, "as expected"))),
    );
    let because = "the used share of the stated capacity over the mean current between full and empty: an old or cold battery \
                   lasts less long";
    Finding {
        severity: Severity::Malfunction,
        figures,
        because: vec![because.to_owned()],
        ..finding(
            expectation,
            format!("the batteries last {found} in {name}, {expected}"),
            name.trim_matches('`'),
        )
    }
}
