//! Which terminals are one node: perfect joints found by union and find, then numbered.

use wattle_grammar::kind::{KindId, Role};

use crate::{
    design::{Design, Thing, ThingId},
    network::NodeId,
    topology::sets::Sets,
};

/// The node of each terminal and the number of nodes.
pub(super) fn nodes(design: &Design) -> (Vec<NodeId>, u32) {
    let mut sets = Sets::new(design.terminals.len());
    join_ties(design, &mut sets);
    for (id, thing) in design.things() {
        join_seat(design, id, thing, &mut sets);
        join_within(design, id, thing, &mut sets);
    }
    number(design, &mut sets)
}

/// The terminals of a tie are one node.
fn join_ties(design: &Design, sets: &mut Sets) {
    for tie in &design.ties {
        for pair in tie.ends.windows(2) {
            if let [first, second] = pair {
                sets.join(first.0.0, second.0.0);
            }
        }
    }
}

/// A fuse or breaker that stands on a block has its line side on the bar.
fn join_seat(design: &Design, id: ThingId, thing: &Thing, sets: &mut Sets) {
    if !matches!(thing.id(), KindId::Fuse | KindId::Breaker) {
        return;
    }
    let bar = thing.on.and_then(|block| design.terminals_of(block).next());
    if let (Some((bar, _)), Some(line)) = (bar, design.terminal_named(id, "line")) {
        sets.join(bar.0, line.0);
    }
}

/// Terminals of one thing that are the same piece of metal.
fn join_within(design: &Design, id: ThingId, thing: &Thing, sets: &mut Sets) {
    match thing.id() {
        KindId::Block | KindId::Splice | KindId::Stud | KindId::Lug | KindId::Chassis => {
            join_all(design, id, sets)
        }
        KindId::Battery => join_end_taps(design, id, thing, sets),
        KindId::Shunt => {
            join_named(design, id, "1", "s1", sets);
            join_named(design, id, "2", "s2", sets);
        }
        _ => {}
    }
}

fn join_all(design: &Design, id: ThingId, sets: &mut Sets) {
    let mut terminals = design.terminals_of(id).map(|(terminal, _)| terminal);
    if let Some(first) = terminals.next() {
        terminals.for_each(|terminal| sets.join(first.0, terminal.0));
    }
}

/// The lowest tap is the negative pole; the highest is the positive pole, unless a fuse sits between them in the pack.
fn join_end_taps(design: &Design, id: ThingId, thing: &Thing, sets: &mut Sets) {
    join_named(design, id, "neg", "t0", sets);
    if !super::rating::has_built_in_fuse(thing) {
        let highest = design.terminals_of(id).filter(|(_, terminal)| terminal.role == Role::Tap).last();
        if let (Some((tap, _)), Some(pole)) = (highest, design.terminal_named(id, "pos")) {
            sets.join(pole.0, tap.0);
        }
    }
}

fn join_named(design: &Design, id: ThingId, first: &str, second: &str, sets: &mut Sets) {
    if let (Some(first), Some(second)) = (design.terminal_named(id, first), design.terminal_named(id, second))
    {
        sets.join(first.0, second.0);
    }
}

/// Numbers the nodes: negative poles of sources first, so that voltages of an island with a source are against one of
/// them (the reference of an island is its lowest node), then in terminal order.
fn number(design: &Design, sets: &mut Sets) -> (Vec<NodeId>, u32) {
    let mut node_of_root: Vec<Option<NodeId>> = vec![None; design.terminals.len()];
    let mut next = 0;
    for negative_poles in [true, false] {
        for (at, terminal) in (0u32..).zip(&design.terminals) {
            if negative_poles && terminal.role != Role::SourceNegative {
                continue;
            }
            let root = sets.root(at) as usize;
            if node_of_root[root].is_none() {
                node_of_root[root] = Some(NodeId(next));
                next += 1;
            }
        }
    }
    let count = design.terminals.len() as u32;
    let node_of = (0..count).map(|at| node_of_root[sets.root(at) as usize].unwrap_or(NodeId(0))).collect();
    (node_of, next)
}
