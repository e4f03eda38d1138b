//! From the engine's clusters to the answer: currents of all elements, islands, voltages, and what is left over.

use crate::network::{Element, ElementId, Law};

use super::{Working, attempt::Attempt, curve::Curve};

/// Reads a settled attempt.
pub(super) fn finish(attempt: &Attempt<'_>, offsets: &[f64]) -> Working {
    let elements = &attempt.network.elements;
    let clusters = &attempt.plan.clusters;
    let islands = attempt.islands.as_deref().unwrap_or_default();
    let island: Vec<u32> = clusters.of.iter().map(|&cluster| islands[cluster as usize]).collect();
    let mut amps = currents(attempt, &island);
    clusters.fill_currents(elements, &mut amps);
    Working {
        residual: residual(attempt, &amps),
        volts: against_lowest(attempt, &island, offsets),
        amps,
        island,
        closed: attempt.contacts.closed.clone(),
        running: attempt.drives.iter().map(|drive| drive.running).collect(),
        below_cutoff: below_cutoff(attempt),
        rounds: attempt.engine.rounds,
    }
}

/// The current of each element that is not rigid, ampere. Between islands nothing flows, not even rounding.
fn currents(attempt: &Attempt<'_>, island: &[u32]) -> Vec<f64> {
    let elements = attempt.network.elements.iter().enumerate();
    let current = |(number, element): (usize, &Element)| {
        let joined = island[element.a.0 as usize] == island[element.b.0 as usize];
        if joined { attempt.engine.amps(number) } else { 0.0 }
    };
    elements.map(current).collect()
}

/// The voltage of each node against the lowest node of its island, volt.
fn against_lowest(attempt: &Attempt<'_>, island: &[u32], offsets: &[f64]) -> Vec<f64> {
    let level = |node: usize| attempt.engine.level(attempt.plan.clusters.of[node]);
    let mut lowest = Vec::new();
    let mut volts = Vec::with_capacity(island.len());
    for (node, &island) in island.iter().enumerate() {
        if island as usize == lowest.len() {
            lowest.push(node);
        }
        let reference = lowest[island as usize];
        volts.push(level(node).minus_plus(level(reference), offsets[node] - offsets[reference]));
    }
    volts
}

fn residual(attempt: &Attempt<'_>, amps: &[f64]) -> f64 {
    let mut left_over = vec![0.0f64; attempt.network.nodes as usize];
    for (element, current) in attempt.network.elements.iter().zip(amps) {
        left_over[element.a.0 as usize] += current;
        left_over[element.b.0 as usize] -= current;
    }
    left_over.iter().fold(0.0, |worst, left| worst.max(left.abs()))
}

/// The loads that ask for something and stand below their cut-off.
fn below_cutoff(attempt: &Attempt<'_>) -> Vec<ElementId> {
    let elements = attempt.network.elements.iter().enumerate();
    let below = elements.filter(|(number, element)| {
        let (Law::PowerLoad { cutoff, .. } | Law::CurrentLoad { cutoff, .. }) = element.law else {
            return false;
        };
        asks(attempt.engine.curve(*number)) && attempt.engine.volts(*number) < cutoff.0
    });
    below.map(|(number, _)| ElementId(number as u32)).collect()
}

pub(super) fn asks(curve: Curve) -> bool {
    match curve {
        Curve::Power { watts, .. } => watts > 0.0,
        Curve::Held { high, .. } => high > 0.0,
        Curve::Fixed(_) => false,
    }
}
