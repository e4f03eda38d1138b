//! Whether a node leads home: to a feed's negative rail.

use std::collections::BTreeSet;

use super::{RailId, Trace, rails};
use crate::{
    network::NodeId,
    topology::{Link, Nature, Topology},
};

impl Trace {
    /// Whether `from` is joined to the rail `home` by conductors, devices and contacts that can close, without crossing
    /// the rail `not`.
    #[must_use]
    pub fn leads_home(&self, topology: &Topology, from: NodeId, home: RailId, not: RailId) -> bool {
        self.leads(topology, from, home, not, |link, _| passes(&link.nature))
    }

    /// As [`Self::leads_home`], and through other sources from their negative to their positive pole: the way of a current
    /// that sources in series drive.
    #[must_use]
    pub fn leads_home_in_series(&self, topology: &Topology, from: NodeId, home: RailId, not: RailId) -> bool {
        self.leads(topology, from, home, not, |link, at| {
            passes(&link.nature) || is_source(&link.nature) && at == link.b
        })
    }

    /// As [`Self::leads_home`], and through other sources in either direction: whether there is a circuit at all.
    #[must_use]
    pub fn leads_home_through_sources(
        &self,
        topology: &Topology,
        from: NodeId,
        home: RailId,
        not: RailId,
    ) -> bool {
        self.leads(topology, from, home, not, |link, _| passes(&link.nature) || is_source(&link.nature))
    }

    fn leads(
        &self,
        topology: &Topology,
        from: NodeId,
        home: RailId,
        not: RailId,
        passes: impl Fn(&Link, NodeId) -> bool,
    ) -> bool {
        let mut seen = BTreeSet::from([from]);
        let mut stack = vec![from];
        while let Some(node) = stack.pop() {
            if self.rail(node) == home {
                return true;
            }
            for link in topology.links_at.get(node.0 as usize).into_iter().flatten() {
                let Some(link) = topology.links.get(link.0 as usize) else { continue };
                let to = if link.a == node { link.b } else { link.a };
                if passes(link, node) && self.rail(to) != not && seen.insert(to) {
                    stack.push(to);
                }
            }
        }
        false
    }
}

fn passes(nature: &Nature) -> bool {
    rails::joins(nature) || matches!(nature, Nature::HandContact { .. } | Nature::CoilContact { .. })
}

fn is_source(nature: &Nature) -> bool {
    matches!(nature, Nature::Cells { .. } | Nature::Supply | Nature::ConverterOutput)
}
