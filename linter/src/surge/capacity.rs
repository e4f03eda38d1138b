//! The capacitors of a robot: those of their own, and those across the supply of other parts.

use wattle_grammar::{
    kind::key,
    quantity::{Farads, Ohms, Seconds},
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
    /// Its series resistance, as stated or usual.
    pub(super) series: Ohms,
    /// It fills slowly by itself.
    pub(super) soft: bool,
}

/// Every capacitor whose capacitance is stated, in thing order.
pub(super) fn capacities<'a>(seen: &Seen<'a>) -> Vec<Capacity<'a>> {
    let things = seen.design.things();
    things.filter_map(|(id, _)| capacity(seen.design, seen.topology, id)).collect()
}

/// Series resistance times capacitance of a good electrolytic capacitor (common practice: 20 µs to 100 µs).
const SERIES_TIME: Seconds = Seconds(20e-6);

/// Series resistance of a small capacitor at most, ceramic ones among them (common practice).
const MOST_SERIES: Ohms = Ohms(10e-3);

/// The series resistance of a capacitor that states none: a low one, so that the current comes out high.
fn usual_series(farads: Farads) -> Ohms {
    Ohms(SERIES_TIME.0 / farads.0).min(MOST_SERIES)
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
        series: stated.unwrap_or_else(|| usual_series(farads)).max(usual::LEAST),
        soft: found.flag(key::SOFT_START) == Some(true),
    })
}
