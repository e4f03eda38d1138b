//! Which source a wire's drop is a share of.

use wattle_grammar::quantity::Volts;

use super::super::{View, worst::NOTHING};
use crate::{
    design::{ThingId, WireId},
    topology::LinkId,
    trace::Feed,
};

/// The sources whose voltage counts for a wire.
pub(super) struct Supply<'a> {
    feeds: Vec<&'a Feed>,
    /// Whether the lowest of several was taken for want of a better choice.
    pub(super) chosen: bool,
}

impl<'a> View<'a> {
    /// What feeds a wire; of a return wire, what feeds the heaviest load that comes home through it, else whatever has
    /// its negative pole there.
    pub(super) fn supply_of(&self, id: WireId) -> Option<Supply<'a>> {
        let trace = &self.analysis.trace;
        let link = self.analysis.topology.link(LinkId(id.0))?;
        let found = |feeds: Vec<&'a Feed>, chosen| (!feeds.is_empty()).then_some(Supply { feeds, chosen });
        let into: Vec<&Feed> = trace.into_wire(&self.analysis.topology, id).map(|way| way.feed).collect();
        if !into.is_empty() {
            return found(into, false);
        }
        let heaviest = trace.returns.get(id.index()).copied().flatten();
        if let Some(feed) = heaviest.and_then(|load| trace.feeds.get(load.feed)) {
            return found(vec![feed], false);
        }
        let rail = trace.rail(link.a);
        let home: Vec<&Feed> = trace.feeds.iter().filter(|feed| trace.rail(feed.minus) == rail).collect();
        let several = home.len() > 1;
        found(home, several)
    }

    /// The voltage between the poles of a wire's source at a point, and the source: of several that feed it the one with the
    /// highest, of several that it may be the return of the one with the lowest.
    pub(super) fn supply_volts(&self, supply: &Supply<'_>, at: usize) -> Option<(Volts, ThingId)> {
        let point = self.analysis.figures.points.get(at)?;
        let volts = |feed: &&Feed| Some((point.volts_across(feed.plus, feed.minus)?, feed.thing));
        let given = supply.feeds.iter().filter_map(volts).filter(|(volts, _)| volts.0 > NOTHING);
        given.reduce(|held, next| {
            let better = if supply.chosen { next.0 < held.0 } else { next.0 > held.0 };
            if better { next } else { held }
        })
    }
}
