//! Random networks from a size and a seed, the same every time.

use wattle_grammar::quantity::{Amps, Ohms, Volts, Watts};
use wattle_linter::network::{Element, Law, Network, NodeId};

/// Numbers that look random. A linear congruential generator (D. E. Knuth, MMIX constants).
#[derive(Clone, Debug)]
pub struct Numbers(pub u64);

impl Numbers {
    /// A whole number below `limit`, which must be above 0.
    pub fn below(&mut self, limit: u32) -> u32 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        ((self.0 >> 33) % u64::from(limit)) as u32
    }

    /// A number from `low` to `high`.
    pub fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * f64::from(self.below(1 << 24)) / f64::from(1 << 24)
    }

    /// Ten to a power between two.
    pub fn decade(&mut self, low: f64, high: f64) -> f64 {
        10f64.powf(self.between(low, high))
    }
}

/// An element.
#[must_use]
pub fn element(a: u32, b: u32, law: Law) -> Element {
    Element { a: NodeId(a), b: NodeId(b), law }
}

/// A resistor, ohm.
#[must_use]
pub fn resistor(ohms: f64) -> Law {
    Law::Resistor(Ohms(ohms))
}

/// An EMF, volt, behind a resistance, ohm.
#[must_use]
pub fn source(volts: f64, ohms: f64) -> Law {
    Law::Source { emf: Volts(volts), resistance: Ohms(ohms) }
}

/// A linear network of `nodes` nodes in `islands` islands: a random tree in each, with bars of high degree, and a tenth
/// more edges. Node `n` is in island `n % islands`. Conductances spread over 1e-4 to 1e4 S. Ideal sources and perfect
/// joints lie on tree edges only, so that they never form a loop.
#[must_use]
pub fn linear_network(nodes: u32, islands: u32, seed: u64) -> Network {
    let mut numbers = Numbers(seed);
    let mut network = Network { nodes, ..Network::default() };
    let mut join = |a: u32, b: u32, law: Law, swap: bool| {
        network.elements.push(if swap { element(b, a, law) } else { element(a, b, law) });
    };
    for node in islands..nodes {
        let before = node / islands;
        let rank = if numbers.below(3) == 0 { numbers.below(before.min(3)) } else { numbers.below(before) };
        let law = tree_law(&mut numbers);
        join(node, rank * islands + node % islands, law, numbers.below(2) == 0);
    }
    for _ in 0..nodes / 10 + 1 {
        let (a, b) = (numbers.below(nodes), numbers.below(nodes));
        if a != b && a % islands == b % islands {
            let law = extra_law(&mut numbers);
            join(a, b, law, numbers.below(2) == 0);
        }
    }
    network
}

fn tree_law(numbers: &mut Numbers) -> Law {
    match numbers.below(20) {
        0 => resistor(0.0),
        1 | 2 => source(numbers.between(-30.0, 60.0), 0.0),
        3..=5 => source(numbers.between(-30.0, 60.0), numbers.decade(-4.0, 4.0)),
        _ => resistor(numbers.decade(-4.0, 4.0)),
    }
}

fn extra_law(numbers: &mut Numbers) -> Law {
    match numbers.below(8) {
        0 => Law::Open,
        1 => Law::Current(Amps(numbers.between(-5.0, 5.0))),
        2 => source(numbers.between(-30.0, 60.0), numbers.decade(-4.0, 4.0)),
        _ => resistor(numbers.decade(-4.0, 4.0)),
    }
}

/// A robot's wiring of about `nodes` nodes: two batteries, a supply and a charger behind a diode on a plus bar, chains of
/// wires to loads of all kinds, some of them reversed or switched off, and a turned motor behind its driver's diodes.
/// The batteries can carry all loads when `weakness` is around 1; above that they sag, and collapse in the end.
#[must_use]
pub fn robot_network(nodes: u32, weakness: f64, seed: u64) -> Network {
    let mut numbers = Numbers(seed);
    let mut network = Network { nodes: 4, ..Network::default() };
    let battery = |numbers: &mut Numbers| {
        source(numbers.between(22.0, 25.2), weakness * numbers.between(0.2, 1.0) / f64::from(nodes))
    };
    for _ in 0..2 {
        let law = battery(&mut numbers);
        network.elements.push(element(1, 0, law));
    }
    let supply = Law::LimitedSource {
        emf: Volts(numbers.between(20.0, 30.0)),
        resistance: Ohms(0.01),
        limit: Amps(numbers.between(0.0, 10.0)),
        sinks: numbers.below(4) == 0,
    };
    network.elements.push(element(1, 0, supply));
    network.elements.push(element(2, 0, source(numbers.between(20.0, 30.0), 0.5)));
    network.elements.push(element(2, 1, diode(0.7, 0.02)));
    network.elements.push(element(3, 0, source(numbers.between(-30.0, 30.0), 1.0)));
    network.elements.push(element(3, 1, diode(0.7, 0.02)));
    network.elements.push(element(0, 3, diode(0.7, 0.02)));
    while network.nodes < nodes {
        let ohms = numbers.decade(-3.0, -1.0);
        let feed = grow(&mut network, 1, resistor(ohms));
        let end =
            grow(&mut network, feed, if numbers.below(10) == 0 { Law::Open } else { resistor(0.5 * ohms) });
        let back = grow(&mut network, 0, resistor(ohms));
        let law = load(&mut numbers);
        let reversed = numbers.below(20) == 0;
        network.elements.push(if reversed { element(back, end, law) } else { element(end, back, law) });
    }
    network
}

fn grow(network: &mut Network, from: u32, law: Law) -> u32 {
    let to = network.nodes;
    network.nodes += 1;
    network.elements.push(element(from, to, law));
    to
}

/// A diode: forward drop, volt, and slope resistance, ohm.
#[must_use]
pub fn diode(volts: f64, ohms: f64) -> Law {
    Law::Diode { drop: Volts(volts), resistance: Ohms(ohms) }
}

/// A power load, watt, with its cut-off, volt.
#[must_use]
pub fn power_load(watts: f64, cutoff: f64) -> Law {
    Law::PowerLoad { watts: Watts(watts), cutoff: Volts(cutoff) }
}

/// A current load, ampere, with its cut-off, volt.
#[must_use]
pub fn current_load(amps: f64, cutoff: f64) -> Law {
    Law::CurrentLoad { amps: Amps(amps), cutoff: Volts(cutoff) }
}

fn load(numbers: &mut Numbers) -> Law {
    match numbers.below(5) {
        0 => resistor(numbers.decade(0.5, 4.0)),
        1 => current_load(numbers.between(0.0, 2.0), numbers.between(3.0, 20.0)),
        2 | 3 => power_load(numbers.between(0.0, 20.0), numbers.between(5.0, 16.0)),
        _ => diode(numbers.between(1.0, 30.0), numbers.between(1.0, 50.0)),
    }
}
