//! What flows when a contact closes onto empty capacitors.

use std::collections::BTreeMap;

use wattle_grammar::{
    kind::key,
    quantity::{Amps, Farads, Ohms, Volts},
};

use super::{
    Closing, Contact, Seen,
    capacity::{Capacity, capacities},
    precharge,
};
use crate::{
    design::{Design, MateId, ThingId},
    figures::Point,
    frozen::{Frozen, Still},
    missing::Missing,
    network::Law,
    topology::{LinkId, Nature, Owner, Topology},
};

/// What an empty capacitor passes while voltages are looked up: next to nothing, so that it has one.
const BLEED: Ohms = Ohms(1e6);

/// A capacitor is filled by a contact when it has less than this share of its voltage without it.
const FILLED: f64 = 0.9;

/// A current of less than this is none.
const NOTICED: Amps = Amps(1e-6);

/// Every contact that closes onto capacitors: things in their order, then mated pairs. What is known already is not
/// computed again.
pub(super) fn closings(seen: &Seen<'_>, known: &BTreeMap<Contact, Option<Closing>>) -> Vec<Closing> {
    let all = capacities(seen);
    if all.iter().all(|one| one.soft) {
        return Vec::new();
    }
    let things = seen.design.things().map(|(id, _)| Contact::Thing(id));
    let mates = (0u32..).take(seen.design.mates.len()).map(|mate| Contact::Mate(MateId(mate)));
    let found = |contact| known.get(&contact).cloned().unwrap_or_else(|| onto(seen, &all, contact));
    things.chain(mates).filter_map(found).collect()
}

/// What flows when one contact closes; `None` when it is none, closes in no mode or fills nothing.
pub(super) fn onto(seen: &Seen<'_>, all: &[Capacity<'_>], contact: Contact) -> Option<Closing> {
    let links = links(seen.topology, contact);
    let closed = |point: &Point| links.iter().any(|link| point.is_closed(*link) == Some(true));
    let at = if links.is_empty() { None } else { seen.full_point(closed) }?;
    let point = seen.figures.points.get(at)?;
    let closed: Vec<LinkId> =
        links.iter().copied().filter(|link| point.is_closed(*link) == Some(true)).collect();
    let before = opened(point, all, &closed);
    let after = at_rest(seen, point, all)?;
    let states: Vec<State<'_>> =
        all.iter().map(|one| State::new(one, point, before.as_ref(), &after)).collect();
    let filled: Vec<&State<'_>> = states.iter().filter(|state| state.is_filled()).collect();
    let farads: Farads = filled.iter().map(|state| state.of.farads).sum();
    if farads <= Farads(0.0) {
        return None;
    }
    let peak = surge(seen, point, &states, &closed).filter(|peak| *peak > NOTICED)?;
    // What the capacitors lack, weighed by how much they take.
    let lack: f64 = filled.iter().map(|state| state.of.farads.0 * state.lacks().0).sum();
    let volts = Volts(lack / farads.0);
    Some(Closing {
        contact,
        point: at,
        into: filled.iter().map(|state| state.of.thing).collect(),
        capacitance: farads,
        volts,
        path: volts / peak,
        peak,
        makes: makes(seen.design, contact),
        precharge: precharge::precharge(
            seen,
            &filled.iter().map(|state| *state.of).collect::<Vec<_>>(),
            &closed,
        ),
    })
}

/// The contacts of a thing or the ways of a mate.
fn links(topology: &Topology, contact: Contact) -> Vec<LinkId> {
    match contact {
        Contact::Thing(thing) => {
            let is_contact =
                |nature| matches!(nature, Nature::HandContact { .. } | Nature::CoilContact { .. });
            topology.inside(thing).filter(|(_, link)| is_contact(link.nature)).map(|(id, _)| id).collect()
        }
        Contact::Mate(mate) => {
            let is_way = |owner| matches!(owner, Owner::MatedWay(of, _) if of == mate);
            let all = (0u32..).map(LinkId).zip(&topology.links);
            all.filter(|(_, link)| is_way(link.owner)).map(|(id, _)| id).collect()
        }
    }
}

/// The robot before the contact closes, its loads as they are; `None` when they keep it from any working point, so that
/// nothing counts as filled.
fn opened(point: &Point, all: &[Capacity<'_>], contact: &[LinkId]) -> Option<Still> {
    let mut frozen = Frozen::loaded(point)?;
    contact.iter().for_each(|link| frozen.set(*link, Law::Open));
    for one in all.iter().filter(|one| one.link.nature == Nature::Capacitor) {
        frozen.set(one.id, Law::Resistor(BLEED));
    }
    frozen.solve()
}

/// The robot with the contact closed and everything filled, without loads.
fn at_rest(seen: &Seen<'_>, point: &Point, all: &[Capacity<'_>]) -> Option<Still> {
    let mut frozen = Frozen::new(seen.topology, point)?;
    all.iter().for_each(|one| frozen.set(one.id, Law::Resistor(BLEED)));
    frozen.solve()
}

/// A capacitor before and after.
struct State<'a> {
    of: &'a Capacity<'a>,
    before: Volts,
    after: Volts,
    /// What it has in the mode, loads and all.
    working: Volts,
}

impl<'a> State<'a> {
    fn new(of: &'a Capacity<'a>, point: &Point, before: Option<&Still>, after: &Still) -> Self {
        let (a, b) = (of.link.a, of.link.b);
        Self {
            of,
            before: before.map_or(Volts(0.0), |still| still.volts(a, b)).max(Volts(0.0)),
            after: after.volts(a, b).max(Volts(0.0)),
            working: point.volts_across(a, b).unwrap_or(Volts(0.0)),
        }
    }

    /// Whether the contact fills it: without the contact it has clearly less than it works with.
    fn is_filled(&self) -> bool {
        !self.of.soft && self.before < self.working * FILLED && self.lacks() > Volts(0.0)
    }

    fn lacks(&self) -> Volts {
        self.after - self.before
    }

    /// What it has at the moment of closing: one that the contact does not fill is full.
    fn at_closing(&self) -> Volts {
        if self.is_filled() { self.before } else { self.after }
    }
}

/// The current through the contact at the moment of closing, when every capacitor is a source of the voltage it has.
fn surge(seen: &Seen<'_>, point: &Point, states: &[State<'_>], contact: &[LinkId]) -> Option<Amps> {
    let mut frozen = Frozen::new(seen.topology, point)?;
    for state in states.iter().filter(|state| !state.of.soft) {
        frozen.set(state.of.id, Law::Source { emf: state.at_closing(), resistance: state.of.series });
    }
    let still = frozen.solve()?;
    contact.iter().map(|link| still.amps(*link).abs()).reduce(Amps::max)
}

/// What a contact may close onto by what is written; of a mate nothing is ever written.
fn makes(design: &Design, contact: Contact) -> Result<Amps, Missing> {
    match contact {
        Contact::Thing(thing) => design
            .thing(thing)
            .get::<Amps>(key::MAKES)
            .filter(|amps| *amps > Amps(0.0))
            .ok_or_else(|| Missing::on(thing, key::MAKES)),
        Contact::Mate(mate) => Err(half(design, mate).map_or_else(
            || Missing::of_robot(key::MAKES),
            |half| Missing::on(half, "a rating for plugging it together under voltage"),
        )),
    }
}

fn half(design: &Design, mate: MateId) -> Option<ThingId> {
    design.mates.get(mate.index()).map(|mate| mate.first.0)
}
