//! The laws of elements, written down a second time, plainly.

use wattle_grammar::quantity::{Amps, Ohms, Volts, Watts};
use wattle_linter::network::{Law, Network, Working};

/// The current of a law at a voltage; `None` where the law leaves it open (perfect joints and ideal sources).
#[must_use]
pub fn current(law: Law, v: f64) -> Option<f64> {
    Some(match law {
        Law::Resistor(Ohms(0.0)) | Law::Source { resistance: Ohms(0.0), .. } => return None,
        Law::Resistor(Ohms(r)) => v / r,
        Law::Source { emf: Volts(emf), resistance: Ohms(r) } => (v - emf) / r,
        Law::LimitedSource { emf: Volts(emf), resistance: Ohms(r), limit: Amps(limit), sinks } => {
            let given = (emf - v) / r;
            if given > limit {
                -limit
            } else if given < 0.0 && !sinks {
                0.0
            } else {
                -given
            }
        }
        Law::Current(Amps(amps)) => amps,
        Law::CurrentLoad { .. } | Law::PowerLoad { .. } if v <= 0.0 => 0.0,
        Law::CurrentLoad { amps: Amps(amps), cutoff: Volts(cutoff) } if v < cutoff => amps * v / cutoff,
        Law::CurrentLoad { amps: Amps(amps), .. } => amps,
        Law::PowerLoad { watts: Watts(watts), cutoff: Volts(cutoff) } if v < cutoff => {
            v * watts / cutoff.powi(2)
        }
        Law::PowerLoad { watts: Watts(watts), .. } => watts / v,
        Law::Diode { drop: Volts(drop), resistance: Ohms(r) } => ((v - drop) / r).max(0.0),
        Law::Open => 0.0,
    })
}

/// Asserts that a network without followers and converters satisfies every law and Kirchhoff's current law.
///
/// # Panics
/// When it does not.
pub fn assert_solved(network: &Network, working: &Working) {
    let largest = working.amps.iter().fold(0.0f64, |most, amps| most.max(amps.abs()));
    let size = working.volts.iter().fold(0.0f64, |most, volts| most.max(volts.abs()));
    let mut left = vec![0.0f64; network.nodes as usize];
    for (element, &amps) in network.elements.iter().zip(&working.amps) {
        let (a, b) = (element.a.0 as usize, element.b.0 as usize);
        left[a] += amps;
        left[b] -= amps;
        if working.island[a] != working.island[b] {
            assert_eq!(amps, 0.0, "{element:?} joins two islands");
            continue;
        }
        let v = working.volts[a] - working.volts[b];
        // What the last place of a node voltage is worth in current.
        let place = 4.0 * f64::EPSILON * (size + v.abs());
        let (low, high) = (current(element.law, v - place), current(element.law, v + place));
        if let (Some(low), Some(high)) = (low, high) {
            let slack = 1e-9 * largest + 1e-15;
            let (low, high) = (low.min(high) - slack, low.max(high) + slack);
            assert!(
                amps >= low && amps <= high,
                "{element:?} at {v} V carries {amps} A, not {low} to {high}"
            );
        }
    }
    let worst = left.iter().fold(0.0f64, |worst, left| worst.max(left.abs()));
    assert!(worst <= 1e-9 * largest + 1e-18, "{worst} A left over of {largest} A");
}
