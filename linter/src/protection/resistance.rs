//! What a link sets against a fault current, cold or hot, and which way it lets one pass.

use wattle_grammar::{
    kind::{KindId, key},
    quantity::{Amps, Celsius, Ohms},
};

use crate::{
    conductors::DEFAULT_INSULATION,
    design::{Design, Wire},
    physics::{
        conductor::COPPER,
        constant::REFERENCE_TEMPERATURE,
        fuse::{self, HOT_OVER_COLD},
    },
    topology::{Link, Nature, Owner, Topology},
    unfold::{over_copper, usual},
};

/// How warm everything on the way is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Warmth {
    /// 20 °C: what lets the most pass.
    Cold,
    /// Conductors at the temperature class of their insulation, fuses hot: what lets the least pass.
    Hot,
}

/// How a fault current passes a link.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Passage {
    /// Either way.
    Both(Ohms),
    /// From `a` to `b` only, as through a diode.
    Forward(Ohms),
    /// From `b` to `a` only.
    Backward(Ohms),
    /// Either way, at most this much: a stated limit.
    Limited(Amps),
    /// From `b` to `a`, at most this much: a driver that limits itself.
    LimitedBackward(Amps),
    /// Not at all.
    Blocked,
}

/// How a link passes a fault current with every contact closed.
pub(super) fn passage(design: &Design, topology: &Topology, link: &Link, warmth: Warmth) -> Passage {
    let both = |ohms: Ohms| Passage::Both(ohms.max(usual::LEAST));
    match link.nature {
        Nature::Wire => match link.owner {
            Owner::Wire(id) => design.wires.get(id.index()).map_or(Passage::Blocked, |wire| {
                wire.current_limit
                    .map_or_else(|| both(wire_resistance(wire, warmth)), |(amps, _)| Passage::Limited(amps))
            }),
            _ => both(usual::CRIMP),
        },
        Nature::Mated | Nature::HandContact { .. } | Nature::CoilContact { .. } => {
            both(contact(design, link))
        }
        Nature::Protective { rated } => both(protective(design, link, rated, warmth)),
        Nature::Shunt(ohms) => both(ohms),
        Nature::Resistor(ohms) if ohms.0.is_finite() => both(ohms),
        Nature::Diode => Passage::Forward(usual::DIODE),
        Nature::BridgeDiode if is_upper(design, topology, link) => driver_passage(design, link),
        _ => Passage::Blocked,
    }
}

/// A wire: its stated resistance, else copper of its size and length and two crimps.
pub(super) fn wire_resistance(wire: &Wire, warmth: Warmth) -> Ohms {
    let temperature = match warmth {
        Warmth::Cold => REFERENCE_TEMPERATURE,
        Warmth::Hot => class(wire).max(REFERENCE_TEMPERATURE),
    };
    if let Some(stated) = wire.resistance {
        return COPPER.warmed(stated, temperature);
    }
    let area = wire.size.as_ref().map(|size| size.area).filter(|area| area.0 > 0.0);
    let metal = area
        .zip(wire.length)
        .map_or(Ohms(0.0), |(area, length)| COPPER.resistance(area, length, temperature) * over_copper(wire));
    metal + usual::CRIMP * 2.0
}

/// The temperature class of a wire's insulation.
pub(super) fn class(wire: &Wire) -> Celsius {
    wire.insulation.unwrap_or(DEFAULT_INSULATION)
}

fn contact(design: &Design, link: &Link) -> Ohms {
    let of =
        |thing: &crate::design::Thing| thing.get::<Ohms>(key::CONTACT_RESISTANCE).unwrap_or(usual::CONTACT);
    match link.owner {
        Owner::Thing(id, _) => design.things.get(id.index()).map_or(usual::CONTACT, of),
        Owner::MatedWay(mate, _) => design.mates.get(mate.index()).map_or(usual::CONTACT, |mate| {
            of(design.thing(mate.first.0)).max(of(design.thing(mate.second.0)))
        }),
        Owner::Wire(_) => usual::CRIMP,
    }
}

fn protective(design: &Design, link: &Link, rated: Option<Amps>, warmth: Warmth) -> Ohms {
    let thing = match link.owner {
        Owner::Thing(id, _) => design.things.get(id.index()),
        _ => None,
    };
    // The resistance on a battery is the pack's, not that of the fuse inside it.
    let own = thing.filter(|thing| thing.id() != KindId::Battery);
    let stated = own.and_then(|thing| thing.get::<Ohms>(key::RESISTANCE));
    let cold = stated.or_else(|| fuse::cold_resistance(rated?)).unwrap_or(usual::PROTECTIVE);
    if warmth == Warmth::Hot { cold * HOT_OVER_COLD } else { cold }
}

/// Whether the diode's cathode is the driver's positive supply: then the bridge above it can drive the lead.
fn is_upper(design: &Design, topology: &Topology, link: &Link) -> bool {
    let Owner::Thing(thing, _) = link.owner else { return false };
    design.terminal_named(thing, "pos").and_then(|pos| topology.node(pos)) == Some(link.b)
}

fn driver_passage(design: &Design, link: &Link) -> Passage {
    let Owner::Thing(thing, _) = link.owner else { return Passage::Blocked };
    let limit = design.thing(thing).get::<Amps>(key::CURRENT_LIMIT);
    limit.map_or(Passage::Backward(usual::BRIDGE), Passage::LimitedBackward)
}
