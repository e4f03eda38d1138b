//! The device that lets more pass than a wire bears: on the way in, behind the lead, or on the way home.

use std::collections::BTreeSet;

use wattle_grammar::{
    kind::{KindId, key},
    quantity::{Amps, Metres, Volts},
};

use crate::{
    design::{ThingId, WireId},
    inquiry::Inquiry,
    naming,
    network::NodeId,
    profile::DeviceLimit,
    quantity_text::Figure,
    topology::{LinkId, Nature, Owner},
    trace::{Feed, Share, WayIn, Weakest, inflow},
};

/// A device, a limit or several of them that together let more pass than the wire bears.
pub(super) struct Device {
    /// What it is, in words.
    pub words: String,
    /// What the wire is to it.
    pub part: Part,
    /// The one device, where it is one.
    pub link: Option<LinkId>,
    /// What it lets pass, all together.
    pub rated: Amps,
    /// What the wire bears.
    pub limit: DeviceLimit,
    /// The highest voltage of what the wire belongs to, for which that holds.
    pub volts: Volts,
    /// What was taken for what is not stated.
    pub assumed: Vec<String>,
}

/// What a wire is to the device.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Part {
    /// It stands behind it.
    Behind,
    /// It is fed by something that limits itself, which has no band.
    Limited,
    /// It is the lead to it.
    Lead,
    /// It brings a load's current home.
    Return,
}

/// What is known of the devices of a wire.
pub(super) struct Judged {
    /// The device that is too large, if one is.
    pub found: Option<Device>,
    /// Devices of which the rating is not stated and that alone decide.
    pub unrated: BTreeSet<ThingId>,
}

/// Judges the devices of a wire.
pub(super) fn judge(inquiry: &Inquiry<'_>, id: WireId) -> Judged {
    let mut judged = Judged { found: None, unrated: BTreeSet::new() };
    let wire = inquiry.design.wire(id);
    let is_tail =
        wire.supplied_tail && wire.length.is_some_and(|length| length <= inquiry.profile.bare_distance);
    if is_tail || inquiry.bare_wires.contains(&id) {
        return judged;
    }
    let Some(bound) = bound(inquiry, id) else { return judged };
    let incoming = incoming(inquiry, id, &bound, &mut judged.unrated);
    let candidates = [incoming, lead(inquiry, id, &bound), homeward(inquiry, id, &bound)];
    let too_large = candidates.into_iter().flatten().filter(|device| device.rated > bound.limit.preferred);
    // Among equals the way in comes first.
    let worst = too_large.reduce(|held, next| if next.rated > held.rated { next } else { held });
    judged.found = worst.filter(|_| !is_short_tail(inquiry, id, &bound.limit));
    judged
}

/// What the wire bears.
struct Bound {
    limit: DeviceLimit,
    volts: Volts,
}

/// What the wire bears, by the highest voltage of what it belongs to.
fn bound(inquiry: &Inquiry<'_>, id: WireId) -> Option<Bound> {
    let home = inquiry.trace.returns.get(id.index()).copied().flatten();
    let returning = home.and_then(|load| inquiry.trace.feeds.get(load.feed));
    let feeding = inquiry.trace.into_wire(inquiry.topology, id).map(|way| way.feed);
    let volts = feeding.chain(returning).map(|feed| feed.volts).fold(Volts(0.0), Volts::max);
    let limit = inquiry.profile.device_limit(&inquiry.conductors.worst(inquiry.design, id)?, volts)?;
    Some(Bound { limit, volts })
}

/// What feeds the wire at its worse end. A fault parts the wire in two, and each part is fed from its own end only.
fn incoming(
    inquiry: &Inquiry<'_>,
    id: WireId,
    bound: &Bound,
    unrated: &mut BTreeSet<ThingId>,
) -> Option<Device> {
    let link = inquiry.topology.link(LinkId(id.0))?;
    let stated = inquiry.design.wire(id).current_limit.map(|(amps, _)| amps);
    if stated.is_some_and(|stated| stated <= bound.limit.preferred) {
        return None;
    }
    let ways: Vec<WayIn<'_>> = inquiry.trace.into_wire(inquiry.topology, id).collect();
    let mut worst: Option<Device> = None;
    for (node, at_from) in [(link.a, true), (link.b, false)] {
        let here = ways.iter().filter(|way| if at_from { way.at_from } else { way.at_to });
        let feeds: Vec<&Feed> =
            here.filter(|way| way.weakest != Weakest::Nothing).map(|way| way.feed).collect();
        for together in at_once(inquiry, &feeds) {
            let device = at_end(inquiry, &together, node, bound, unrated);
            worst = larger(worst, device);
        }
    }
    match (worst, stated) {
        (Some(device), Some(stated)) if device.rated > stated => {
            let words = format!("a part that limits to {stated}");
            Some(Device { words, part: Part::Limited, link: None, rated: stated, ..device })
        }
        (worst, _) => worst,
    }
}

