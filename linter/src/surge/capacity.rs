//! The capacitors of a robot: those of their own, and those across the supply of other parts.

use wattle_grammar::{
    kind::key,
    quantity::{Farads, Ohms},
};

use super::Seen;
use crate::{
    design::{Design, ThingId},
    topology::{Link, LinkId, Nature, Topology},
    unfold::usual,
};

/// A capacitor between the two nodes of a link.
#[derive(Clone, Copy, Debug)]
pub(super) struct Capacity<'a> {
    pub(super) thing: ThingId,
    pub(super) id: LinkId,
    pub(super) link: &'a Link,
    pub(super) farads: Farads,
    /// Its series resistance; next to nothing where it is not stated.
    pub(super) series: Ohms,
    /// It fills slowly by itself.
    pub(super) soft: bool,
}

/// Every capacitor whose capacitance is stated, in thing order.
pub(super) fn capacities<'a>(seen: &Seen<'a>) -> Vec<Capacity<'a>> {
    let things = seen.design.things();
    things.filter_map(|(id, _)| capacity(seen.design, seen.topology, id)).collect()
}

fn capacity<'a>(design: &Design, topology: &'a Topology, thing: ThingId) -> Option<Capacity<'a>> {
    let found = design.thing(thing);
    let farads = found.get::<Farads>(key::CAPACITANCE).filter(|farads| *farads > Farads(0.0))?;
    let across = |nature| {
        matches!(nature, Nature::Capacitor | Nature::DriverInput | Nature::ConverterInput | Nature::Load)
    };
    let (id, link) = topology.inside(thing).find(|(_, link)| across(link.nature))?;
    let stated = found.get::<Ohms>(key::RESISTANCE).filter(|_| link.nature == Nature::Capacitor);
    Some(Capacity {
        thing,
        id,
        link,
        farads,
        series: stated.unwrap_or(usual::LEAST).max(usual::LEAST),
        soft: found.flag(key::SOFT_START) == Some(true),
    })
}
