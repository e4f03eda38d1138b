//! The figures of wires and devices with their derivation.

mod device;
mod wire;

use wattle_grammar::{kind::key, quantity::Ohms};

use super::{Clearing, Protection, Strength, device::is_written, source::Source};
use crate::{
    analysis::Analysis,
    design::{Design, WireId},
    explained::{Amount, Explained, Input},
    naming,
    physics::evidence::Evidence,
    topology::{LinkId, Topology},
    trace::Feed,
};

impl Protection {
    /// Every figure of a wire: fault currents, what it stands, and for each way in the device, its times and what it comes
    /// to. Empty for one that is not there.
    #[must_use]
    pub fn explain_wire(&self, analysis: &Analysis, wire: WireId) -> Vec<Explained> {
        self.wire(wire).map_or_else(Vec::new, |found| wire::explain(analysis, &self.levels, found))
    }

    /// Every figure of a device, by its link. Empty for one that is not there.
    #[must_use]
    pub fn explain_device(&self, analysis: &Analysis, device: LinkId) -> Vec<Explained> {
        self.device(device).map_or_else(Vec::new, |found| device::explain(analysis, found))
    }
}

/// Where the currents come from.
const NETWORK: &str = "Kirchhoff's laws, network of all sources solved";

/// A clearing time of a device, latest or earliest.
fn time(design: &Design, topology: &Topology, what: &str, clearing: &Clearing) -> Explained {
    let device = clearing.device.map(|link| naming::link(design, topology, link));
    let amount = match (&device, clearing.latest) {
        (Some(_), Some(latest)) => Amount::of(latest),
        (Some(_), None) => Amount::Words("need not open".to_owned()),
        (None, _) => Amount::NotAssessed(key::STYLE.to_owned()),
    };
    let mut explained = Explained::new(what, amount)
        .by(
            "t(I) = t_limit (I_limit / I)²",
            "time limits of the device's style, their energy carried to higher currents",
        )
        .from([Input::of("I", "fault current through it", clearing.amps)])
        .resting_on(clearing.evidence);
    if let Some(device) = device {
        explained = explained.noting(format!("{device} opens first, as far as its limits tell"));
    }
    if let Some(unknown) = clearing.unknown {
        let unknown = naming::link(design, topology, unknown);
        explained = explained
            .noting(format!("the limits of {unknown} do not reach this current: it may open sooner"));
    }
    explained
}

/// The internal resistance of a source, as an input.
fn resistance_of(design: &Design, feed: &Feed, ohms: Ohms) -> Input {
    let thing = design.thing(feed.thing);
    let from = if is_written(thing, key::RESISTANCE) { "as stated" } else { "usual for its chemistry" };
    Input::of("R_s", format!("internal resistance of {}, {from}", naming::quoted(&thing.name)), ohms)
}

/// What a source's figure is worth.
const fn evidence(source: &Source) -> Evidence {
    match source.strength {
        Strength::Resistance => Evidence::Seen,
        Strength::UsualResistance | Strength::Limit(_) | Strength::Unknown => Evidence::Practice,
    }
}
