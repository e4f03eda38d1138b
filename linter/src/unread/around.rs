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

#[cfg(test)]
mod tests {
    use std::path::Path;

    use crate::{
        analysis,
        project::{self, Loader},
        rules::{join::floating, protection::unfused_branch},
    };

    struct Given(String);

    impl Loader for Given {
        fn load(&self, _: &Path) -> Result<Vec<u8>, String> {
            Ok(self.0.clone().into_bytes())
        }
    }

    const ROBOT: &str = "wattle 1\nrobot \"R\" { ambient 30 degC }\nbattery PACK lead-acid 6S 7 Ah 20 mohm\n\
                         fuse F1 5 A blade\nlight LAMP 12 V { typical 1 A }\nlight SPARE 12 V { typical 1 A }\n\
                         wire W1 PACK.pos to F1.line 14 AWG red 3 m\n\
                         wire W2 F1.load to LAMP.pos 14 AWG red 300 mm\n\
                         wire W3 LAMP.neg to PACK.neg 14 AWG black 400 mm\n";

    /// The rules that find something in the robot with more lines, and what is incomplete.
    fn found(more: &str) -> (Vec<&'static str>, Vec<String>) {
        let project = project::open(Path::new("robot.wattle"), &Given(ROBOT.to_owned() + more));
        let verdict = analysis::analyse(project, None).verdict;
        let mut rules: Vec<&str> = verdict.findings.iter().map(|finding| finding.rule).collect();
        rules.sort_unstable();
        (rules, verdict.incomplete)
    }

    #[test]
    fn a_lost_wire_withholds_feeds_everywhere_and_fuses_nearby() {
        let (fuse, feed) = (unfused_branch::RULE.name, floating::RULE.name);
        assert_eq!(found("").0, [feed, fuse]);
        let (rules, incomplete) = found("wire W9 = = LAMP.pos to SPARE.pos\n");
        assert_eq!((rules, incomplete.len()), (vec![fuse], 1));
        assert_eq!(found("wire W9 = = F1.line to SPARE.pos\n").0, [""; 0]);
        assert_eq!(
            found("wire W9 = = PACK.pos to SPARE.pos\n").0,
            [""; 0],
            "what feeds the robot is in doubt"
        );
    }

    #[test]
    fn what_is_no_part_of_the_circuit_withholds_nothing() {
        let (fuse, feed) = (unfused_branch::RULE.name, floating::RULE.name);
        for more in [
            "expect = = voltage LAMP.pos >= 9 V\n",
            "place neck { ambient = = 9 degC }\n",
            "reading 9 V = =\n",
        ] {
            assert_eq!(found(more), (vec![feed, fuse], Vec::new()), "{more}");
        }
    }

    #[test]
    fn what_a_joint_that_is_not_there_would_join_is_in_doubt() {
        let lost = "plug P = = 2 way 20 A\nsocket J 2 way 20 A\nmate P with J\nwire W8 F1.line to J.1 14 AWG red 3 m\n";
        assert_eq!(found(lost).0, [""; 0]);
    }
}
