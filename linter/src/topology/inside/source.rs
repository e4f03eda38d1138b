//! Batteries and other sources.

use wattle_grammar::{
    kind::{Role, key},
    quantity::Amps,
};

use super::{Inside, Nature};
use crate::{network::NodeId, topology::rating};

/// Cells between neighbouring poles and taps, and the fuse inside the pack when it has one.
pub(super) fn battery(inside: &mut Inside<'_, '_>) {
    let (Some(positive), Some(negative)) = (inside.node("pos"), inside.node("neg")) else { return };
    let mut poles = taps(inside);
    if poles.len() < 2 {
        let top = if rating::has_built_in_fuse(inside.thing) { inside.inner_node() } else { positive };
        poles = vec![negative, top];
    }
    let of = rating::cells(inside.thing);
    let segments = poles.len() as u32 - 1;
    for (at, pair) in (0u32..).zip(poles.windows(2)) {
        // Taps split a pack evenly; with one tap a cell this is one cell each.
        let cells = (at + 1) * of / segments - at * of / segments;
        inside.link(pair[1], pair[0], Nature::Cells { cells, of });
    }
    if rating::has_built_in_fuse(inside.thing) {
        let rated = inside.thing.get::<Amps>(key::BUILT_IN_FUSE);
        inside.link(poles[poles.len() - 1], positive, Nature::Protective { rated });
    }
}

/// The nodes of the taps, lowest first; empty when none are brought out.
fn taps(inside: &Inside<'_, '_>) -> Vec<NodeId> {
    let laying = &inside.laying;
    let terminals = laying.design.terminals_of(inside.id).filter(|(_, terminal)| terminal.role == Role::Tap);
    terminals.filter_map(|(id, _)| laying.node_of.get(id.index()).copied()).collect()
}

/// The output of a charger, supply or generator.
pub(super) fn supply(inside: &mut Inside<'_, '_>) {
    inside.between("pos", "neg", Nature::Supply);
}
