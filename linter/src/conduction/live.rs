//! What still has a source at a working point.

use wattle_grammar::kind::{KindId, Role};

use super::Conduction;
use crate::{
    design::{Design, ThingId},
    network::NodeId,
    topology::{Nature, Topology},
    trace::{Feed, Trace},
};

/// The nodes that sources which still give can push current to, and those it can come home from.
#[derive(Clone, Debug, Default)]
pub struct Live {
    fed: Vec<bool>,
    home: Vec<bool>,
}

impl Live {
    /// What batteries and supplies that are there feed, through conductors, closed contacts and diodes, and through the
    /// regulators that these power, one behind the other.
    #[must_use]
    pub fn new(design: &Design, trace: &Trace, conduction: &Conduction<'_>) -> Self {
        let mut live = Self::default();
        let mut giving = 0;
        loop {
            let gives = |feed: &&Feed| live.gives(design, conduction, feed);
            let (plus, minus): (Vec<NodeId>, Vec<NodeId>) =
                trace.feeds.iter().filter(gives).map(|feed| (feed.plus, feed.minus)).unzip();
            if plus.len() == giving {
                return live;
            }
            giving = plus.len();
            let diode = |nature: Nature| nature == Nature::Diode;
            live.fed = conduction.flood(&plus, |link, at| diode(link.nature) && link.a == at);
            live.home = conduction.flood(&minus, |link, at| diode(link.nature) && link.b == at);
        }
    }

    /// Whether both supply terminals of a part lead to sources that give.
    #[must_use]
    pub fn powers(&self, design: &Design, topology: &Topology, thing: ThingId) -> bool {
        let holds = |nodes: &[bool], node: NodeId| nodes.get(node.0 as usize) == Some(&true);
        supply(design, topology, thing)
            .is_some_and(|(plus, minus)| holds(&self.fed, plus) && holds(&self.home, minus))
    }

    fn gives(&self, design: &Design, conduction: &Conduction<'_>, feed: &Feed) -> bool {
        if design.thing(feed.thing).id() == KindId::Regulator {
            return self.powers(design, conduction.topology, feed.thing);
        }
        conduction.topology.inside(feed.thing).any(|(id, link)| {
            matches!(link.nature, Nature::Cells { .. } | Nature::Supply)
                && conduction.point.is_closed(id) == Some(true)
        })
    }
}

/// The nodes of the positive and the negative supply of a part.
#[must_use]
pub fn supply(design: &Design, topology: &Topology, thing: ThingId) -> Option<(NodeId, NodeId)> {
    let with = |role| {
        let (at, _) = design.terminals_of(thing).find(|(_, terminal)| terminal.role == role)?;
        topology.node(at)
    };
    Some((with(Role::SupplyPositive)?, with(Role::SupplyNegative)?))
}
