//! A wire too small for its steady current, or for the device that is to protect it.

use std::collections::BTreeMap;

use wattle_grammar::{
    kind::KindId,
    quantity::{Amps, Metres, Volts},
};

use crate::{
    design::WireId,
    finding::{Edit, Finding, Mend, NotAssessed, Severity},
    inquiry::Inquiry,
    naming,
    network::NodeId,
    physics::{fuse, standard_fuse, standard_size},
    profile::{Ampacity, Conductor, DeviceLimit},
    quantity_text::Figure,
    rule::{Rule, Source},
    topology::{LinkId, Nature, Owner},
    trace::{WayIn, Weakest},
};

/// The rule.
pub static RULE: Rule = Rule {
    name: "wire.undersized",
    severity: Severity::Danger,
    summary: "The wire is too small for the current it carries, or for the device that is to protect it.",
    why: "A wire that carries more than its ampacity cooks its insulation, first where it is bundled and warm. A wire \
          behind a device that is too large cooks without the device ever opening: a blade fuse carries 1.1 times its \
          rating for days and may take minutes at 1.35 times, so every current between the wire's ampacity and 1.35 \
          times the rating is one that nothing ends.",
    condition: "Steady current (of every mode in which nothing is blocked or turned from outside; root mean square with a duty) above the ampacity of \
                the profile for the wire's size, insulation class, air temperature and loaded neighbours. Device: the \
                rated current of the device on the least protected way from any source, rated currents of parallel ways \
                added; for a return wire, the device of the heaviest load that comes home through it. Above the \
                ampacity it is `damage`, above what the profile allows (33 CFR 183.455(c): 150 % below 50 V) `danger`. \
                A wire of at most 178 mm that ends in a device which suits it is let pass.",
    source: Source::Published(
        "33 CFR 183.425 table 5 and 183.455(c); AC 43.13-1B tables 11-3 and 11-9; ISO 8820-3",
    ),
    legitimate: "A tail that came with the part and is at most 178 mm long: state `supplied-tail`. A current that a part \
                 limits: state `current-limit`. A short load: state the `duty` of the mode.",
    mend: "A thicker wire, or a smaller device where the load allows it. Never a larger device to stop it from opening.",
    bad: r#"wattle 1
robot "Hut" { ambient 30 degC }
battery PACK lead-acid 6S 7 Ah 20 mohm
fuse F1 30 A blade
light LAMP 12 V { typical 2 A }
wire W1 PACK.pos to F1.line 10 AWG red 100 mm
wire W2 F1.load to LAMP.pos 18 AWG red 300 mm
wire W3 LAMP.neg to PACK.neg 10 AWG black 400 mm
"#,
    good: r#"wattle 1
robot "Hut" { ambient 30 degC }
battery PACK lead-acid 6S 7 Ah 20 mohm
fuse F1 10 A blade
light LAMP 12 V { typical 2 A }
wire W1 PACK.pos to F1.line 10 AWG red 100 mm
wire W2 F1.load to LAMP.pos 18 AWG red 300 mm
wire W3 LAMP.neg to PACK.neg 10 AWG black 400 mm
"#,
    check,
};

/// More current than the wire bears.
struct Overload {
    amps: Amps,
    limit: Ampacity,
    mode: String,
}

/// A device that lets more pass than the wire bears.
struct Device {
    /// What opens last, in words: one device or several in parallel.
    words: String,
    link: Option<LinkId>,
    rated: Amps,
    limit: DeviceLimit,
    /// `false` for a limit in a part or source, which has no band.
    is_device: bool,
}

fn check(inquiry: &mut Inquiry<'_>) {
    for (id, wire) in inquiry.design.wires() {
        if wire.spare {
            continue;
        }
        let Some(limit) = inquiry.ampacity(id).cloned() else {
            not_assessed(inquiry, id);
            continue;
        };
        let overload = overload(inquiry, id);
        let device = device(inquiry, id);
        if overload.is_some() || device.is_some() {
            let finding = finding(inquiry, id, &limit, overload, device);
            inquiry.report(finding);
        }
    }
}

