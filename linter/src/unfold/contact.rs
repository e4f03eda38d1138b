//! Wires and contacts: what conducts, and what the mode opens.

use wattle_grammar::{
    kind::key,
    quantity::{Amps, Celsius, Ohms},
};

use super::usual;
use crate::{
    design::{Design, MateId, State, Thing, Wire},
    network::Law,
    physics::{conductor, fuse},
};

/// A wire at 20 °C: its stated resistance from end to end, else ρ₂₀ · length / area (see [`conductor::resistance`]) and
/// two crimps.
pub(super) fn wire(wire: &Wire) -> Law {
    Law::Resistor(wire_at(wire, usual::CONDUCTOR))
}

/// The resistance of a wire at a temperature. Crimps stay as they are.
pub(crate) fn wire_at(wire: &Wire, temperature: Celsius) -> Ohms {
    if let Some(stated) = wire.resistance {
        return conductor::COPPER.warmed(stated, temperature);
    }
    let copper = wire
        .size
        .as_ref()
        .zip(wire.length)
        .map_or(Ohms(0.0), |(size, length)| conductor::resistance(size.area, length, temperature));
    copper * over_copper(wire) + usual::CRIMP * 2.0
}

/// How many times the resistance of copper the wire's metal has.
pub(crate) const fn over_copper(wire: &Wire) -> f64 {
    if wire.aluminium { usual::ALUMINIUM_OVER_COPPER } else { 1.0 }
}

/// A mated way: the worse of the two halves' contact resistances; open when either half is.
pub(super) fn mated(design: &Design, mate: MateId, states: &[State]) -> Law {
    let Some(mate) = design.mates.get(mate.index()) else { return Law::Open };
    let halves = [mate.first.0, mate.second.0];
    if halves.iter().any(|half| states.get(half.index()) == Some(&State::Open)) {
        return Law::Open;
    }
    let [first, second] = halves.map(|half| contact_resistance(design.thing(half)));
    Law::Resistor(first.max(second))
}

/// A fuse or breaker: `resistance`, else cold by its rating (see [`fuse::cold_resistance`], which holds for blade fuses
/// and is near enough for the rest).
pub(super) fn protective(thing: &Thing, rated: Option<Amps>, state: State) -> Law {
    let usual = || rated.and_then(fuse::cold_resistance).unwrap_or(usual::PROTECTIVE);
    // The resistance on a battery is the pack's, not that of the fuse inside it.
    let stated = if thing.rated(key::BUILT_IN_FUSE).is_some() { None } else { thing.get(key::RESISTANCE) };
    contact(stated.unwrap_or_else(usual), state != State::Open)
}

/// A switch or stop: as the mode says; a break contact conducts and a make contact does not when it says nothing.
pub(super) fn hand(thing: &Thing, breaks: bool, state: State) -> Law {
    let closed = match state {
        State::Open => false,
        State::Closed => true,
        State::Plain | State::Draws(_) | State::Turned | State::Held => breaks,
    };
    contact(contact_resistance(thing), closed)
}

fn contact(resistance: Ohms, closed: bool) -> Law {
    if closed { Law::Resistor(resistance.max(usual::LEAST)) } else { Law::Open }
}

/// Contact resistance of a thing, at least [`usual::LEAST`].
pub(super) fn contact_resistance(thing: &Thing) -> Ohms {
    thing.get(key::CONTACT_RESISTANCE).unwrap_or(usual::CONTACT).max(usual::LEAST)
}
