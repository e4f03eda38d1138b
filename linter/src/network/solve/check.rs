//! Whether a network's numbers can be computed with at all.

use wattle_grammar::quantity::{Amps, Ohms, Volts, Watts};

use crate::network::{Converter, ElementId, Follower, Law, Network, Unsolved};

/// Largest voltage, current or power that is taken for a number of a robot, in volt, ampere, watt.
const LARGEST: f64 = 1e12;

/// Largest resistance, ohm.
const LARGEST_OHMS: f64 = 1e30;

/// Smallest cut-off voltage, volt.
const LEAST_CUTOFF: f64 = 1e-6;

/// Checks every number and every reference of a network.
///
/// # Errors
/// [`Unsolved::NotFinite`] with the first element whose law, or whose follower or converter, is out of range.
pub(super) fn check(network: &Network) -> Result<(), Unsolved> {
    let nodes = network.nodes;
    for (number, element) in network.elements.iter().enumerate() {
        if element.a.0 >= nodes || element.b.0 >= nodes || !law_is_sound(&element.law) {
            return Err(Unsolved::NotFinite(ElementId(number as u32)));
        }
    }
    let bad = network.followers.iter().find(|follower| !follower_is_sound(network, follower));
    if let Some(follower) = bad {
        return Err(Unsolved::NotFinite(follower.contact));
    }
    match network.converters.iter().find(|converter| !converter_is_sound(network, converter)) {
        Some(converter) => Err(Unsolved::NotFinite(converter.input)),
        None => Ok(()),
    }
}

fn law_is_sound(law: &Law) -> bool {
    match *law {
        Law::Resistor(resistance) => resistance_is_sound(resistance),
        Law::Source { emf, resistance } => any(emf.0) && resistance_is_sound(resistance),
        Law::LimitedSource { emf, resistance, limit, .. } => {
            any(emf.0) && resistance_is_sound(resistance) && positive(limit.0)
        }
        Law::Current(amps) => any(amps.0),
        Law::CurrentLoad { amps: Amps(asked), cutoff } | Law::PowerLoad { watts: Watts(asked), cutoff } => {
            positive(asked) && positive(cutoff.0) && cutoff.0 >= LEAST_CUTOFF
        }
        Law::Diode { drop: Volts(drop), resistance } => any(drop) && resistance_is_sound(resistance),
        Law::Open => true,
    }
}

fn follower_is_sound(network: &Network, follower: &Follower) -> bool {
    let known = |id: ElementId| (id.0 as usize) < network.elements.len();
    let contact = network.elements.get(follower.contact.0 as usize);
    known(follower.coil)
        && contact.is_some_and(|contact| matches!(contact.law, Law::Resistor(_) | Law::Open))
        && resistance_is_sound(follower.closed)
        && positive(follower.operate.0)
        && positive(follower.release.0)
}

fn converter_is_sound(network: &Network, converter: &Converter) -> bool {
    let law = |id: ElementId| network.elements.get(id.0 as usize).map(|element| element.law);
    matches!(law(converter.input), Some(Law::PowerLoad { .. }))
        && matches!(law(converter.output), Some(Law::LimitedSource { .. }))
        && converter.efficiency.0 > 0.0
        && converter.efficiency.0 <= 1.0
        && positive(converter.quiescent.0)
        && positive(converter.output_volts.0)
        && any(converter.dropout.0)
        && positive(converter.lowest_input.0)
}

fn any(value: f64) -> bool {
    value.abs() <= LARGEST
}

fn positive(value: f64) -> bool {
    (0.0..=LARGEST).contains(&value)
}

fn resistance_is_sound(Ohms(resistance): Ohms) -> bool {
    (0.0..=LARGEST_OHMS).contains(&resistance)
}