fn not_assessed(inquiry: &mut Inquiry<'_>, id: WireId) {
    let wire = inquiry.design.wire(id);
    let missing = match &wire.size {
        None => "size".to_owned(),
        Some(size) => {
            format!("an ampacity for {} (the profile `{}` has none)", size.written, inquiry.profile.word)
        }
    };
    let entry = NotAssessed { subject: wire.name.clone(), span: wire.span, missing, blocks: vec![RULE.name] };
    inquiry.not_assessed(entry);
}

/// The worst steady overload over all modes that may last; the one with the greatest ratio to its own limit.
fn overload(inquiry: &Inquiry<'_>, id: WireId) -> Option<Overload> {
    let design = inquiry.design;
    let mut worst: Option<(f64, Overload)> = None;
    // A wire's surroundings are the same at most points: the ampacity is worked out anew only where they change.
    let mut known: Option<(Conductor, Option<Ampacity>)> =
        inquiry.conductors.worst(design, id).map(|worst| (worst, inquiry.ampacity(id).cloned()));
    for (index, point) in inquiry.figures.points.iter().enumerate().filter(|(_, point)| point.ordinary) {
        let Some(amps) = point.amps(LinkId(id.0)) else { continue };
        // Heating goes with the square of the current: with a duty d the root mean square is I √d.
        let amps = Amps(amps.0.abs() * point.duty.0.clamp(0.0, 1.0).sqrt());
        let conductor = inquiry.conductors.at(design, inquiry.figures, id, index)?;
        if known.as_ref().is_none_or(|(at, _)| *at != conductor) {
            known = Some((conductor, inquiry.profile.ampacity(&conductor)));
        }
        let Some((_, Some(limit))) = &known else { continue };
        let ratio = amps / limit.amps;
        if ratio > 1.0 && worst.as_ref().is_none_or(|(held, _)| ratio > *held) {
            let mode = design.modes.get(point.mode.index()).map_or("", |mode| mode.name.as_str());
            worst = Some((ratio, Overload { amps, limit: limit.clone(), mode: mode.to_owned() }));
        }
    }
    worst.map(|(_, overload)| overload)
}

/// The device that is too large for the wire, if one is.
fn device(inquiry: &Inquiry<'_>, id: WireId) -> Option<Device> {
    let wire = inquiry.design.wire(id);
    let conductor = inquiry.conductors.worst(inquiry.design, id)?;
    let bare = inquiry.profile.bare_distance;
    if inquiry.bare_wires.contains(&id) {
        return None;
    }
    if wire.supplied_tail && wire.length.is_some_and(|length| length <= bare) {
        return None;
    }
    let volts =
        inquiry.trace.into_wire(inquiry.topology, id).map(|way| way.feed.volts).fold(Volts(0.0), Volts::max);
    let limit = inquiry.profile.device_limit(&conductor, volts)?;
    let candidates = [forward(inquiry, id, &limit), homeward(inquiry, id, &limit)];
    let found = candidates.into_iter().flatten().max_by(|a, b| a.rated.0.total_cmp(&b.rated.0))?;
    (found.rated > found.limit.preferred && !is_short_tail(inquiry, id, &limit)).then_some(found)
}

/// What feeds the wire at its worse end. A fault parts the wire in two, and each part is fed from its own end only.
fn forward(inquiry: &Inquiry<'_>, id: WireId, limit: &DeviceLimit) -> Option<Device> {
    let link = inquiry.topology.links.get(id.index())?;
    let ways: Vec<WayIn<'_>> = inquiry.trace.into_wire(inquiry.topology, id).collect();
    let from: Vec<&WayIn<'_>> = ways.iter().filter(|way| way.at_from).collect();
    let to: Vec<&WayIn<'_>> = ways.iter().filter(|way| way.at_to).collect();
    let ends = [at_end(inquiry, &from, link.a, limit), at_end(inquiry, &to, link.b, limit)];
    ends.into_iter().flatten().max_by(|a, b| a.rated.0.total_cmp(&b.rated.0))
}

