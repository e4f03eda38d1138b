//! What mends a missing device: a fuse at the end that the branch is fed from, or the device moved nearer.

use std::collections::BTreeSet;

use wattle_grammar::{
    kind::{KindId, fuse_style},
    quantity::{Amps, Metres},
    span::Span,
};

use crate::{
    design::{TerminalId, WireId},
    finding::{Edit, Mend},
    inquiry::Inquiry,
    naming,
    network::NodeId,
    physics::{fuse, standard_fuse},
    topology::{LinkId, Nature},
    trace::Feed,
    unprotected::{self, Unprotected},
};

/// The end of a wire that all feeds of a case come in at.
struct FedEnd {
    terminal: TerminalId,
    span: Span,
    node: NodeId,
}

/// A fuse at the end that the branch is fed from, sized to the thinnest wire there and back.
pub(super) fn insert_fuse(inquiry: &Inquiry<'_>, case: &Unprotected, feeds: &[&Feed]) -> Mend {
    let design = inquiry.design;
    let told = |title: String| Mend { title, edits: Vec::new(), sure: false };
    let first = naming::wire(design, case.branch.first);
    let rating = limit(inquiry, case, feeds).and_then(standard_fuse::largest_up_to);
    let size =
        rating.map_or_else(|| "sized to its thinnest wire".to_owned(), |amps| format!("of at most {amps}"));
    if joins_packs(inquiry, case, feeds) {
        let poles: Vec<String> = feeds.iter().map(|feed| naming::feed(design, feed)).collect();
        let at = naming::listed(&poles);
        return match (rating, poles.len()) {
            (Some(most), 2..) => told(format!("fit a fuse at each of {at}, together of at most {most}")),
            _ => told(format!("fit a fuse {size} at {at}")),
        };
    }
    let Some(end) = fed_end(inquiry, case.branch.first, feeds) else {
        return told(format!("fit a fuse {size} in {first} at its source"));
    };
    let load = steady(inquiry, case.branch.first);
    let terminal = naming::terminal(design, end.terminal);
    if let Some(rating) = rating.filter(|rating| load.0 > fuse::CONTINUOUS_LOAD.0 * rating.0) {
        return told(format!(
            "fit a fuse in {first} at {terminal} for its load of {load}, and wires that suit it: {rating} suits these"
        ));
    }
    let kind = rating.map_or("", |rating| style(inquiry, case, feeds, rating));
    let fuse = if kind == CLASS_T { "class T fuse" } else { "fuse" };
    let title = format!("fit a {fuse} {size} in {first} at {terminal}");
    let edits = rating.map_or_else(Vec::new, |rating| fuse_edits(inquiry, case, feeds, &end, rating));
    Mend { title, edits, sure: false }
}

/// The largest device that suits every wire of the branch and every wire by which its loads come home.
fn limit(inquiry: &Inquiry<'_>, case: &Unprotected, feeds: &[&Feed]) -> Option<Amps> {
    let mut wires: BTreeSet<WireId> = case.branch.wires.iter().copied().collect();
    let nodes: BTreeSet<NodeId> = wires.iter().flat_map(|wire| ends(inquiry, *wire)).collect();
    for feed in feeds {
        wires.extend(inquiry.trace.ways_home(inquiry.topology, feed, &nodes));
    }
    let volts = feeds.iter().map(|feed| feed.volts).reduce(|a, b| a.max(b))?;
    let limits = wires.into_iter().map(|wire| {
        let conductor = inquiry.conductors.worst(inquiry.design, wire)?;
        Some(inquiry.profile.device_limit(&conductor, volts)?.preferred)
    });
    limits.reduce(|a, b| Some(a?.min(b?))).flatten()
}

fn ends(inquiry: &Inquiry<'_>, wire: WireId) -> Vec<NodeId> {
    inquiry.topology.link(LinkId(wire.0)).map_or_else(Vec::new, |link| vec![link.a, link.b])
}

