//! What lies around statements that were not understood: the wires that are joined to them with no fuse between.

use std::collections::BTreeSet;

use wattle_grammar::{kind::Family, span::Span, syntax::Item};

use crate::{
    design::{Design, TerminalId, ThingId},
    project::{Project, SourceFile},
    topology::{Nature, Topology, sets::Sets},
};

/// The wires whose current or fuse may be another one than the design says.
#[derive(Debug, Default)]
pub(super) struct Around {
    wires: BTreeSet<String>,
    /// Every wire: what feeds the robot is in doubt.
    all: bool,
}

impl Around {
    /// Around the statements at these places, and around those that the design lacks because of them.
    pub(super) fn new<'u>(
        project: &Project,
        (design, topology): (&Design, &Topology),
        unread: impl Fn(&SourceFile) -> &'u [Span],
    ) -> Self {
        let there = Statements::of(design);
        let mut named: BTreeSet<&str> = BTreeSet::new();
        for file in &project.files {
            let lacking = file.parse.file.all_items().flat_map(|item| there.lacking(item));
            for place in unread(file).iter().copied().chain(lacking) {
                named.extend(words(place.slice(&file.text)));
            }
        }
        let named = Named::new(design, &named);
        if named.things.iter().any(|id| design.thing(*id).kind.family == Family::Source) {
            return Self { wires: BTreeSet::new(), all: true };
        }
        let mut joined = joined(topology);
        let nodes = named.terminals.iter().filter_map(|id| topology.node(*id));
        let in_doubt: BTreeSet<u32> = nodes.map(|node| joined.root(node.0)).collect();
        let mut is_in_doubt = |id: TerminalId| {
            let node = topology.node(id).map(|node| joined.root(node.0));
            let thing = design.terminals.get(id.index()).map(|terminal| terminal.thing);
            node.is_some_and(|node| in_doubt.contains(&node))
                || thing.is_some_and(|thing| named.things.contains(&thing))
        };
        let wires = design.wires.iter().filter(|wire| is_in_doubt(wire.from.0) || is_in_doubt(wire.to.0));
        Self { wires: wires.map(|wire| wire.name.clone()).collect(), all: false }
    }

    pub(super) fn has(&self, wire: &str) -> bool {
        self.all || self.wires.contains(wire)
    }
}

/// Where the joints stand that the design has.
struct Statements(BTreeSet<Span>);

impl Statements {
    fn of(design: &Design) -> Self {
        let wires = design.wires.iter().map(|wire| wire.statement);
        let ties = design.ties.iter().map(|tie| tie.span);
        Self(wires.chain(ties).chain(design.mates.iter().map(|mate| mate.span)).collect())
    }

    /// The joints of a statement that the design lacks: what they join is not there.
    fn lacking(&self, item: &Item) -> Vec<Span> {
        let mut spans = match item {
            Item::Wire(_) | Item::Tie(_) | Item::Mate(_) => vec![item.span()],
            Item::Harness(harness) => harness.wires.iter().map(|wire| wire.span).collect(),
            _ => Vec::new(),
        };
        spans.retain(|span| !self.0.contains(span));
        spans
    }
}

/// The words of a text, with the dots inside them.
fn words(text: &str) -> impl Iterator<Item = &str> {
    let is_name = |found: char| found.is_alphanumeric() || matches!(found, '-' | '_' | '.');
    text.split(move |found| !is_name(found)).filter(|word| !word.is_empty()).map(|word| {
        // Of a range of terminals the thing.
        word.find("..").and_then(|_| word.split('.').next()).unwrap_or(word)
    })
}

/// What is named in some words.
#[derive(Default)]
struct Named {
    things: BTreeSet<ThingId>,
    /// Those named themselves, and all of a thing that is named without one of its terminals.
    terminals: BTreeSet<TerminalId>,
}

impl Named {
    fn new(design: &Design, words: &BTreeSet<&str>) -> Self {
        let mut named = Self::default();
        for (id, thing) in design.things() {
            let short = thing.name.rsplit('.').next().unwrap_or(&thing.name);
            let names = [thing.name.as_str(), short];
            let whole = names.iter().any(|name| words.contains(name));
            let is_named = |terminal: &str| {
                names.iter().any(|name| words.contains(format!("{name}.{terminal}").as_str()))
            };
            let terminals = design.terminals_of(id).filter(|(_, terminal)| whole || is_named(&terminal.name));
            let before = named.terminals.len();
            named.terminals.extend(terminals.map(|(at, _)| at));
            if whole || named.terminals.len() > before {
                named.things.insert(id);
            }
        }
        named
    }
}

/// The nodes that are joined by wires, connectors and contacts.
fn joined(topology: &Topology) -> Sets {
    let mut sets = Sets::new(topology.nodes as usize);
    for link in &topology.links {
        let joins = matches!(
            link.nature,
            Nature::Wire
                | Nature::Mated
                | Nature::Shunt(_)
                | Nature::HandContact { .. }
                | Nature::CoilContact { .. }
        );
        if joins {
            sets.join(link.a.0, link.b.0);
        }
    }
    sets
}