fn larger(held: Option<Device>, next: Option<Device>) -> Option<Device> {
    match (held, next) {
        (Some(held), Some(next)) => Some(if next.rated > held.rated { next } else { held }),
        (held, next) => held.or(next),
    }
}

/// The sets of feeds that work at the same time. A charger is there while nothing else draws: it counts alone.
fn at_once<'a>(inquiry: &Inquiry<'_>, feeds: &[&'a Feed]) -> Vec<Vec<&'a Feed>> {
    let is_charger = |feed: &&&Feed| inquiry.design.thing(feed.thing).id() == KindId::Charger;
    let (chargers, others): (Vec<&Feed>, Vec<&Feed>) = feeds.iter().partition(|feed| is_charger(feed));
    let mut sets = vec![others];
    sets.extend(chargers.into_iter().map(|charger| vec![charger]));
    sets
}

/// What feeds that work at once let into one end together.
fn at_end(
    inquiry: &Inquiry<'_>,
    feeds: &[&Feed],
    end: NodeId,
    bound: &Bound,
    unrated: &mut BTreeSet<ThingId>,
) -> Option<Device> {
    let most: f64 = feeds.iter().filter_map(|feed| feed.at(end)).map(|reached| reached.weakest.amps()).sum();
    if most <= bound.limit.preferred.0 {
        return None;
    }
    let shares = inflow(inquiry.design, inquiry.topology, feeds, end);
    let rated = rated(&shares);
    if rated <= bound.limit.preferred {
        unrated.extend(shares.iter().filter_map(|share| unrated_thing(inquiry, share)));
        return None;
    }
    let known: Vec<&Share> = shares.iter().filter(|share| share.cap.amps() < f64::MAX).collect();
    let names: Vec<String> = known.iter().map(|share| name(inquiry, feeds, share)).collect();
    let together = if names.len() > 1 { format!(", together {rated}") } else { String::new() };
    let devices = known.iter().filter_map(|share| match share.cap {
        Weakest::Device(link, _) => Some(link),
        _ => None,
    });
    let devices: Vec<LinkId> = devices.collect();
    Some(Device {
        words: format!("{}{together}", naming::listed(&names)),
        part: if devices.is_empty() { Part::Limited } else { Part::Behind },
        link: devices.first().copied(),
        rated,
        limit: bound.limit.clone(),
        volts: bound.volts,
        assumed: known.iter().filter_map(|share| assumed(inquiry, feeds, share)).collect(),
    })
}

/// The sum of what is stated.
fn rated(shares: &[Share]) -> Amps {
    let stated = shares.iter().map(|share| share.cap.amps()).filter(|amps| *amps < f64::MAX);
    Amps(stated.sum())
}

fn unrated_thing(inquiry: &Inquiry<'_>, share: &Share) -> Option<ThingId> {
    let Weakest::Unrated(link) = share.cap else { return None };
    match inquiry.topology.link(link)?.owner {
        Owner::Thing(thing, _) => Some(thing),
        _ => None,
    }
}

fn name(inquiry: &Inquiry<'_>, feeds: &[&Feed], share: &Share) -> String {
    let (design, topology) = (inquiry.design, inquiry.topology);
    match (share.cap, share.link) {
        (Weakest::Device(link, amps), _) => naming::device(design, topology, link, amps),
        (cap, Some(link)) => {
            format!("{} (limited to {})", naming::link(design, topology, link), Amps(cap.amps()))
        }
        (cap, None) => {
            let source = feeds.get(share.feed).map_or_else(String::new, |feed| naming::feed(design, feed));
            format!("{source} (limited to {})", Amps(cap.amps()))
        }
    }
}

/// What was taken for a source's limit that is not stated.
fn assumed(inquiry: &Inquiry<'_>, feeds: &[&Feed], share: &Share) -> Option<String> {
    let source = inquiry.design.thing(feeds.get(share.feed)?.thing);
    let holds = matches!(source.id(), KindId::Charger | KindId::Battery);
    let assumes = share.link.is_none() && !holds && source.rated(key::CURRENT_LIMIT).is_none();
    assumes.then(|| {
        let name = naming::quoted(&source.name);
        format!("{name} states no `current-limit`: 1.5 times its rated current is taken, common practice")
    })
}

/// The largest device to which the wire is the lead. Nothing opens for the lead itself, so it has to bear what it feeds.
/// Where that device stands too far out, that is the finding: a nearer one will be the lead's measure.
fn lead(inquiry: &Inquiry<'_>, id: WireId, bound: &Bound) -> Option<Device> {
    let lead = inquiry.trace.leads.get(id.index()).copied().flatten()?;
    if inquiry.design.wire(id).parallel_by_intent || inquiry.distant_wires.contains(&id) {
        return None;
    }
    Some(Device {
        words: naming::device(inquiry.design, inquiry.topology, lead.device, lead.rated),
        part: Part::Lead,
        link: Some(lead.device),
        rated: lead.rated,
        limit: bound.limit.clone(),
        volts: bound.volts,
        assumed: Vec::new(),
    })
}

/// The device or limit of the heaviest load that comes home through the wire.
fn homeward(inquiry: &Inquiry<'_>, id: WireId, bound: &Bound) -> Option<Device> {
    let load = inquiry.trace.returns.get(id.index()).copied().flatten()?;
    if is_on_bare_wire(inquiry, load.load) {
        return None;
    }
    let feed = inquiry.trace.feeds.get(load.feed)?;
    let device = match load.device {
        Some(link) => naming::device(inquiry.design, inquiry.topology, link, load.rated),
        None => format!("{} (limited to {})", naming::feed(inquiry.design, feed), load.rated),
    };
    let of = naming::link(inquiry.design, inquiry.topology, load.load);
    let words = format!("{of} behind {device}");
    Some(Device {
        words,
        part: Part::Return,
        link: load.device,
        rated: load.rated,
        limit: bound.limit.clone(),
        volts: bound.volts,
        assumed: Vec::new(),
    })
}

/// Whether the load is fed by a wire that lacks its device altogether: then that is the finding, and not its return.
fn is_on_bare_wire(inquiry: &Inquiry<'_>, load: LinkId) -> bool {
    let Some(load) = inquiry.topology.link(load) else { return false };
    let at = |node: NodeId| inquiry.topology.links_at.get(node.0 as usize).into_iter().flatten();
    at(load.a).chain(at(load.b)).any(|link| match inquiry.topology.link(*link).map(|link| link.owner) {
        Some(Owner::Wire(wire)) => inquiry.bare_wires.contains(&wire),
        _ => false,
    })
}

/// Whether the wire is a short lead to a device that suits it: then the distance rule governs it.
fn is_short_tail(inquiry: &Inquiry<'_>, id: WireId, limit: &DeviceLimit) -> bool {
    let wire = inquiry.design.wire(id);
    let Some(link) = inquiry.topology.link(LinkId(id.0)) else { return false };
    let allowed =
        if wire.sheathed { inquiry.profile.sheathed_distance } else { inquiry.profile.bare_distance };
    wire.length.is_some_and(|length| length > Metres(0.0) && length <= allowed)
        && [link.a, link.b].into_iter().any(|node| ends_in_device(inquiry, id, node, limit))
}

/// Whether the wire is the only one at `node` and all that hangs there is a device that suits it.
fn ends_in_device(inquiry: &Inquiry<'_>, id: WireId, node: NodeId, limit: &DeviceLimit) -> bool {
    let links = inquiry.topology.links_at.get(node.0 as usize).into_iter().flatten();
    let mut devices = 0;
    for link in links.filter_map(|link| inquiry.topology.link(*link)) {
        match (link.owner, link.nature) {
            (Owner::Wire(other), _) if other == id => {}
            (_, Nature::Protective { rated: Some(rated) }) if rated <= limit.allowed => devices += 1,
            _ => return false,
        }
    }
    devices > 0
}

/// The numbers of a device that is too large.
pub(super) fn figures(device: &Device) -> Vec<Figure> {
    let what =
        if device.part == Part::Limited { "current the source gives" } else { "rated current of the device" };
    vec![
        Figure::new(what, device.rated, "as stated, parallel ways added"),
        Figure::new("largest device allowed", device.limit.allowed, device.limit.basis.clone()),
    ]
}