/// The devices of all ways in at one end: those of different ways added, but no more than what all ways share.
fn at_end(inquiry: &Inquiry<'_>, ways: &[&WayIn<'_>], end: NodeId, limit: &DeviceLimit) -> Option<Device> {
    let mut devices: BTreeMap<LinkId, Amps> = BTreeMap::new();
    for way in ways {
        if let Weakest::Device(link, amps) = way.weakest {
            devices.insert(link, amps);
        }
    }
    let sum: Amps = devices.values().copied().sum();
    if let Some(limited) = limited(inquiry, ways, limit).filter(|limited| limited.rated > sum) {
        return Some(limited);
    }
    let shared = (devices.len() > 1).then(|| shared_device(inquiry, ways, end)).flatten();
    if let Some((link, amps)) = shared.filter(|(_, amps)| *amps < sum) {
        devices = BTreeMap::from([(link, amps)]);
    }
    let link = devices.keys().next().copied()?;
    let rated: Amps = devices.values().copied().sum();
    let names: Vec<String> = devices
        .iter()
        .map(|(link, amps)| naming::device(inquiry.design, inquiry.topology, *link, *amps))
        .collect();
    let together = if names.len() > 1 { format!(", together {rated}") } else { String::new() };
    let words = format!("{}{together}", naming::listed(&names));
    Some(Device { words, link: Some(link), rated, limit: limit.clone(), is_device: true })
}

/// The way in whose source or part limits the current least.
fn limited(inquiry: &Inquiry<'_>, ways: &[&WayIn<'_>], limit: &DeviceLimit) -> Option<Device> {
    let amps = |way: &WayIn<'_>| match way.weakest {
        Weakest::Limit(amps) => Some((amps, naming::feed(inquiry.design, way.feed))),
        _ => None,
    };
    let (rated, name) = ways.iter().filter_map(|way| amps(way)).max_by(|a, b| a.0.0.total_cmp(&b.0.0))?;
    let words = format!("{name}, limited to {rated}");
    Some(Device { words, link: None, rated, limit: limit.clone(), is_device: false })
}

/// The smallest device that every way in passes: what stands in series with all of them caps their sum.
fn shared_device(inquiry: &Inquiry<'_>, ways: &[&WayIn<'_>], end: NodeId) -> Option<(LinkId, Amps)> {
    let on_way = |way: &&WayIn<'_>| -> BTreeMap<LinkId, Amps> {
        let path = way.feed.path_to(inquiry.topology, end).into_iter();
        path.filter_map(|link| Some((link, device_rating(inquiry, link)?))).collect()
    };
    let (first, rest) = ways.split_first()?;
    let mut shared = on_way(first);
    for way in rest {
        let other = on_way(way);
        shared.retain(|link, _| other.contains_key(link));
    }
    shared.into_iter().min_by(|a, b| a.1.0.total_cmp(&b.1.0))
}

/// The device of the heaviest load that comes home through the wire.
fn homeward(inquiry: &Inquiry<'_>, id: WireId, limit: &DeviceLimit) -> Option<Device> {
    let load = (*inquiry.trace.returns.get(id.index())?)?;
    if is_on_bare_wire(inquiry, load.load) {
        return None;
    }
    let device = naming::device(inquiry.design, inquiry.topology, load.device, load.rated);
    let of = naming::link(inquiry.design, inquiry.topology, load.load);
    let words = format!("{device}, which feeds {of} and lets that come home here");
    Some(Device { words, link: Some(load.device), rated: load.rated, limit: limit.clone(), is_device: true })
}

/// Whether the load is fed by a wire that lacks its device altogether: then that is the finding, and not its return.
fn is_on_bare_wire(inquiry: &Inquiry<'_>, load: LinkId) -> bool {
    let Some(load) = inquiry.topology.links.get(load.0 as usize) else { return false };
    let at = |node: NodeId| inquiry.topology.links_at.get(node.0 as usize).into_iter().flatten();
    at(load.a).chain(at(load.b)).any(|link| {
        match inquiry.topology.links.get(link.0 as usize).map(|link| link.owner) {
            Some(Owner::Wire(wire)) => inquiry.bare_wires.contains(&wire),
            _ => false,
        }
    })
}

