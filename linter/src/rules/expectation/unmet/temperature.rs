//! How warm a wire is expected to become.

use wattle_grammar::quantity::{Amps, Celsius};

use super::{NO_FIGURES, Outcome, beyond, finding, mode_name, modes};
use crate::{
    conductors::{self, Settling},
    design::{Bounds, Expectation, Probe, WireId},
    figures::exceeds,
    finding::{Finding, Severity},
    inquiry::Inquiry,
    naming,
    quantity_text::Figure,
};

/// The wire at the point where it gets warmest, or coldest where a lower limit is missed.
pub(super) fn judged(
    inquiry: &Inquiry<'_>,
    expectation: &Expectation,
    probe: &Probe,
    bounds: Bounds,
) -> Outcome {
    let Probe::Wire(wire) = probe else { return Outcome::unjudged("a wire to compare it with") };
    let mut outcome = Outcome::default();
    let mut worst: Option<(f64, Settling, usize)> = None;
    for (at, point) in points(inquiry, expectation) {
        if point.working().is_none() {
            outcome.unjudged = Some(NO_FIGURES.to_owned());
            continue;
        }
        let warmth = conductors::temperature(inquiry.design, inquiry.figures, &inquiry.conductors, *wire, at);
        let Some(warmth) = warmth else { return Outcome::unjudged("the size of this wire") };
        let beyond = match warmth {
            Settling::Settles(warm) => beyond(bounds, warm.0),
            Settling::Melts => f64::MAX,
        };
        if beyond > 0.0 && worst.is_none_or(|(most, ..)| exceeds(beyond, most)) {
            worst = Some((beyond, warmth, at));
        }
    }
    outcome
        .findings
        .extend(worst.and_then(|(_, warmth, at)| missed(inquiry, expectation, *wire, bounds, (warmth, at))));
    outcome
}

/// The points of its modes; where it names none, of those that may last, for a blocked motor does not heat a wire for long.
fn points<'a>(
    inquiry: &'a Inquiry<'_>,
    expectation: &'a Expectation,
) -> impl Iterator<Item = (usize, &'a crate::figures::Point)> {
    let named = !expectation.modes.is_empty();
    let wanted = modes(inquiry.design, expectation);
    let points = inquiry.figures.points.iter().enumerate();
    points.filter(move |(_, point)| wanted.contains(&point.mode) && (named || point.ordinary))
}

fn missed(
    inquiry: &Inquiry<'_>,
    expectation: &Expectation,
    wire: WireId,
    bounds: Bounds,
    (warmth, at): (Settling, usize),
) -> Option<Finding> {
    let point = inquiry.figures.points.get(at)?;
    let mode = mode_name(inquiry.design, point.mode);
    let amps = inquiry.figures.wire_amps(at, wire).map_or(Amps(0.0), |amps| amps.abs() * point.duty.0.sqrt());
    let limit = |bound: Option<wattle_grammar::quantity::Quantity>| bound.map(|found| Celsius(found.value));
    let (low, high) = (limit(bounds.low), limit(bounds.high));
    let nearest = high.or(low)?;
    let (found, limit) = match warmth {
        Settling::Settles(warm) => wattle_grammar::unit::told_apart(warm.0, nearest.0, "°C"),
        Settling::Melts => ("more than copper stands".to_owned(), nearest.to_string()),
    };
    let expected = match (low, high) {
        (Some(low), Some(high)) => format!("{low} to {high} is expected"),
        (Some(_), None) => format!("at least {limit} is expected"),
        _ => format!("at most {limit} is expected"),
    };
    let message = format!(
        "`{}` settles at {found} in `{mode}` with {}, {expected}",
        expectation.subject,
        naming::corner(inquiry.design, point.corner)
    );
    let mut figures = vec![Figure::new("steady current", amps, format!("network solved in mode `{mode}`"))];
    if let Settling::Settles(warm) = warmth {
        figures.push(Figure::new("temperature", warm, conductors::WARMTH_BASIS));
    }
    let because = "as if the current flowed for ever, in the warmest air that is stated for the wire, its loaded neighbours \
                   counted";
    Some(Finding {
        severity: Severity::Malfunction,
        figures,
        because: vec![because.to_owned()],
        ..finding(expectation, message, &mode)
    })
}
