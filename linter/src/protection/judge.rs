//! Holds what the devices on a way let pass against what the wire stands.

use std::collections::{BTreeMap, BTreeSet};

use wattle_grammar::quantity::{AmpSquaredSeconds, Amps, Seconds};

use super::{
    Clearing, Corner, Device, Far, Gap, Given, Highest, Slow, Stands, Through, Verdict, WayIn,
    WireProtection, Withstand,
    source::{Levels, Strength},
    way::{Chains, RawWay},
};
use crate::{
    design::{ThingId, Wire, WireId},
    physics::{evidence::Evidence, fuse},
    topology::LinkId,
};

/// What judging needs.
pub(super) struct Judging<'a> {
    pub(super) given: &'a Given<'a>,
    pub(super) levels: &'a [Levels],
    pub(super) devices: &'a BTreeMap<LinkId, Device>,
    pub(super) chains: &'a Chains,
}

/// When the first of some devices on one way has surely opened.
pub(super) fn clearing<'a>(devices: impl IntoIterator<Item = &'a Device>, amps: Amps) -> Clearing {
    let mut clearing = Clearing {
        amps,
        device: None,
        earliest: Seconds(0.0),
        latest: None,
        energy: None,
        evidence: Evidence::Seen,
        unknown: None,
    };
    for device in devices {
        let opening = device.style.zip(device.rated).and_then(|(style, rated)| style.times(rated, amps));
        let Some(opening) = opening else {
            clearing.unknown = clearing.unknown.or(Some(device.link));
            continue;
        };
        if device.is_far_beyond(amps) {
            clearing.unknown = clearing.unknown.or(Some(device.link));
        }
        let energy = device.lets_pass(amps);
        let less = match (energy, clearing.energy) {
            (Some(new), Some(held)) => new < held,
            (new, held) => clearing.device.is_none() || (new.is_some() && held.is_none()),
        };
        if less {
            clearing.device = Some(device.link);
            clearing.earliest = opening.earliest;
            clearing.latest = opening.latest;
            clearing.energy = energy;
            clearing.evidence = opening.evidence;
        }
    }
    clearing
}

impl Device {
    /// From what it surely carries for long to where it surely opens.
    pub(super) fn band(&self) -> Option<(Amps, Amps)> {
        let (style, rated) = (self.style?, self.rated?);
        Some((rated * style.carries()?.0, rated * style.opens()?.0))
    }
}