/// Whether the wire is a short lead to a device that suits it: then the distance rule governs it.
fn is_short_tail(inquiry: &Inquiry<'_>, id: WireId, limit: &DeviceLimit) -> bool {
    let wire = inquiry.design.wire(id);
    let Some(link) = inquiry.topology.links.get(id.index()) else { return false };
    let allowed =
        if wire.sheathed { inquiry.profile.sheathed_distance } else { inquiry.profile.bare_distance };
    wire.length.is_some_and(|length| length > Metres(0.0) && length <= allowed)
        && [link.a, link.b].into_iter().any(|node| ends_in_device(inquiry, id, node, limit))
}

/// Whether the wire is the only one at `node` and all that hangs there is a device that suits it.
fn ends_in_device(inquiry: &Inquiry<'_>, id: WireId, node: NodeId, limit: &DeviceLimit) -> bool {
    let links = inquiry.topology.links_at.get(node.0 as usize).into_iter().flatten();
    let mut devices = 0;
    for link in links.filter_map(|link| inquiry.topology.links.get(link.0 as usize)) {
        match (link.owner, link.nature) {
            (Owner::Wire(other), _) if other == id => {}
            (_, Nature::Protective { rated: Some(rated) }) if rated <= limit.allowed => devices += 1,
            _ => return false,
        }
    }
    devices > 0
}

fn finding(
    inquiry: &Inquiry<'_>,
    id: WireId,
    limit: &Ampacity,
    overload: Option<Overload>,
    device: Option<Device>,
) -> Finding {
    let wire = inquiry.design.wire(id);
    let name = naming::wire(inquiry.design, id);
    let mut because = Vec::new();
    let mut figures = Vec::new();
    let mut related = Vec::new();
    if let Some(device) = &device {
        figures.extend(device_figures(device));
        because.extend(band(device));
        related.extend(place_of(inquiry, device));
    }
    if let Some(overload) = &overload {
        figures.push(Figure::new(
            "steady current",
            overload.amps,
            format!("network solved in mode `{}`", overload.mode),
        ));
        figures.push(Figure::new("ampacity", overload.limit.amps, overload.limit.basis.clone()));
    } else {
        figures.push(Figure::new("ampacity", limit.amps, limit.basis.clone()));
    }
    let beyond = device.as_ref().is_some_and(|device| device.rated > device.limit.allowed);
    let message = match (&overload, &device) {
        (Some(load), _) => {
            let (amps, most, mode) = (load.amps, load.limit.amps, &load.mode);
            format!("{name} carries {amps} in `{mode}`, its limit is {most}")
        }
        (None, Some(device)) => {
            let most = if beyond { device.limit.allowed } else { device.limit.preferred };
            let verb = if device.is_device { "is protected by" } else { "is fed by" };
            format!("{name} {verb} {}, its limit is {most}", device.words)
        }
        (None, None) => String::new(),
    };
    if let (Some(_), Some(device)) = (&overload, &device) {
        because.push(format!("it is also too small for {}", device.words));
    }
    because
        .push(format!("basis: {}", overload.as_ref().map_or(&limit.basis, |overload| &overload.limit.basis)));
    let written = wire.size.as_ref().map_or("", |size| size.written.as_str());
    Finding {
        rule: RULE.name,
        severity: if beyond || overload.is_some() { Severity::Danger } else { Severity::Damage },
        span: wire
            .size
            .as_ref()
            .filter(|size| inside(wire.statement, size.span))
            .map_or(wire.span, |size| size.span),
        subject: wire.name.clone(),
        message,
        label: format!(
            "{written} bears {}",
            overload.as_ref().map_or(limit.amps, |overload| overload.limit.amps)
        ),
        related,
        figures,
        because,
        mode: overload.as_ref().map(|overload| overload.mode.clone()),
        help: help(inquiry, id, overload.as_ref(), device.as_ref()),
        accepted: None,
    }
}

fn inside(outer: wattle_grammar::span::Span, inner: wattle_grammar::span::Span) -> bool {
    outer.file == inner.file && outer.start <= inner.start && inner.end <= outer.end
}

