//! Mated connectors whose halves disagree: each half looks right alone, joined they put plus on minus.

use wattle_grammar::kind::{KindId, Role};

use super::{RailId, rails, short};
use crate::{
    design::{Design, MateId, TerminalId},
    topology::{Link, Owner, Topology},
};

/// A mate whose halves disagree.
#[derive(Clone, Debug, PartialEq)]
pub struct Swap {
    /// The mate.
    pub mate: MateId,
    /// The pairs of ways that clash.
    pub clashes: Vec<(TerminalId, TerminalId)>,
    /// Whether all clashes vanish when one half is counted from the other side.
    pub mirrored_agrees: bool,
    /// Whether all clashes vanish when two ways of one half change places, and which two of the second half.
    pub exchange: Option<(TerminalId, TerminalId)>,
}

/// What a way is for, judged from its own half.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Purpose {
    /// Positive; of a battery when `true`.
    Plus(bool),
    /// Negative; of a battery when `true`.
    Minus(bool),
    Signal,
    Unknown,
}

/// Every mate whose halves disagree, other than those meant to cross over.
pub(super) fn find(design: &Design, topology: &Topology) -> Vec<Swap> {
    let own_half = |link: &Link| rails::joins(&link.nature) && !matches!(link.owner, Owner::MatedWay(..));
    let rail_of = rails::find_by(topology, own_half);
    let purposes = purposes(design, topology, &rail_of);
    let purpose = |terminal: TerminalId| {
        let node = topology.node_of.get(terminal.index())?;
        let rail = rail_of.get(node.0 as usize)?;
        purposes.get(rail.0 as usize).copied()
    };
    let clash = |a: TerminalId, b: TerminalId| clashes(purpose(a), purpose(b));
    let mates = (0u32..).map(MateId).zip(&design.mates).filter(|(_, mate)| !mate.crossover);
    mates
        .filter_map(|(id, mate)| {
            mate.ways.iter().find(|(a, b)| hurts(purpose(*a), purpose(*b)))?;
            let wrong: Vec<_> = mate.ways.iter().copied().filter(|(a, b)| clash(*a, *b)).collect();
            let mirrored = mate.ways.iter().zip(mate.ways.iter().rev());
            let mirrored_agrees =
                mate.ways.len() > 1 && mirrored.into_iter().all(|((a, _), (_, b))| !clash(*a, *b));
            let exchange = match wrong.as_slice() {
                [(a1, b1), (a2, b2)] if !clash(*a1, *b2) && !clash(*a2, *b1) => Some((*b1, *b2)),
                _ => None,
            };
            Some(Swap { mate: id, clashes: wrong, mirrored_agrees, exchange })
        })
        .collect()
}

/// Whether two ways that are joined disagree about the supply. Plus of one battery on minus of another is a link of a
/// series string; where it is a mistake, it makes a ring of batteries.
fn hurts(a: Option<Purpose>, b: Option<Purpose>) -> bool {
    use Purpose::{Minus, Plus, Signal};
    match (a, b) {
        (Some(Plus(true)), Some(Minus(true))) | (Some(Minus(true)), Some(Plus(true))) => false,
        (Some(Plus(_)), Some(Minus(_) | Signal)) | (Some(Minus(_) | Signal), Some(Plus(_))) => true,
        _ => false,
    }
}

/// Whether two ways disagree at all. A signal on the negative alone may be a strap that codes something; beside a way
/// that hurts it is part of the same mistake.
fn clashes(a: Option<Purpose>, b: Option<Purpose>) -> bool {
    use Purpose::{Minus, Signal};
    hurts(a, b) || matches!((a, b), (Some(Minus(_)), Some(Signal)) | (Some(Signal), Some(Minus(_))))
}

/// What speaks for a rail being positive, negative or a signal, in falling order of weight.
#[derive(Clone, Copy, Default)]
struct Evidence {
    source: (bool, bool),
    supply: (bool, bool),
    signal: bool,
    battery: bool,
}

impl Evidence {
    fn add(&mut self, role: Role, kind: KindId) {
        self.battery |= kind == KindId::Battery;
        let source = matches!(role, Role::SourcePositive | Role::SourceNegative);
        let slot = if source { &mut self.source } else { &mut self.supply };
        match short::sign(role) {
            1 => slot.0 = true,
            -1 => slot.1 = true,
            _ => self.signal |= role == Role::Signal,
        }
    }

    /// A source outweighs what hangs on it; contradiction at one weight is no evidence.
    fn purpose(self) -> Purpose {
        match (self.source, self.supply) {
            ((true, false), _) | ((false, false), (true, false)) => Purpose::Plus(self.battery),
            ((false, true), _) | ((false, false), (false, true)) => Purpose::Minus(self.battery),
            ((false, false), (false, false)) if self.signal => Purpose::Signal,
            _ => Purpose::Unknown,
        }
    }
}

/// The purpose of each rail as its own half knows it.
fn purposes(design: &Design, topology: &Topology, rail_of: &[RailId]) -> Vec<Purpose> {
    let mut seen = vec![Evidence::default(); topology.nodes as usize];
    for (terminal, node) in design.terminals.iter().zip(&topology.node_of) {
        let Some(rail) = rail_of.get(node.0 as usize) else { continue };
        if let Some(slot) = seen.get_mut(rail.0 as usize) {
            slot.add(terminal.role, design.thing(terminal.thing).id());
        }
    }
    seen.into_iter().map(Evidence::purpose).collect()
}
