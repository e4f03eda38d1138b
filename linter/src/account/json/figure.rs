//! A figure in JSON: its amount, its point, and what it stands on.

use serde::Serialize;

use super::super::{Entry, View, corner, csv};
use crate::{
    explained::{Amount, Explained, Input},
    report::measure,
};

/// A figure of the long list.
#[derive(Serialize)]
pub(super) struct FigureEntry<'a> {
    thing: &'a str,
    of: &'static str,
    figure: &'a str,
    #[serde(flatten)]
    amount: AmountEntry<'a>,
    mode: Option<&'a str>,
    corner: Option<String>,
    basis: String,
}

/// How much something is: one of the three is there.
#[derive(Serialize)]
pub(super) struct AmountEntry<'a> {
    value: Option<f64>,
    unit: Option<&'static str>,
    words: Option<&'a str>,
    missing: Option<&'a str>,
}

/// The figures of an entry for the long list.
pub(super) fn short<'a>(view: &'a View<'_>, entry: &'a Entry) -> impl Iterator<Item = FigureEntry<'a>> {
    entry.figures.iter().map(move |figure| {
        let (mode, corner) = point(view, figure);
        FigureEntry {
            thing: &entry.name,
            of: entry.section.word(),
            figure: &figure.what,
            amount: amount(&figure.amount),
            mode,
            corner,
            basis: csv::basis(figure),
        }
    })
}

fn amount(amount: &Amount) -> AmountEntry<'_> {
    let none = AmountEntry { value: None, unit: None, words: None, missing: None };
    match amount {
        // Adding nothing makes a zero of a negative zero.
        Amount::Value(value, dimension) => {
            AmountEntry { value: Some(value + 0.0), unit: Some(measure::code(*dimension)), ..none }
        }
        Amount::Pulse(joules) => {
            AmountEntry { value: Some(joules.0 + 0.0), unit: Some(measure::JOULE), ..none }
        }
        Amount::Words(words) => AmountEntry { words: Some(words), ..none },
        Amount::NotAssessed(missing) => AmountEntry { missing: Some(missing), ..none },
    }
}

fn point<'a>(view: &View<'a>, figure: &Explained) -> (Option<&'a str>, Option<String>) {
    let analysis = view.analysis;
    let point = figure.point.and_then(|at| analysis.figures.points.get(at));
    (point.map(|point| corner::mode(&analysis.design, point)), point.map(corner::words))
}

/// A figure with its whole derivation.
#[derive(Serialize)]
pub(super) struct Derived<'a> {
    figure: &'a str,
    #[serde(flatten)]
    amount: AmountEntry<'a>,
    mode: Option<&'a str>,
    corner: Option<String>,
    formula: &'a str,
    inputs: Vec<InputEntry<'a>>,
    source: &'a str,
    evidence: &'static str,
    notes: &'a [String],
}

#[derive(Serialize)]
struct InputEntry<'a> {
    symbol: &'static str,
    what: &'a str,
    #[serde(flatten)]
    amount: AmountEntry<'a>,
}

/// A figure with its whole derivation.
pub(super) fn derived<'a>(view: &View<'a>, figure: &'a Explained) -> Derived<'a> {
    let (mode, corner) = point(view, figure);
    let input = |input: &'a Input| InputEntry {
        symbol: input.symbol,
        what: &input.what,
        amount: amount(&input.amount),
    };
    Derived {
        figure: &figure.what,
        amount: amount(&figure.amount),
        mode,
        corner,
        formula: &figure.formula,
        inputs: figure.inputs.iter().map(input).collect(),
        source: &figure.source,
        evidence: figure.evidence.phrase(),
        notes: &figure.notes,
    }
}