impl Judging<'_> {
    /// Judges a wire.
    pub(super) fn wire(
        &self,
        id: WireId,
        wire: &Wire,
        raw: Vec<RawWay>,
        through: Option<&[Through; 2]>,
    ) -> WireProtection {
        let ampacity = self.given.ampacities.get(id.index()).and_then(Option::as_ref).map(|found| found.amps);
        let conductor = self.given.conductors.worst(self.given.design, id);
        let withstand = Withstand::of(wire, conductor, ampacity);
        let [from, to] = through.cloned().unwrap_or_default();
        let strong = |at_from: bool| raw.iter().any(|way| way.at_from == at_from && self.is_strong(way.feed));
        let home = raw.iter().find_map(|way| way.homeward.clone());
        let raw_ways_strong = [strong(false), strong(true)];
        let mut ways: Vec<WayIn> = raw
            .iter()
            .map(|raw| {
                let through = if raw.at_from { from.near.amps } else { to.near.amps };
                let near = raw.homeward.as_ref().map_or(through, |home| home.amps);
                let has_strong = raw_ways_strong[usize::from(raw.at_from)];
                self.way(raw, near, has_strong, withstand.as_ref())
            })
            .collect();
        self.together(&mut ways, withstand.as_ref());
        let worst = (0..ways.len()).reduce(|held, next| {
            if rank(&ways[next].verdict) > rank(&ways[held].verdict) { next } else { held }
        });
        let lowest = ways.iter().enumerate().filter_map(|(at, way)| Some((way.lowest?, at)));
        let lowest = lowest.reduce(|held, next| if next.0 < held.0 { next } else { held });
        let far = match &home {
            Some(home) => Far { amps: home.amps, reduced: home.reduced },
            None => from.far.max(to.far),
        };
        let highest = if to.near.amps > from.near.amps { to.near } else { from.near };
        WireProtection {
            wire: id,
            highest: match home {
                Some(home) => home,
                None if ways.is_empty() => Highest::default(),
                None => highest,
            },
            highest_at_far_end: far,
            lowest,
            withstand,
            verdict: worst.and_then(|at| ways.get(at)).map_or(Verdict::Unfed, |way| way.verdict),
            worst,
            ways,
        }
    }

    fn way(&self, raw: &RawWay, near: Amps, has_strong: bool, withstand: Option<&Withstand>) -> WayIn {
        let links: Vec<LinkId> = self.chains.devices(raw.chain).collect();
        let lowest = raw.lowest.map(|lowest| lowest.min(near));
        let at = |amps: Option<Amps>| {
            Some(clearing(self.of(&links), amps.filter(|amps| amps.0 > 0.0)?)).filter(|_| !links.is_empty())
        };
        let guard = match raw.guard {
            crate::trace::Weakest::Device(link, _) => self.devices.get(&link),
            _ => None,
        };
        let band = guard
            .zip(withstand.and_then(|withstand| withstand.ampacity))
            .and_then(|(device, ampacity)| fuse::unprotected_band(device.style, device.rated?, ampacity));
        WayIn {
            feed: raw.feed,
            at_from: raw.at_from,
            homeward: raw.homeward.is_some(),
            lowest,
            out: raw.out,
            drop: raw.drop,
            back: raw.back,
            highest: near,
            guard: raw.guard,
            at_lowest: at(lowest),
            at_highest: at(Some(near)),
            band,
            verdict: self.verdict(raw, lowest, self.alone(raw, near, has_strong), &links, withstand),
            devices: links,
        }
    }

    /// The highest current that the way is judged up to. What limits itself gives no more than its limit; that of stronger
    /// sources which come in at the same end is judged with them.
    fn alone(&self, raw: &RawWay, near: Amps, has_strong: bool) -> Amps {
        match self.levels.get(raw.feed).and_then(Levels::own).map(|source| source.strength) {
            Some(Strength::Limit(limit)) if has_strong => near.min(limit),
            _ => near,
        }
    }

    fn of<'b>(&'b self, links: &'b [LinkId]) -> impl Iterator<Item = &'b Device> + 'b {
        links.iter().filter_map(|link| self.devices.get(link))
    }

    fn verdict(
        &self,
        raw: &RawWay,
        lowest: Option<Amps>,
        near: Amps,
        links: &[LinkId],
        withstand: Option<&Withstand>,
    ) -> Verdict {
        let source = self.levels.get(raw.feed).and_then(Levels::deepest);
        let thing = source.map(|source| source.about);
        let Some(withstand) = withstand else { return Verdict::NotAssessed(Gap::Size) };
        let Some(lowest) = lowest else {
            return thing.map_or(Verdict::Unfed, |thing| Verdict::NotAssessed(Gap::Source(thing)));
        };
        if withstand.stands(near.max(lowest)) == Stands::ForGood {
            return Verdict::Bears;
        }
        if links.is_empty() {
            return Verdict::NoDevice;
        }
        if let Some(wire) = raw.unmeasured {
            return Verdict::NotAssessed(Gap::Length(wire));
        }
        let usual = source.filter(|source| source.strength == Strength::UsualResistance).and(thing);
        self.range(lowest, near, links, withstand, usual)
    }

    /// Compares at the lowest current, at the highest, and right below each limit of each device between them: there its
    /// time is longest for the current. Of a breaker also at the highest current that its limits tell something of.
    fn range(
        &self,
        lowest: Amps,
        highest: Amps,
        links: &[LinkId],
        withstand: &Withstand,
        usual: Option<ThingId>,
    ) -> Verdict {
        let mut corners = vec![(lowest, Corner::Lowest), (highest.max(lowest), Corner::Highest)];
        for device in self.of(links) {
            let (Some(style), Some(rated)) = (device.style, device.rated) else { continue };
            let kinks = style.limits.iter().map(|limit| rated * limit.multiple * (1.0 - 1e-9));
            let inside = kinks.chain(device.tells_up_to()).filter(|amps| *amps > lowest && *amps < highest);
            corners.extend(inside.map(|amps| (amps, Corner::Between)));
        }
        corners.sort_by(|one, other| one.0.0.total_cmp(&other.0.0));
        let mut unknown = None;
        for (amps, corner) in corners {
            let clearing = clearing(self.of(links), amps);
            let stands = withstand.stands(amps);
            if outlasts(withstand, &clearing, stands) {
                continue;
            }
            if let Some(link) = clearing.unknown {
                unknown = unknown.or(Some(link));
                continue;
            }
            let Some(device) = clearing.device else { continue };
            let slow = Slow { amps, device, latest: clearing.latest, stands, corner, usual };
            return Verdict::TooSlow(slow);
        }
        unknown.map_or(Verdict::InTime, |link| Verdict::NotAssessed(Gap::Device(link)))
    }

    /// With several packs at once each behind a device of its own: the wire carries the sum, each device its share. The
    /// shares are taken in the ratio of what each gives alone.
    fn together(&self, ways: &mut [WayIn], withstand: Option<&Withstand>) {
        let Some(withstand) = withstand else { return };
        for at_from in [true, false] {
            let here: Vec<usize> = (0..ways.len())
                .filter(|at| ways[*at].at_from == at_from && self.is_strong(ways[*at].feed))
                .collect();
            let sum: f64 = here.iter().filter_map(|at| ways[*at].lowest).map(|amps| amps.0).sum();
            let chains: Vec<BTreeSet<LinkId>> =
                here.iter().map(|at| ways[*at].devices.iter().copied().collect()).collect();
            let shared =
                chains.iter().skip(1).fold(chains.first().cloned().unwrap_or_default(), |held, next| {
                    held.intersection(next).copied().collect()
                });
            if here.len() < 2 || !shared.is_empty() || sum <= 0.0 {
                continue;
            }
            for at in here {
                if let Some(slow) = self.slow_together(&ways[at], sum, withstand)
                    && matches!(ways[at].verdict, Verdict::InTime)
                {
                    ways[at].verdict = Verdict::TooSlow(slow);
                }
            }
        }
    }

    fn is_strong(&self, feed: usize) -> bool {
        let source = self.levels.get(feed).and_then(Levels::own);
        source
            .is_some_and(|source| matches!(source.strength, Strength::Resistance | Strength::UsualResistance))
    }

    fn slow_together(&self, way: &WayIn, sum: f64, withstand: &Withstand) -> Option<Slow> {
        let total = way.highest;
        let share = total * (way.lowest?.0 / sum);
        let clearing = clearing(self.of(&way.devices), share);
        let stands = withstand.stands(total);
        // The energy of the device's share, as that of the whole current.
        let scaled = (total / share).powi(2);
        let whole = Clearing {
            amps: total,
            energy: clearing.energy.map(|energy| AmpSquaredSeconds(energy.0 * scaled)),
            ..clearing
        };
        if clearing.unknown.is_some() || outlasts(withstand, &whole, stands) {
            return None;
        }
        let device = clearing.device?;
        Some(Slow {
            amps: total,
            device,
            latest: clearing.latest,
            stands,
            corner: Corner::Together,
            usual: None,
        })
    }
}

/// Whether the wire outlasts the devices. One that only ages outlasts whatever surely opens at some time: the standards
/// allow that band of every fuse that is not larger than the wire. What need not open may last only where the wire runs
/// little above its class.
fn outlasts(withstand: &Withstand, clearing: &Clearing, stands: Stands) -> bool {
    match (stands, clearing.latest) {
        (Stands::ForGood, _) => true,
        (Stands::Ages, latest) => latest.is_some() || withstand.is_mild(clearing.amps),
        (Stands::Adiabatic(time) | Stands::Cooled(time), Some(_)) => {
            clearing.energy.is_some_and(|energy| energy.0 <= time.0 * clearing.amps.0 * clearing.amps.0)
        }
        (Stands::Adiabatic(_) | Stands::Cooled(_), None) => false,
    }
}

/// How bad a verdict is, for choosing the one to tell.
const fn rank(verdict: &Verdict) -> u8 {
    match verdict {
        Verdict::Unfed => 0,
        Verdict::Bears => 1,
        Verdict::InTime => 2,
        Verdict::NotAssessed(_) => 3,
        Verdict::NoDevice => 4,
        Verdict::TooSlow(_) => 5,
    }
}
