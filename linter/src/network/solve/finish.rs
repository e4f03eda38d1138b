//! From the engine's clusters to the answer: currents of all elements, islands, voltages, and what is left over.

use crate::network::{ElementId, Law};

use super::{
    Working,
    attempt::Attempt,
    curve::Curve,
    island::{self, Parts},
};

/// Reads a settled attempt.
pub(super) fn finish(attempt: &Attempt<'_>, offsets: &[f64]) -> Working {
    let elements = &attempt.network.elements;
    let mut amps: Vec<f64> = (0..elements.len()).map(|number| attempt.engine.amps(number)).collect();
    attempt.plan.clusters.fill_currents(elements, &mut amps);
    let (island, lowest) = islands(attempt);
    let clusters = &attempt.plan.clusters;
    let level = |node: u32| attempt.engine.level(clusters.of[node as usize]);
    let volts = island::against_lowest(&island, &lowest, level, offsets);
    Working {
        residual: residual(attempt, &amps),
        volts,
        amps,
        island,
        closed: attempt.contacts.closed.clone(),
        running: attempt.drives.iter().map(|drive| drive.running).collect(),
        below_cutoff: below_cutoff(attempt),
        rounds: attempt.engine.rounds,
    }
}

fn islands(attempt: &Attempt<'_>) -> (Vec<u32>, Vec<u32>) {
    let mut parts = Parts::new(attempt.network.nodes as usize);
    for (number, element) in attempt.network.elements.iter().enumerate() {
        if attempt.plan.is_rigid(number) || attempt.engine.conducts(number) {
            parts.join(element.a.0, element.b.0);
        }
    }
    island::number(&mut parts)
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

fn asks(curve: Curve) -> bool {
    match curve {
        Curve::Power { watts, .. } => watts > 0.0,
        Curve::Held { high, .. } => high > 0.0,
        Curve::Fixed(_) => false,
    }
}
