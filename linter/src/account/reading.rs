//! What stands on a thing at a point: the voltage across it and the current through it.

use wattle_grammar::quantity::{Amps, Volts};

use crate::{
    design::ThingId,
    figures::Point,
    topology::{LinkId, Nature},
};

use super::View;

/// The voltage across a thing and the current through it.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Reading {
    /// Across the poles of a source, the supply input of a load, the coil of a relay, the leads of a motor, or the two
    /// ends of what only passes current. Nothing when no such pair is joined.
    pub volts: Option<Volts>,
    /// Out of the positive pole of a source, into the supply input of a load, through a coil or a winding, or from the
    /// first to the second terminal of what only passes current.
    pub amps: Option<Amps>,
    /// Of a regulator, the voltage of its output.
    pub output_volts: Option<Volts>,
    /// Of a regulator, the current out of its output.
    pub output_amps: Option<Amps>,
}

impl View<'_> {
    /// What stands on a thing at a point; nothing at all when the point has no solution or the thing is only a joint.
    #[must_use]
    pub fn reading(&self, point: &Point, thing: ThingId) -> Option<Reading> {
        point.working()?;
        let (design, topology) = (&self.analysis.design, &self.analysis.topology);
        let main = self.main_link(thing)?;
        let source = point.source_amps(topology, thing);
        let amps = source.or_else(|| point.amps(main));
        let supply =
            point.supply_volts(design, topology, thing).filter(|_| source.is_some() || self.is_fed(thing));
        let volts = supply.or_else(|| point.link_volts(topology, main));
        let output = self.output(thing);
        Some(Reading {
            volts,
            amps,
            output_volts: output.and_then(|link| point.link_volts(topology, link)),
            output_amps: output.and_then(|link| point.amps(link)).map(|amps| -amps),
        })
    }

    /// The output of a regulator.
    #[must_use]
    pub fn output(&self, thing: ThingId) -> Option<LinkId> {
        self.find(thing, |nature| nature == Nature::ConverterOutput)
    }

    fn is_fed(&self, thing: ThingId) -> bool {
        self.find(thing, draws).is_some()
    }

    /// The link that a thing is there for: its source, its supply input, its coil, its winding, else the only one.
    #[must_use]
    pub fn main_link(&self, thing: ThingId) -> Option<LinkId> {
        let gives = |nature| matches!(nature, Nature::Cells { .. } | Nature::Supply);
        let only = || {
            let mut links = self.analysis.topology.inside(thing);
            let (first, _) = links.next()?;
            links.next().is_none().then_some(first)
        };
        self.find(thing, gives).or_else(|| self.find(thing, draws)).or_else(only)
    }

    fn find(&self, thing: ThingId, wanted: impl Fn(Nature) -> bool) -> Option<LinkId> {
        self.analysis.topology.inside(thing).find(|(_, link)| wanted(link.nature)).map(|(id, _)| id)
    }
}

/// Whether a link is what a thing draws its current through.
pub(super) const fn draws(nature: Nature) -> bool {
    matches!(
        nature,
        Nature::Load
            | Nature::DriverInput
            | Nature::ConverterInput
            | Nature::Coil(_)
            | Nature::Winding
            | Nature::SpeakerCoil
    )
}
