//! Diodes that conduct straight from a positive rail to the negative one, of one source or of several in series.

use super::{Trace, Weakest};
use crate::topology::{LinkId, Nature, Topology};

/// A diode the wrong way round.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Forward {
    /// The diode's link.
    pub diode: LinkId,
    /// Index of the feed that drives it, in [`Trace::feeds`].
    pub feed: usize,
}

/// Every diode that a feed drives forward with nothing but contacts and conductors on the way there and home.
pub(super) fn find(trace: &Trace, topology: &Topology) -> Vec<Forward> {
    let links = (0u32..).map(LinkId).zip(&topology.links);
    links
        .filter(|(_, link)| link.nature == Nature::Diode)
        .filter_map(|(diode, link)| {
            let feed = trace.indices_at(link.a).iter().copied().find(|index| {
                let Some(feed) = trace.feeds.get(*index) else { return false };
                let driven = feed.at(link.a).is_some_and(|reached| {
                    !matches!(reached.weakest, Weakest::Limit(_)) || feed.limit.is_some()
                });
                driven
                    && trace.leads_home_in_series(
                        topology,
                        link.b,
                        trace.rail(feed.minus),
                        trace.rail(link.a),
                    )
            })?;
            Some(Forward { diode, feed })
        })
        .collect()
}
