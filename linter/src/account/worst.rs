//! The worst over the points that count, and the words that go with a current at a point.

use wattle_grammar::{
    kind::key,
    quantity::{Amps, Share},
};

use super::{View, corner, what};
use crate::{
    design::facts,
    explained::{Amount, Explained, Input},
    figures::{Point, exceeds},
    topology::LinkId,
};

/// Where solved figures come from.
pub(super) const SOLVED: &str = "Kirchhoff's laws, network solved";

/// The source of what is a ratio or a difference of two figures by its very name.
pub(super) const DEFINITION: &str = "by definition";

/// A current below this share of an ampere is what the solver leaves over: it balances currents to 1e-9 of the largest.
pub(super) const NOTHING: f64 = 1e-9;

/// A value and the point that it holds for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct At {
    pub(super) value: f64,
    pub(super) point: usize,
}

/// The first of the largest finite values; one that is larger by rounding only is not.
pub(super) fn largest(values: impl IntoIterator<Item = At>) -> Option<At> {
    let finite = values.into_iter().filter(|at| at.value.is_finite());
    finite.fold(None, |held: Option<At>, at| match held {
        Some(held) if is_no_more(at.value, held.value) => Some(held),
        _ => Some(at),
    })
}

/// Whether a value is at most another, or more by rounding only.
pub(super) fn is_no_more(value: f64, than: f64) -> bool {
    !exceeds(value, than)
}

/// The first of the smallest finite values.
pub(super) fn smallest(values: impl IntoIterator<Item = At>) -> Option<At> {
    let turned = values.into_iter().map(|at| At { value: -at.value, ..at });
    largest(turned).map(|at| At { value: -at.value, ..at })
}

/// The current through something at a point.
#[derive(Clone, Copy, Debug)]
pub(super) struct Flow {
    pub(super) point: usize,
    /// Whether the mode may last.
    pub(super) ordinary: bool,
    /// Magnitude while the loads draw.
    pub(super) amps: f64,
    /// Root mean square over the mode's duty.
    pub(super) rms: f64,
}

impl Flow {
    pub(super) fn new(at: usize, point: &Point, amps: Amps) -> Self {
        let amps = amps.0.abs();
        Self { point: at, ordinary: point.ordinary, amps, rms: amps * point.duty.0.clamp(0.0, 1.0).sqrt() }
    }
}

/// The largest root mean square over the points of modes that may last.
pub(super) fn steady(flows: &[Flow]) -> Option<At> {
    let lasting = flows.iter().filter(|flow| flow.ordinary);
    largest(lasting.map(|flow| At { value: flow.rms, point: flow.point }))
}

/// The largest current over all points.
pub(super) fn highest(flows: &[Flow]) -> Option<At> {
    largest(flows.iter().map(|flow| At { value: flow.amps, point: flow.point }))
}

impl View<'_> {
    /// The current through a link at each point that counts and is solved.
    pub(super) fn flows(&self, link: LinkId) -> Vec<Flow> {
        self.points().filter_map(|(at, point)| Some(Flow::new(at, point, point.amps(link)?))).collect()
    }

    /// `mode `parade`, empty packs, regulators high, wires hot`; the index is one of [`crate::figures::Figures::points`].
    #[must_use]
    pub fn point_words(&self, at: usize) -> String {
        self.analysis.figures.points.get(at).map_or_else(String::new, |point| {
            let mode = corner::mode(&self.analysis.design, point);
            format!("mode `{mode}`, {}", point.corner.words())
        })
    }

    /// The steady current of something named.
    pub(super) fn steady_current(&self, name: &str, flows: &[Flow]) -> Explained {
        let Some(at) = steady(flows) else {
            return Explained::new(what::STEADY_CURRENT, self.no_point());
        };
        let flow = flows.iter().find(|flow| flow.point == at.point);
        let amps = flow.map_or(at.value, |flow| flow.amps);
        let duty = self.duty(at.point);
        let current =
            Input::of("I", format!("current of `{name}` while the loads draw, network solved"), Amps(amps));
        let figure = Explained::new(what::STEADY_CURRENT, Amount::of(Amps(at.value)));
        let figure = if duty.amount == Amount::of(Share(1.0)) {
            figure.by("I", SOLVED).from([current]).noting(format!("they draw always: {}", duty.what))
        } else {
            figure.by("I_RMS = I · √duty", SOLVED).from([current, duty])
        };
        figure
            .at(Some(at.point))
            .noting("of the modes that may last: nothing blocked, nothing turned from outside")
    }

    /// The highest current of something named.
    pub(super) fn highest_current(&self, name: &str, flows: &[Flow]) -> Explained {
        let Some(at) = highest(flows) else {
            return Explained::new(what::HIGHEST_CURRENT, self.no_point());
        };
        Explained::new(what::HIGHEST_CURRENT, Amount::of(Amps(at.value)))
            .by("I", SOLVED)
            .from([Input::of("I", format!("current of `{name}`, network solved"), Amps(at.value))])
            .at(Some(at.point))
            .noting("of every mode, however short it lasts")
    }

    /// The duty of a point's mode as an input.
    fn duty(&self, at: usize) -> Input {
        let design = &self.analysis.design;
        let point = self.analysis.figures.points.get(at);
        let mode = point.and_then(|point| design.modes.get(point.mode.index()));
        let duty = point.map_or(Share(1.0), |point| point.duty);
        let name = mode.map_or("", |mode| mode.name.as_str());
        let stated = mode.and_then(|mode| facts::find(&mode.facts, key::DUTY));
        let origin = stated.map_or_else(|| "not stated, so always".to_owned(), |rated| self.origin(rated));
        Input::of("duty", format!("duty of mode `{name}`, {origin}"), duty)
    }

    /// What keeps a figure from being told where no point that counts is solved.
    #[expect(clippy::unused_self, reason = "the words may come to depend on the modes that are asked for")]
    pub(super) fn no_point(&self) -> Amount {
        Amount::NotAssessed("a working point".to_owned())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_first_of_the_largest_counts_and_what_is_no_number_does_not() {
        let values = [1.0, 3.0, f64::NAN, 3.0 + 1e-12, f64::INFINITY, -7.0];
        let at = |(point, value)| At { value, point };
        let of = || values.into_iter().enumerate().map(at);
        assert_eq!(largest(of()), Some(At { value: 3.0, point: 1 }));
        assert_eq!(smallest(of()), Some(At { value: -7.0, point: 5 }));
        assert_eq!(largest([]), None);
    }
}
