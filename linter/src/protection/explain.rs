//! The figures of wires and devices with their derivation.

mod current;
mod device;
mod lowest;
mod members;
mod parts;
mod wire;

use wattle_grammar::{
    kind::{KindId, key},
    quantity::{Amps, Ohms},
};

use super::{Clearing, Device, Protection, Strength, source::Source};
use crate::{
    analysis::Analysis,
    design::{Design, WireId},
    explained::{Amount, Explained, Input},
    naming,
    physics::{evidence::Evidence, fuse::QUICKEST},
    topology::{LinkId, Topology},
    trace::Feed,
};

impl Protection {
    /// Every figure of a wire: fault currents, what it stands, and for each way in the device, its times and what it comes
    /// to. Empty for one that is not there.
    #[must_use]
    pub fn explain_wire(&self, analysis: &Analysis, wire: WireId) -> Vec<Explained> {
        let explain = |found| wire::explain(analysis, self, found);
        self.wire(wire).map_or_else(Vec::new, explain)
    }

    /// Every figure of a device, by its link. Empty for one that is not there.
    #[must_use]
    pub fn explain_device(&self, analysis: &Analysis, device: LinkId) -> Vec<Explained> {
        self.device(device).map_or_else(Vec::new, |found| device::explain(analysis, self, found))
    }
}

/// A clearing time of a device: by when it has surely opened.
fn time(design: &Design, topology: &Topology, what: &str, clearing: &Clearing) -> Explained {
    let device = clearing.device.and_then(|link| Device::of(design, link, topology.link(link)?));
    let amount = match (&device, clearing.latest) {
        (Some(_), Some(latest)) => Amount::of(latest),
        (Some(_), None) => Amount::Words("need not open".to_owned()),
        (None, _) => Amount::NotAssessed(missing(design, topology, clearing)),
    };
    let mut explained = Explained::new(what, amount)
        .from([Input::of("I", "fault current through it", clearing.amps)])
        .resting_on(clearing.evidence);
    if let Some(device) = device {
        let name = naming::link(design, topology, device.link);
        explained = by_limits(explained, &device, clearing)
            .noting(format!("{name} opens first, as far as its limits tell"));
    }
    if let Some(unknown) = clearing.unknown.filter(|_| clearing.device.is_some()) {
        let unknown = naming::link(design, topology, unknown);
        explained = explained
            .noting(format!("the limits of {unknown} do not reach this current: it may open sooner"));
    }
    explained
}

/// What is missing to tell when the first of the devices opens.
fn missing(design: &Design, topology: &Topology, clearing: &Clearing) -> String {
    let device = clearing.unknown.and_then(|link| Device::of(design, link, topology.link(link)?));
    device.and_then(|device| device.missing_band(design)).unwrap_or_else(|| key::STYLE.to_owned())
}

/// The limit of the style that a clearing time is carried from.
fn by_limits(explained: Explained, device: &Device, clearing: &Clearing) -> Explained {
    let Some((style, rated)) = device.style.zip(device.rated) else { return explained };
    let limit = style.times(rated, clearing.amps).and_then(|times| times.slow);
    let Some((limit, within)) = limit.and_then(|limit| Some((limit, limit.latest?))) else {
        let opens = style.opens().map_or(Amps(f64::INFINITY), |multiple| rated * multiple.0);
        return explained.by("it need not open below I_l", style.source).from([Input::of(
            "I_l",
            "current from which it must open at some time",
            opens,
        )]);
    };
    let at = rated * limit.multiple;
    let carried = within * (at / clearing.amps).powi(2);
    let formula =
        if carried < QUICKEST { "t_l · (I_l / I)², at least t_min" } else { "t = t_l · (I_l / I)²" };
    let inputs = [
        Input::of("t_l", "by then it must have opened at I_l", within),
        Input::of("I_l", format!("{} times its rating of {rated}", limit.multiple), at),
    ];
    let explained = explained.by(formula, style.source).from(inputs);
    if carried < QUICKEST {
        let why = "nothing is counted as quicker: the arc lasts some milliseconds more";
        return explained.from([Input::of("t_min", why, QUICKEST)]);
    }
    explained
}

/// The internal resistance of a source, as an input.
fn resistance_of(analysis: &Analysis, feed: &Feed, ohms: Ohms) -> Input {
    let thing = analysis.design.thing(feed.thing);
    let from = match thing.id() {
        _ if thing.states(key::RESISTANCE) => "as stated",
        KindId::Battery => "usual for its chemistry",
        _ => "usual for its kind",
    };
    let name = members::name_of(analysis, feed);
    Input::of("R_s", format!("internal resistance of {name}, {from}"), ohms)
}

/// What a source's figure is worth.
const fn evidence(source: &Source) -> Evidence {
    match source.strength {
        Strength::Resistance => Evidence::Seen,
        Strength::UsualResistance | Strength::Limit(_) | Strength::Unknown => Evidence::Practice,
    }
}
