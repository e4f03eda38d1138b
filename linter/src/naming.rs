//! How findings name things: as the author wrote them, in backticks.

use wattle_grammar::{kind::KindId, quantity::Amps, span::Span};

use crate::{
    complaint,
    design::{Design, TerminalId, ThingId, WireId},
    figures::{Corner, Warmth},
    topology::{LinkId, Owner, Topology},
    trace::Feed,
};

/// `` `NAME` ``.
#[must_use]
pub fn quoted(name: &str) -> String {
    format!("`{name}`")
}

/// A wire's name in backticks.
#[must_use]
pub fn wire(design: &Design, id: WireId) -> String {
    design.wires.get(id.index()).map_or_else(String::new, |wire| quoted(&wire.name))
}

/// A thing's name in backticks.
#[must_use]
pub fn thing(design: &Design, id: ThingId) -> String {
    design.things.get(id.index()).map_or_else(String::new, |thing| quoted(&thing.name))
}

/// `` `THING.terminal` ``.
#[must_use]
pub fn terminal(design: &Design, id: TerminalId) -> String {
    quoted(&design.terminal_name(id))
}

/// The pole a feed gives at, in backticks.
#[must_use]
pub fn feed(design: &Design, feed: &Feed) -> String {
    terminal(design, feed.terminal)
}

/// The name of what a link belongs to, in backticks.
#[must_use]
pub fn link(design: &Design, topology: &Topology, id: LinkId) -> String {
    match topology.links.get(id.0 as usize).map(|link| link.owner) {
        Some(Owner::Wire(id)) => wire(design, id),
        Some(Owner::Thing(id, _)) => thing(design, id),
        Some(Owner::MatedWay(mate, way)) => {
            let half = design.mates.get(mate.index()).map(|mate| mate.first.0);
            half.map_or_else(String::new, |half| format!("{} way {way}", thing(design, half)))
        }
        None => String::new(),
    }
}

/// A protective device with its rating: `` `F1` (40 A) ``.
#[must_use]
pub fn device(design: &Design, topology: &Topology, id: LinkId, rated: Amps) -> String {
    format!("{} ({rated})", link(design, topology, id))
}

/// Where the thing, wire or mate behind a link is declared.
#[must_use]
pub fn link_span(design: &Design, topology: &Topology, id: LinkId) -> Option<Span> {
    match topology.links.get(id.0 as usize)?.owner {
        Owner::Wire(id) => design.wires.get(id.index()).map(|wire| wire.span),
        Owner::Thing(id, _) => design.things.get(id.index()).map(|thing| thing.span),
        Owner::MatedWay(mate, _) => design.mates.get(mate.index()).map(|mate| mate.span),
    }
}

/// `a`, `a and b`, `a, b and c`.
#[must_use]
pub fn listed(names: &[String]) -> String {
    complaint::listed(names, "and")
}

/// Where a robot stands within what is allowed to it: `empty batteries, regulators low, warm wires`. Regulators are left
/// out where there are none, and cold wires are not mentioned.
pub(crate) fn corner(design: &Design, corner: Corner) -> String {
    let has_regulators = design.things.iter().any(|thing| thing.id() == KindId::Regulator);
    let regulators =
        if has_regulators { format!(", regulators {}", corner.regulators.word()) } else { String::new() };
    let wires = if corner.conductors == Warmth::Hot { ", warm wires" } else { "" };
    format!("{} batteries{regulators}{wires}", corner.charge.word())
}
