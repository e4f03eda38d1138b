//! Regulators: what the output gives, the input draws.

use wattle_grammar::{
    kind::key,
    quantity::{Amps, Share, Volts, Watts},
};

use super::{load, usual};
use crate::{
    design::Thing,
    network::{Converter, ElementId, Law},
};

/// The input: its power follows the output.
pub(super) fn input(regulator: &Thing) -> Law {
    Law::PowerLoad { watts: Watts(0.0), cutoff: lowest_input(regulator) }
}

/// The output: its voltage up to its limit; nothing when its voltage is not stated.
pub(super) fn output(regulator: &Thing) -> Law {
    let Some(emf) = output_volts(regulator) else { return Law::Open };
    let sinks = regulator.flag(key::SINKS) == Some(true);
    Law::LimitedSource { emf, resistance: usual::REGULATOR, limit: limit(regulator), sinks }
}

/// The converter over both; `None` when its voltage is not stated.
pub(super) fn converter(regulator: &Thing, input: ElementId, output: ElementId) -> Option<Converter> {
    Some(Converter {
        input,
        output,
        efficiency: efficiency(regulator),
        linear: is_linear(regulator),
        quiescent: regulator.get(key::QUIESCENT).unwrap_or(Amps(0.0)),
        output_volts: output_volts(regulator)?,
        dropout: dropout(regulator)?,
        lowest_input: lowest_input(regulator),
    })
}

fn output_volts(regulator: &Thing) -> Option<Volts> {
    regulator.get::<Volts>(key::OUTPUT).or_else(|| regulator.get(key::VOLTAGE))
}

/// `current-limit`, else 1.2 times the rated current.
fn limit(regulator: &Thing) -> Amps {
    let over_rated = || regulator.get::<Amps>(key::CURRENT).map(|rated| rated * usual::LIMIT_OVER_RATED);
    regulator.get(key::CURRENT_LIMIT).or_else(over_rated).unwrap_or(usual::REGULATOR_LIMIT)
}

fn efficiency(regulator: &Thing) -> Share {
    let stated = regulator.get(key::EFFICIENCY).unwrap_or(usual::REGULATOR_EFFICIENCY);
    // A share of 0 would draw without end; the table's limits keep written ones above it.
    stated.max(Share(0.01)).min(Share(1.0))
}

fn is_linear(regulator: &Thing) -> bool {
    regulator.word(key::STYLE) == Some("linear")
}

/// As stated, else by style; of one that can raise its voltage the whole output, below zero: whatever comes in, the output
/// holds. `None` when its output is not stated.
fn dropout(regulator: &Thing) -> Option<Volts> {
    let by_style = match regulator.word(key::STYLE) {
        Some("boost" | "buck-boost") => return Some(Volts(-output_volts(regulator)?.0)),
        Some("linear") => usual::LINEAR_DROPOUT,
        Some("buck") => usual::BUCK_DROPOUT,
        _ => Volts(0.0),
    };
    Some(regulator.get(key::DROPOUT).unwrap_or(by_style))
}

/// Lower end of its input range, at least [`usual::CUTOFF`]: from a dead input a regulator makes nothing, whatever its
/// style and whether or not its range is stated.
fn lowest_input(regulator: &Thing) -> Volts {
    load::lowest_supply(regulator).unwrap_or(usual::CUTOFF).max(usual::CUTOFF)
}
