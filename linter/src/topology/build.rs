//! From a design to its topology: nodes first, then wires, mated ways and the insides of things.

use super::{Link, LinkId, Nature, Owner, Topology, inside::Laying, joined};
use crate::{
    design::{Design, MateId, TerminalId, ThingId, Wire, WireId},
    network::NodeId,
};

impl Topology {
    /// Joins what is one piece of metal and links the rest.
    ///
    /// Link `n` of a wire is [`LinkId`]`(n)` for [`crate::design::WireId`]`(n)`. Terminals that lie outside the design's
    /// tables (there are none in a lowered design) are not looked for.
    #[must_use]
    pub fn build(design: &Design) -> Self {
        let (node_of, mut nodes) = joined::nodes(design);
        let mut links = wire_links(design, &node_of, &mut nodes);
        links.extend(mated_links(design, &node_of));
        let mut laying = Laying { design, node_of: &node_of, nodes, links };
        let inside = design.things().map(|(id, thing)| laying.thing(id, thing)).collect();
        let Laying { nodes, links, .. } = laying;
        let links_at = links_at(nodes, &links);
        Self { node_of, nodes, links, links_at, inside }
    }
}

impl Topology {
    /// The picture with two nodes exchanged inside a thing, as if its wires were connected the other way round.
    #[must_use]
    pub fn exchanged(mut self, thing: ThingId, one: NodeId, other: NodeId) -> Self {
        let turned = |node: NodeId| match node {
            at if at == one => other,
            at if at == other => one,
            at => at,
        };
        let (first, end) = self.inside.get(thing.index()).copied().unwrap_or((LinkId(0), LinkId(0)));
        for link in self.links.get_mut(first.0 as usize..end.0 as usize).into_iter().flatten() {
            (link.a, link.b) = (turned(link.a), turned(link.b));
        }
        self.links_at = links_at(self.nodes, &self.links);
        self
    }
}

/// A link for each wire. A spare one is capped: each of its ends is a node of its own, whatever terminal it is meant for.
fn wire_links(design: &Design, node_of: &[NodeId], nodes: &mut u32) -> Vec<Link> {
    let mut end = |spare: bool, terminal: TerminalId| {
        if !spare {
            return node_of[terminal.index()];
        }
        *nodes += 1;
        NodeId(*nodes - 1)
    };
    let link = |(id, wire): (WireId, &Wire)| Link {
        a: end(wire.spare, wire.from.0),
        b: end(wire.spare, wire.to.0),
        owner: Owner::Wire(id),
        nature: Nature::Wire,
    };
    design.wires().map(link).collect()
}

fn mated_links(design: &Design, node_of: &[NodeId]) -> Vec<Link> {
    let mut links = Vec::new();
    for (id, mate) in (0u32..).map(MateId).zip(&design.mates) {
        for (way, (first, second)) in (1..).zip(&mate.ways) {
            links.push(Link {
                a: node_of[first.index()],
                b: node_of[second.index()],
                owner: Owner::MatedWay(id, way),
                nature: Nature::Mated,
            });
        }
    }
    links
}

fn links_at(nodes: u32, links: &[Link]) -> Vec<Vec<LinkId>> {
    let mut links_at = vec![Vec::new(); nodes as usize];
    for (at, link) in (0u32..).map(LinkId).zip(links) {
        links_at[link.a.0 as usize].push(at);
        if link.b != link.a {
            links_at[link.b.0 as usize].push(at);
        }
    }
    links_at
}