fn device_figures(device: &Device) -> Vec<Figure> {
    let what = if device.is_device { "rated current of the device" } else { "current the source gives" };
    vec![
        Figure::new(what, device.rated, "as stated, parallel ways added"),
        Figure::new("largest device allowed", device.limit.allowed, device.limit.basis.clone()),
    ]
}

/// The band of currents that overheat the wire and may never open the device.
fn band(device: &Device) -> Option<String> {
    if !device.is_device {
        return None;
    }
    let (from, to) = (device.limit.preferred, device.rated * fuse::MAY_CARRY_FOR_LONG);
    Some(format!(
        "between {from} and {to} the wire overheats and nothing opens in time: the unprotected band"
    ))
}

fn place_of(inquiry: &Inquiry<'_>, device: &Device) -> Option<(wattle_grammar::span::Span, String)> {
    let span = naming::link_span(inquiry.design, inquiry.topology, device.link?)?;
    Some((span, "the device is here".to_owned()))
}

/// Thicker wire first; then a smaller device, where what it feeds allows one.
fn help(
    inquiry: &Inquiry<'_>,
    id: WireId,
    overload: Option<&Overload>,
    device: Option<&Device>,
) -> Vec<Mend> {
    let mut help = Vec::new();
    let need = overload.map(|overload| overload.amps).unwrap_or(Amps(0.0));
    let rated = device.map_or(Amps(0.0), |device| device.rated);
    help.extend(thicker(inquiry, id, need, rated));
    if let (None, Some(device)) = (overload, device) {
        help.extend(smaller(inquiry, device));
    }
    help
}

/// The next size up whose ampacity covers the current and the device.
fn thicker(inquiry: &Inquiry<'_>, id: WireId, need: Amps, rated: Amps) -> Option<Mend> {
    let wire = inquiry.design.wire(id);
    let size = wire.size.as_ref()?;
    let mut conductor = inquiry.conductors.worst(inquiry.design, id)?;
    let fits = standard_size::above(size.area, size.awg).into_iter().find(|larger| {
        conductor.area = larger.area;
        inquiry.profile.ampacity(&conductor).is_some_and(|limit| limit.amps >= need && limit.amps >= rated)
    })?;
    let edits = if inside(wire.statement, size.span) {
        vec![Edit { span: size.span, text: fits.name.to_owned() }]
    } else {
        Vec::new()
    };
    Some(Mend { title: format!("use {} or thicker", fits.name), edits, sure: false })
}

/// A smaller device, only where its present load is at most three quarters of the new rating (fuse makers' practice).
fn smaller(inquiry: &Inquiry<'_>, device: &Device) -> Option<Mend> {
    let link = device.link?;
    let Some(Owner::Thing(thing, _)) = inquiry.topology.links.get(link.0 as usize).map(|link| link.owner)
    else {
        return None;
    };
    let rating = standard_fuse::largest_up_to(device.limit.preferred)?;
    let load = (0..inquiry.figures.points.len())
        .filter_map(|point| inquiry.figures.points.get(point)?.amps(link))
        .fold(Amps(0.0), |held, amps| held.max(amps.abs()));
    let alone = device.rated == device_rating(inquiry, link)?;
    let fuse = inquiry.design.thing(thing);
    let is_fuse = matches!(fuse.id(), KindId::Fuse | KindId::Breaker);
    (alone && is_fuse && load.0 <= 0.75 * rating.0).then(|| Mend {
        title: format!("fit {rating} in `{}` (it carries at most {load})", fuse.name),
        edits: rating_edit(fuse, rating),
        sure: false,
    })
}

fn device_rating(inquiry: &Inquiry<'_>, link: LinkId) -> Option<Amps> {
    match inquiry.topology.links.get(link.0 as usize)?.nature {
        Nature::Protective { rated } => rated,
        _ => None,
    }
}

fn rating_edit(fuse: &crate::design::Thing, rating: Amps) -> Vec<Edit> {
    use crate::design::Origin;
    match fuse.rated(wattle_grammar::kind::key::CURRENT).map(|rated| &rated.origin) {
        Some(Origin::Thing(span)) => vec![Edit { span: *span, text: format!("{} A", rating.0) }],
        _ => Vec::new(),
    }
}
