//! How capacitors are filled through a resistance before the main contact closes.

use wattle_grammar::quantity::{Amps, Farads, Ohms, Share, Volts};

use super::{Precharge, Seen, capacity::Capacity, is_full};
use crate::{
    figures::Point,
    frozen::Frozen,
    network::Law,
    physics::capacitor::{charging_time, energy},
    topology::LinkId,
};

/// Less than this share of what the batteries give is no pre-charge.
const NOTICED: f64 = 0.1;

/// What an empty capacitor passes while voltages are looked up.
const BLEED: Ohms = Ohms(1e6);

/// The first mode in which the contact stands open and the capacitors come to a voltage all the same.
pub(super) fn precharge(seen: &Seen<'_>, into: &[Capacity<'_>], contact: &[LinkId]) -> Option<Precharge> {
    let open = |point: &Point| contact.iter().all(|link| point.is_closed(*link) == Some(false));
    let points = seen.figures.points.iter().enumerate();
    let mut full = points
        .filter(|(_, point)| point.ordinary && is_full(point) && point.working().is_some() && open(point));
    full.find_map(|(at, point)| in_mode(seen, into, at, point))
}

fn in_mode(seen: &Seen<'_>, into: &[Capacity<'_>], at: usize, point: &Point) -> Option<Precharge> {
    let lowest = |volts: &dyn Fn(&Capacity<'_>) -> Volts| into.iter().map(volts).reduce(Volts::min);
    // With what is on the bus, as the mode has it: a load there keeps the voltage down.
    let reaches = lowest(&|one| point.volts_across(one.link.a, one.link.b).unwrap_or(Volts(0.0)))?;
    let mut frozen = Frozen::new(seen.topology, point)?;
    into.iter().for_each(|one| frozen.set(one.id, Law::Resistor(BLEED)));
    let still = frozen.solve()?;
    let unloaded = lowest(&|one| still.volts(one.link.a, one.link.b))?;
    if unloaded <= Volts(0.0) || reaches < unloaded * NOTICED {
        return None;
    }
    for one in into {
        frozen.set(one.id, Law::Source { emf: Volts(0.0), resistance: one.series });
    }
    let empty = frozen.solve()?;
    let first = into.iter().map(|one| empty.amps(one.id)).sum::<Amps>();
    if first.0 <= 0.0 {
        return None;
    }
    let resistance = unloaded / first;
    let farads: Farads = into.iter().map(|one| one.farads).sum();
    Some(Precharge {
        point: at,
        reaches,
        resistance,
        to_95: charging_time(resistance, farads, Share(0.95)),
        to_99: charging_time(resistance, farads, Share(0.99)),
        energy: energy(farads, unloaded),
    })
}