/// Whether the branch is the lead of a pack that other packs feed: then each of those lacks a fuse.
fn joins_packs(inquiry: &Inquiry<'_>, case: &Unprotected, feeds: &[&Feed]) -> bool {
    let is_pack = |feed: &Feed| inquiry.design.thing(feed.thing).id() == KindId::Battery;
    feeds.iter().all(|feed| is_pack(feed)) && ends_in_source(inquiry, case, feeds, is_pack)
}

/// Whether a source of some sort, other than those that feed it, stands in the branch.
fn ends_in_source(
    inquiry: &Inquiry<'_>,
    case: &Unprotected,
    feeds: &[&Feed],
    sort: impl Fn(&Feed) -> bool,
) -> bool {
    let nodes: BTreeSet<NodeId> = case.branch.wires.iter().flat_map(|wire| ends(inquiry, *wire)).collect();
    let others = inquiry.trace.feeds.iter().filter(|other| feeds.iter().all(|feed| feed.plus != other.plus));
    others.filter(|other| sort(other)).any(|other| nodes.contains(&other.plus))
}

/// The end of the wire that every feed comes in at; `None` when they come in at both.
fn fed_end(inquiry: &Inquiry<'_>, id: WireId, feeds: &[&Feed]) -> Option<FedEnd> {
    let wire = inquiry.design.wire(id);
    let link = inquiry.topology.link(LinkId(id.0))?;
    let comes_in = |node: NodeId| {
        feeds.iter().all(|feed| feed.at(node).is_some_and(|reached| reached.via != Some(LinkId(id.0))))
    };
    let ((terminal, span), node) = match (comes_in(link.a), comes_in(link.b)) {
        (true, false) => (wire.from, link.a),
        (false, true) => (wire.to, link.b),
        _ => return None,
    };
    Some(FedEnd { terminal, span, node })
}

/// The greatest current of the wire in any mode that may last.
fn steady(inquiry: &Inquiry<'_>, wire: WireId) -> Amps {
    let points = inquiry.figures.points.iter().filter(|point| point.ordinary);
    points.filter_map(|point| point.amps(LinkId(wire.0))).map(Amps::abs).fold(Amps(0.0), Amps::max)
}

/// The text of that fuse: tied to the fed end, with the wire moved to its load side. None where an unprotected length
/// would be left, or where the text serves several places.
fn fuse_edits(
    inquiry: &Inquiry<'_>,
    case: &Unprotected,
    feeds: &[&Feed],
    end: &FedEnd,
    rating: Amps,
) -> Vec<Edit> {
    let design = inquiry.design;
    let wire = design.wire(case.branch.first);
    let terminal = design.terminal_name(end.terminal);
    let name = format!("F-{}", wire.name);
    let in_assembly =
        wire.name.contains('.') || design.thing(design.terminal(end.terminal).thing).name.contains('.');
    let near = feeds.iter().all(|feed| is_near(inquiry, feed, end.node));
    let taken = design.things.iter().any(|thing| thing.name == name);
    let back_fed = ends_in_source(inquiry, case, feeds, |other| other.limit.is_none());
    let bypassed = feeds.iter().any(|feed| is_bypassed(inquiry, case, feed, end.node));
    if in_assembly || taken || back_fed || bypassed || !near {
        return Vec::new();
    }
    let style = style(inquiry, case, feeds, rating);
    let lines = format!("fuse {name} {} A {style}\ntie {terminal} to {name}.line\n", rating.0);
    let before = Span { end: wire.statement.start, ..wire.statement };
    vec![Edit { span: before, text: lines }, Edit { span: end.span, text: format!("{name}.load") }]
}

/// The style of fuse that breaks a great fault current at a high voltage.
const CLASS_T: &str = "class-t";

