//! Holds what the devices on a way let pass against what the wire stands.

use wattle_grammar::quantity::{AmpSquaredSeconds, Amps, Seconds};

use super::{
    Clearing, Corner, Device, Devices, Far, Gap, Given, Highest, Slow, Stands, Through, Verdict, WayIn,
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
    given: &'a Given<'a>,
    levels: &'a [Levels],
    devices: &'a Devices,
    chains: &'a Chains,
    /// By chain, as far as asked: when its devices open right below each of their limits. Many wires lie behind one chain.
    kinks: Vec<Option<Vec<Clearing>>>,
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

impl<'a> Judging<'a> {
    /// Judges by what was found.
    pub(super) fn new(
        given: &'a Given<'a>,
        levels: &'a [Levels],
        devices: &'a Devices,
        chains: &'a Chains,
    ) -> Self {
        Self { given, levels, devices, chains, kinks: vec![None; chains.len()] }
    }

    /// Judges a wire.
    pub(super) fn wire(
        &mut self,
        id: WireId,
        wire: &Wire,
        raw: &[RawWay],
        through: Option<&[Through; 2]>,
    ) -> WireProtection {
        let ampacity = self.given.ampacities.get(id.index()).and_then(Option::as_ref).map(|found| found.amps);
        let conductor = self.given.conductors.worst(self.given.design, id);
        let withstand = Withstand::of(wire, conductor, ampacity);
        let [from, to] = through.copied().unwrap_or_default();
        let strong = |at_from: bool| raw.iter().any(|way| way.at_from == at_from && self.is_strong(way.feed));
        let home = raw.iter().find_map(|way| way.homeward);
        let is_strong = [strong(false), strong(true)];
        let mut ways: Vec<WayIn> = raw
            .iter()
            .map(|raw| {
                let through = if raw.at_from { from.near.amps } else { to.near.amps };
                let near = raw.homeward.as_ref().map_or(through, |home| home.amps);
                let has_strong = is_strong[usize::from(raw.at_from)];
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

    fn way(&mut self, raw: &RawWay, near: Amps, has_strong: bool, withstand: Option<&Withstand>) -> WayIn {
        let links: Vec<LinkId> = self.chains.devices(raw.chain).collect();
        let lowest = raw.lowest.map(|lowest| lowest.min(near));
        let at = |amps: Option<Amps>| {
            Some(clearing(self.of(&links), amps.filter(|amps| amps.0 > 0.0)?)).filter(|_| !links.is_empty())
        };
        let (at_lowest, at_highest) = (at(lowest), at(Some(near)));
        let guard = match raw.guard {
            crate::trace::Weakest::Device(link, _) => self.devices.get(link),
            _ => None,
        };
        let band = guard
            .zip(withstand.and_then(|withstand| withstand.ampacity))
            .and_then(|(device, ampacity)| fuse::unprotected_band(device.style, device.rated?, ampacity));
        let highest = self.alone(raw, near, has_strong);
        let known = Known { links: &links, at_lowest, at_highest };
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
            at_lowest,
            at_highest,
            band,
            verdict: beside_unrated(self.verdict(raw, lowest, highest, &known, withstand), raw.unrated),
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
        links.iter().filter_map(|link| self.devices.get(*link))
    }

    fn verdict(
        &mut self,
        raw: &RawWay,
        lowest: Option<Amps>,
        near: Amps,
        known: &Known<'_>,
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
        let Some(chain) = raw.chain else { return Verdict::NoDevice };
        if let Some(wire) = raw.unmeasured {
            return Verdict::NotAssessed(Gap::Length(wire));
        }
        let usual = source.filter(|source| source.strength == Strength::UsualResistance).and(thing);
        self.prepare(chain, known.links);
        self.range(chain, (lowest, near), known, withstand, usual)
    }

    /// Finds when the devices of a chain open right below each limit of each of them: there its time is longest for the
    /// current. Of a breaker also at the highest current that its limits tell something of.
    fn prepare(&mut self, chain: u32, links: &[LinkId]) {
        let is_known = self.kinks.get(chain as usize).is_none_or(Option::is_some);
        if is_known {
            return;
        }
        let found = self.kinks_of(links).into_iter().map(|amps| clearing(self.of(links), amps)).collect();
        self.kinks[chain as usize] = Some(found);
    }

    /// The currents right below each limit of some devices, rising, and those up to which breakers tell something.
    fn kinks_of(&self, links: &[LinkId]) -> Vec<Amps> {
        let mut kinks = Vec::new();
        for device in self.of(links) {
            let (Some(style), Some(rated)) = (device.style, device.rated) else { continue };
            kinks.extend(style.limits.iter().map(|limit| rated * limit.multiple * (1.0 - 1e-9)));
            kinks.extend(device.tells_up_to());
        }
        kinks.sort_by(|one, other| one.0.total_cmp(&other.0));
        kinks.dedup();
        kinks
    }

    /// Compares at the lowest current, at each of the chain's kinks above it, and at the highest.
    fn range(
        &self,
        chain: u32,
        (lowest, highest): (Amps, Amps),
        known: &Known<'_>,
        withstand: &Withstand,
        usual: Option<ThingId>,
    ) -> Verdict {
        let at = |amps: Amps| {
            let mut found = [known.at_lowest, known.at_highest].into_iter().flatten();
            found.find(|found| found.amps == amps).unwrap_or_else(|| clearing(self.of(known.links), amps))
        };
        let kinks = self.kinks.get(chain as usize).and_then(Option::as_deref).unwrap_or_default();
        let inside = kinks.iter().filter(|kink| kink.amps > lowest && kink.amps < highest);
        let corners = std::iter::once((at(lowest), Corner::Lowest))
            .chain(inside.map(|kink| (*kink, Corner::Between)))
            .chain(std::iter::once_with(|| (at(highest.max(lowest)), Corner::Highest)));
        let mut unknown = None;
        for (clearing, corner) in corners {
            let amps = clearing.amps;
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
            if here.len() < 2 {
                continue;
            }
            let sum: f64 = here.iter().filter_map(|at| ways[*at].lowest).map(|amps| amps.0).sum();
            let is_shared = |device: &LinkId| here.iter().all(|at| ways[*at].devices.contains(device));
            if sum <= 0.0 || here.first().is_some_and(|first| ways[*first].devices.iter().any(is_shared)) {
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

    /// The current at which the wire does not outlast a device that carries its share of it: that of a short right here,
    /// else one further away, at which all shares are smaller alike, so that a limit of the device is just not reached.
    fn slow_together(&self, way: &WayIn, sum: f64, withstand: &Withstand) -> Option<Slow> {
        let lowest = way.lowest?;
        let most = way.highest * (lowest.0 / sum);
        let kinks = self.kinks_of(&way.devices);
        let smaller = kinks.into_iter().rev().filter(|amps| *amps > lowest && *amps < most);
        let over = way.highest / most;
        std::iter::once(most)
            .chain(smaller)
            .find_map(|share| self.slow_at(clearing(self.of(&way.devices), share), over, withstand))
    }

    /// Whether the wire fails where it carries so many times what its devices carry.
    fn slow_at(&self, clearing: Clearing, over: f64, withstand: &Withstand) -> Option<Slow> {
        let amps = clearing.amps * over;
        let stands = withstand.stands(amps);
        // The energy of the device's share, as that of the whole current.
        let energy = clearing.energy.map(|energy| AmpSquaredSeconds(energy.0 * over * over));
        let whole = Clearing { amps, energy, ..clearing };
        if clearing.unknown.is_some() || outlasts(withstand, &whole, stands) {
            return None;
        }
        let device = clearing.device?;
        Some(Slow { amps, device, latest: clearing.latest, stands, corner: Corner::Together, usual: None })
    }
}

/// What is known of a way already.
struct Known<'a> {
    /// The devices on it.
    links: &'a [LinkId],
    /// When they open at its lowest current.
    at_lowest: Option<Clearing>,
    /// When they open at its highest.
    at_highest: Option<Clearing>,
}

/// Of a wire that brings several loads home the heaviest is judged. That it is in time says nothing of one behind a device
/// without a rating.
const fn beside_unrated(verdict: Verdict, unrated: Option<LinkId>) -> Verdict {
    match (verdict, unrated) {
        (Verdict::InTime | Verdict::Bears, Some(device)) => Verdict::NotAssessed(Gap::Device(device)),
        _ => verdict,
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
