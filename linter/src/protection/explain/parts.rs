//! What a way from a source is made of, piece by piece.

use wattle_grammar::{kind::KindId, quantity::Ohms};

use crate::{
    analysis::Analysis,
    naming,
    network::NodeId,
    protection::{
        homeward::brings_home,
        resistance::{Passage, Warmth, passage},
        source::fuse_inside,
    },
    topology::{Link, LinkId, Nature, Owner},
    trace::Feed,
};

/// So many pieces are named; of more, only how many there are.
const MOST_PARTS: usize = 12;

/// One piece of a way.
pub(super) struct Part {
    /// What it is, in backticks.
    name: String,
    /// What it sets against the current.
    pub(super) ohms: Ohms,
}

/// The pieces between a source and a node on the way that the trace found, the one nearest to the source first: the fuse
/// inside a pack, then what lies outside. What adds no resistance of its own is left out.
pub(super) fn way_out(analysis: &Analysis, feed: &Feed, node: NodeId, warmth: Warmth) -> Vec<Part> {
    let inside = fuse_inside(&analysis.topology, feed).map(|(fuse, _)| fuse);
    let path = feed.path_to(&analysis.topology, node);
    inside.into_iter().chain(path).filter_map(|link| part(analysis, link, warmth)).collect()
}

/// One link as a piece of a way.
pub(super) fn part(analysis: &Analysis, id: LinkId, warmth: Warmth) -> Option<Part> {
    let link = analysis.topology.link(id)?;
    match passage(&analysis.design, &analysis.topology, link, warmth) {
        Passage::Both(ohms) | Passage::Forward(ohms) | Passage::Backward(ohms) => {
            let name = naming::link(&analysis.design, &analysis.topology, id);
            let contact = matches!(link.nature, Nature::HandContact { .. } | Nature::CoilContact { .. });
            let is_inside = matches!(link.nature, Nature::Protective { .. }) && is_pack(analysis, link);
            let name = match (contact, is_inside) {
                (true, _) => format!("contact of {name}"),
                (_, true) => format!("fuse inside {name}"),
                _ => name,
            };
            Some(Part { name, ohms })
        }
        _ => None,
    }
}

/// One link as a piece of a way home, hot.
pub(super) fn part_home(analysis: &Analysis, id: LinkId) -> Option<Part> {
    let link = analysis.topology.link(id)?;
    let ohms = brings_home(&analysis.design, &analysis.topology, link)?;
    if link.nature == Nature::ConverterGround {
        let name = naming::link(&analysis.design, &analysis.topology, id);
        return Some(Part { name: format!("ground inside {name}"), ohms });
    }
    part(analysis, id, Warmth::Hot)
}

fn is_pack(analysis: &Analysis, link: &Link) -> bool {
    matches!(link.owner, Owner::Thing(thing, _) if analysis.design.thing(thing).id() == KindId::Battery)
}

/// ``: `W1` 0.5 mΩ, `F1` 1.2 mΩ``; nothing for none.
pub(super) fn listed(parts: &[Part]) -> String {
    if parts.is_empty() {
        return String::new();
    }
    if parts.len() > MOST_PARTS {
        return format!(": {} wires, contacts and devices in a row", parts.len());
    }
    let told: Vec<String> = parts.iter().map(|part| format!("{} {}", part.name, part.ohms)).collect();
    format!(": {}", told.join(", "))
}