/// A blade fuse, or a bolted one beyond its ratings; class T where a blade fuse breaks too little or is for too low a voltage.
fn style(inquiry: &Inquiry<'_>, case: &Unprotected, feeds: &[&Feed], rating: Amps) -> &'static str {
    let blade = fuse_style::by_word("blade");
    let (Some(most), Some(highest)) =
        (blade.and_then(|blade| blade.breaking_capacity), blade.and_then(|blade| blade.voltage))
    else {
        return "blade";
    };
    let known = feeds.iter().all(|feed| feed.resistance.0 > 0.0 || feed.limit.is_some());
    let fault = unprotected::fault(inquiry.trace, case);
    if (known && fault > most) || feeds.iter().any(|feed| feed.volts > highest) {
        CLASS_T
    } else if standard_fuse::BLADE.contains(&rating) {
        "blade"
    } else {
        "bolt-down"
    }
}

/// Whether the feed also gets into the branch by a way that does not pass its first wire.
fn is_bypassed(inquiry: &Inquiry<'_>, case: &Unprotected, feed: &Feed, from: NodeId) -> bool {
    let via = |node: NodeId| feed.at(node).and_then(|reached| reached.via);
    let nodes = case.branch.wires.iter().flat_map(|wire| ends(inquiry, *wire)).filter(|node| *node != from);
    let links = nodes.flat_map(|node| inquiry.topology.links_at.get(node.0 as usize).into_iter().flatten());
    let conducts = |id: LinkId| {
        inquiry.topology.link(id).filter(|link| {
            matches!(
                link.nature,
                Nature::Wire
                    | Nature::Mated
                    | Nature::Shunt(_)
                    | Nature::HandContact { .. }
                    | Nature::CoilContact { .. }
            )
        })
    };
    // What is on no least protected way closes a ring.
    links.filter_map(|id| Some((*id, conducts(*id)?))).any(|(id, link)| {
        feed.at(link.a).is_some()
            && feed.at(link.b).is_some()
            && via(link.a) != Some(id)
            && via(link.b) != Some(id)
    })
}

/// Whether a device at the node is near enough to the source, all lengths on the way being known.
fn is_near(inquiry: &Inquiry<'_>, feed: &Feed, node: NodeId) -> bool {
    let measured = feed
        .path_to(inquiry.topology, node)
        .into_iter()
        .all(|link| inquiry.design.wires.get(link.0 as usize).is_none_or(|wire| wire.length.is_some()));
    measured && feed.at(node).is_some_and(|reached| reached.metres <= inquiry.profile.bare_distance)
}

/// The device moved to the source, or the way to it sheathed. Where several stand too far out, or the next pack of a
/// string does, a further device is what helps.
pub(super) fn nearer(
    inquiry: &Inquiry<'_>,
    case: &Unprotected,
    devices: &[(LinkId, Metres)],
    source: &str,
) -> Vec<Mend> {
    let bare = inquiry.profile.bare_distance;
    let first = naming::wire(inquiry.design, case.branch.first);
    let told = |title: String| Mend { title, edits: Vec::new(), sure: false };
    let mut help = vec![match devices {
        [(device, _)] if !super::is_pack(inquiry, *device) => {
            let name = naming::link(inquiry.design, inquiry.topology, *device);
            told(format!("move {name} to within {bare} of conductor from {source}"))
        }
        _ => told(format!("fit a fuse in {first} within {bare} of conductor from {source}")),
    }];
    let sheathed = inquiry.profile.sheathed_distance;
    if devices.iter().all(|(_, metres)| *metres <= sheathed) {
        let bare_ones = case.branch.wires.iter().filter(|wire| !inquiry.design.wire(**wire).sheathed);
        let wires: Vec<String> = bare_ones.map(|wire| naming::wire(inquiry.design, *wire)).collect();
        help.push(told(format!(
            "sheathe or enclose {} over the whole length and state `sheathed`",
            naming::listed(&wires)
        )));
    }
    help
}
