//! What protects what: the highest and the lowest current of a short, what opens and when, what the wire stands.
//!
//! A short is a bolted one, between a conductor and the negative that its sources stand on. The **highest** current is
//! that of all sources together, full, with everything at 20 °C, every contact closed and no way back: it is what a
//! device must break. The **lowest** is that of one source alone, empty, conductors at the temperature class of their
//! insulation, the way back included: it is what a device must still open at. For every wire and every way in both are
//! held against the time that the devices on that way may take and the time that the insulation lasts.
//!
//! Read it from [`Protection::wires`] and [`Protection::devices`]; [`Protection::explain_wire`] and
//! [`Protection::explain_device`] say the same in words.

mod burden;
mod chain;
mod device;
mod endurance;
mod explain;
mod highest;
mod homeward;
mod inverse;
mod judge;
mod open_voltage;
mod pool;
mod resistance;
mod selectivity;
mod source;
mod way;

use std::collections::{BTreeMap, BTreeSet};

use wattle_grammar::quantity::{Amps, Ohms, Seconds, Volts};

use crate::{
    conductors::Conductors,
    design::{Design, ThingId, WireId},
    figures::Figures,
    network::NodeId,
    profile::{Ampacity, Profile},
    topology::{LinkId, Topology},
    trace::{RailId, ReturnLoad, Trace, Weakest},
};

pub use burden::{Burden, Holds, Pulse, PulseCause, Steady};
use device::Devices;
pub use device::{Clearing, Device, Rating};
pub use endurance::{Stands, Withstand};
pub use highest::{Bound, Far, Highest, Reduced, Through};
pub use open_voltage::{Raised, RaisedBy};
pub use selectivity::{Order, Upstream};
pub use source::{Strength, missing as missing_strength};

/// The protection of a whole robot.
#[derive(Clone, Debug, Default)]
pub struct Protection {
    /// Every wire, by [`WireId`].
    pub wires: Vec<WireProtection>,
    /// Every protective device, in link order.
    pub devices: Vec<DeviceProtection>,
    /// Where each device stands in [`Self::devices`].
    device_at: BTreeMap<LinkId, usize>,
    /// What each feed gives.
    levels: Vec<source::Levels>,
    /// The ways home over each negative.
    homes: BTreeMap<RailId, homeward::Home>,
}

/// What protects a wire.
#[derive(Clone, Debug, PartialEq)]
pub struct WireProtection {
    /// The wire.
    pub wire: WireId,
    /// The highest current that a short on it draws through it: all sources together, from whichever end gives more.
    pub highest: Highest,
    /// The same with the short at its far end, its own resistance before it.
    pub highest_at_far_end: Far,
    /// The lowest current that a short at its far end draws, and the way that gives it; none when nothing feeds it or
    /// nothing is known of what does.
    pub lowest: Option<(Amps, usize)>,
    /// Every way in: each source at each end it comes in at, in the order of the sources.
    pub ways: Vec<WayIn>,
    /// What the insulation stands; none without a size.
    pub withstand: Option<Withstand>,
    /// What it comes to: the worst of the ways.
    pub verdict: Verdict,
    /// The way that the verdict is about, as a position in `ways`.
    pub worst: Option<usize>,
}

/// One source's way into a wire.
#[derive(Clone, Debug, PartialEq)]
pub struct WayIn {
    /// Index of the source in [`Trace::feeds`].
    pub feed: usize,
    /// Whether it comes in at the wire's `from` end; of a wire that leads home this says nothing.
    pub at_from: bool,
    /// Whether the wire is on the way home: what it carries is the short of the heaviest load that comes home through it.
    pub homeward: bool,
    /// What it gives at least into a short at the other end, alone; none when nothing is known of it.
    pub lowest: Option<Amps>,
    /// The way out from the source to that short that this counts, hot, without the source itself.
    pub out: Ohms,
    /// What diodes on it take from the voltage.
    pub drop: Volts,
    /// The way back that this counts.
    pub back: Back,
    /// What all sources give at most through this end.
    pub highest: Amps,
    /// The smallest device or limit on the way.
    pub guard: Weakest,
    /// Every device on the way, the one nearest to the wire first.
    pub devices: Vec<LinkId>,
    /// When they open at the lowest current.
    pub at_lowest: Option<Clearing>,
    /// When they open at the highest current.
    pub at_highest: Option<Clearing>,
    /// The currents above the ampacity at which the smallest device need not open, from and up to.
    pub band: Option<(Amps, Amps)>,
    /// What it comes to.
    pub verdict: Verdict,
}

/// The way back of a fault current.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Back {
    /// From the load at that end over the conductors to the source.
    Known(Ohms),
    /// No load hangs at that end: as long and as thick as the way out.
    AsTheWayOut(Ohms),
}

/// Whether a wire outlasts a short on it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Verdict {
    /// Nothing feeds it.
    Unfed,
    /// What feeds it cannot give more than it carries for good.
    Bears,
    /// The devices open before its insulation fails, at every current between the lowest and the highest.
    InTime,
    /// It does not outlast what its devices let pass.
    TooSlow(Slow),
    /// No device stands on the way.
    NoDevice,
    /// It cannot be told for want of something.
    NotAssessed(Gap),
}

/// A current at which the wire fails first.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Slow {
    /// The current through the wire.
    pub amps: Amps,
    /// The device that would open first.
    pub device: LinkId,
    /// By when it has surely opened; none: it need not open.
    pub latest: Option<Seconds>,
    /// How long the insulation lasts.
    pub stands: Stands,
    /// Where in the range of currents that is.
    pub corner: Corner,
    /// The source's internal resistance was taken from its chemistry.
    pub usual: Option<ThingId>,
}

/// Where in the range of fault currents.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Corner {
    /// At the lowest.
    Lowest,
    /// Between the two: a short nearer to the source, or through some resistance.
    Between,
    /// At the highest.
    Highest,
    /// With all sources at once, each behind a device of its own: at the highest current of all, or of a smaller short.
    Together,
}

/// What is missing.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Gap {
    /// The size of the wire.
    Size,
    /// The length of a wire on the way.
    Length(WireId),
    /// What a source gives.
    Source(ThingId),
    /// The rating or the band of a device.
    Device(LinkId),
}

/// What a protective device is up against.
#[derive(Clone, Debug)]
pub struct DeviceProtection {
    /// The device.
    pub device: Device,
    /// The highest current of a short right behind it, through it, from whichever side gives more.
    pub highest: Highest,
    /// The same with its own cold resistance in the loop: what it has to break.
    pub to_break: Far,
    /// Both for each side from which something comes in.
    pub sides: Vec<Through>,
    /// The lowest current of a short on a wire that it protects.
    pub lowest: Option<Amps>,
    /// Which wire that is, and which of its [`WireProtection::ways`].
    pub lowest_on: Option<(WireId, usize)>,
    /// When it opens at the highest current.
    pub at_highest: Option<Clearing>,
    /// When it opens at the lowest current.
    pub at_lowest: Option<Clearing>,
    /// The highest direct voltage that can stand across it when it opens: the full voltage of the sources behind it.
    pub volts: Volts,
    /// What lifts it above that: a clamp's voltage, braking motors.
    pub raised: Option<Raised>,
    /// From what it surely carries to where it surely opens: the currents at which nobody can tell.
    pub band: Option<(Amps, Amps)>,
    /// What it carries at work.
    pub burden: Burden,
    /// The next devices towards the sources, each compared with it.
    pub upstream: Vec<Upstream>,
    /// The wires it is the smallest device for, in order.
    pub guards: Vec<WireId>,
}

/// What the figures are made from.
#[derive(Clone, Copy)]
pub struct Given<'a> {
    /// The robot.
    pub design: &'a Design,
    /// What is joined to what.
    pub topology: &'a Topology,
    /// Who feeds what.
    pub trace: &'a Trace,
    /// The working points.
    pub figures: &'a Figures,
    /// The basis of the ampacities.
    pub profile: &'a Profile,
    /// Each wire in its surroundings.
    pub conductors: &'a Conductors,
    /// The ampacity of each wire in its worst company, by [`WireId`].
    pub ampacities: &'a [Option<Ampacity>],
}

impl<'a> Given<'a> {
    /// The ampacity of a wire in its worst company; none when its size is missing or outside the profile.
    #[must_use]
    pub fn ampacity(&self, wire: WireId) -> Option<&'a Ampacity> {
        self.ampacities.get(wire.index())?.as_ref()
    }
}

impl Protection {
    /// Works it out.
    #[must_use]
    pub fn new(given: &Given<'_>) -> Self {
        let Given { design, topology, trace, .. } = *given;
        let levels = source::levels(design, topology, trace);
        let pools = pool::find(design, topology, trace, &levels);
        let way::Found { ways: raw, to_loads, past_drivers, to_packs, chains, homes } =
            way::find(design, topology, trace, &levels);
        let devices = Devices::new(design, topology);
        let all = to_loads.iter().chain(&past_drivers).chain(&to_packs);
        let raw = with_ways_home(given, raw, all, &pools);
        let mut judging = judge::Judging::new(given, &levels, &devices, &chains);
        let wires: Vec<WireProtection> = design
            .wires()
            .zip(raw)
            .map(|((id, wire), ways)| judging.wire(id, wire, &ways, pools.through(LinkId(id.0))))
            .collect();
        let upstream = selectivity::upstream(topology, &devices, &pools, &to_loads, &chains);
        let burdens = burden::burdens(given, &devices, &to_loads, &chains);
        let found = Found { levels: &levels, pools: &pools, devices: &devices, upstream, burdens };
        let devices = Self::all_devices(given, found, &wires);
        let device_at = devices.iter().enumerate().map(|(at, one)| (one.device.link, at)).collect();
        Self { wires, devices, device_at, levels, homes }
    }

    fn all_devices(
        given: &Given<'_>,
        mut found: Found<'_>,
        wires: &[WireProtection],
    ) -> Vec<DeviceProtection> {
        let mut raised = open_voltage::raised(given, found.levels);
        let mut guarded = guarded(wires);
        found
            .devices
            .all()
            .iter()
            .zip(found.burdens)
            .map(|(device, burden)| {
                let link = device.link;
                let sides = found.pools.through(link).copied().unwrap_or_default();
                let [one, other] = &sides;
                let larger = if other.near.amps > one.near.amps { other } else { one };
                let (highest, to_break) = (larger.near, one.far.max(other.far));
                // What stands in a return passes at most what all sources that come home there give at their poles.
                let homeward = homeward(given, found.levels, found.pools, link);
                let (sides, highest, to_break, volts) = match homeward {
                    Some((highest, volts)) if highest.amps > to_break.amps => {
                        let to_break = Far { amps: highest.amps, reduced: highest.reduced };
                        let only = Through { near: highest, far: to_break };
                        (vec![only], highest, to_break, volts)
                    }
                    _ => {
                        let volts = open_voltage::across(given, found.levels, link);
                        (Vec::from(sides), highest, to_break, volts)
                    }
                };
                let Guarded { wires: guards, lowest } = guarded.remove(&link).unwrap_or_default();
                let (lowest, lowest_on) = lowest.map(|(amps, wire, way)| (amps, (wire, way))).unzip();
                let at = |amps: Amps| Some(judge::clearing([device], amps)).filter(|_| amps.0 > 0.0);
                DeviceProtection {
                    at_highest: at(highest.amps),
                    at_lowest: lowest.and_then(at),
                    highest,
                    to_break,
                    sides: sides.into_iter().filter(|side| side.near.amps.0 > 0.0).collect(),
                    lowest,
                    lowest_on,
                    volts,
                    raised: raised.remove(&link),
                    band: device.band(),
                    burden,
                    upstream: found.upstream.remove(&link).unwrap_or_default(),
                    guards: guards.into_iter().collect(),
                    device: *device,
                }
            })
            .collect()
    }

    /// A wire's protection.
    #[must_use]
    pub fn wire(&self, wire: WireId) -> Option<&WireProtection> {
        self.wires.get(wire.index())
    }

    /// A device's, by its link.
    #[must_use]
    pub fn device(&self, link: LinkId) -> Option<&DeviceProtection> {
        self.devices.get(*self.device_at.get(&link)?)
    }

    /// A device's, by its thing: the first of them, where a thing has several poles.
    #[must_use]
    pub fn device_of(&self, thing: ThingId) -> Option<&DeviceProtection> {
        self.devices.iter().find(|one| one.device.thing == thing)
    }
}

/// What a device protects.
#[derive(Default)]
struct Guarded {
    wires: BTreeSet<WireId>,
    /// The lowest current of a short on one of them, with the wire and its way.
    lowest: Option<(Amps, WireId, usize)>,
}

/// The wires that each device is the smallest one for.
fn guarded(wires: &[WireProtection]) -> BTreeMap<LinkId, Guarded> {
    let mut guarded: BTreeMap<LinkId, Guarded> = BTreeMap::new();
    for wire in wires {
        for (at, way) in wire.ways.iter().enumerate().filter(|(_, way)| !way.homeward) {
            let (Weakest::Device(link, _) | Weakest::Unrated(link)) = way.guard else { continue };
            let held = guarded.entry(link).or_default();
            held.wires.insert(wire.wire);
            let lower = way.lowest.filter(|amps| held.lowest.is_none_or(|(held, ..)| *amps < held));
            held.lowest = lower.map(|amps| (amps, wire.wire, at)).or(held.lowest);
        }
    }
    guarded
}

/// The highest current and voltage of a device in a return, as upper bounds; none for one that stands elsewhere.
fn homeward(
    given: &Given<'_>,
    levels: &[source::Levels],
    pools: &pool::Pools,
    device: LinkId,
) -> Option<(Highest, Volts)> {
    let trace = given.trace;
    let link = given.topology.link(device)?;
    if [link.a, link.b].into_iter().any(|node| !trace.indices_at(node).is_empty()) {
        return None;
    }
    let mut bound: Option<(Highest, Volts)> = None;
    let mut poles = BTreeSet::new();
    for (feed, levels) in trace.feeds.iter().zip(levels).filter(|(feed, _)| !source::is_idle(feed)) {
        let comes_home = levels.all().iter().any(|source| source.home == trace.rail(link.a));
        let Some(at_pole) = pools.at.get(feed.plus.0 as usize).filter(|_| comes_home) else { continue };
        let (highest, volts) = bound.get_or_insert_with(|| (Highest::default(), Volts(0.0)));
        // Poles that one way joins give one short, those apart add.
        if poles.insert(trace.rail(feed.plus)) {
            highest.amps = highest.amps + at_pole.amps;
            // The sum of several is no one network any more.
            highest.reduced = if poles.len() == 1 { at_pole.reduced } else { Reduced::default() };
        }
        highest.bound = Some(Bound::Return);
        highest.usual = highest.usual.or(at_pole.usual);
        highest.unknown = highest.unknown.or(at_pole.unknown);
        *volts = volts.max(levels.volts());
    }
    bound
}

/// The ways into every wire; of one that nothing feeds and that brings loads home, the way of the heaviest of them that
/// a device or a limit stands before, else of one behind a device without a rating, else of one with nothing before it. The
/// cells of another pack are a load as well: a fault in them draws what the devices before them let pass. What hangs on a
/// driver's output is judged by what stands before the driver.
fn with_ways_home<'a>(
    given: &Given<'_>,
    mut raw: Vec<Vec<way::RawWay>>,
    to_loads: impl Iterator<Item = &'a way::ToLoad>,
    pools: &pool::Pools,
) -> Vec<Vec<way::RawWay>> {
    let mut by_load: Vec<&way::ToLoad> = to_loads.collect();
    by_load.sort_by_key(|one| (one.load, one.feed));
    for (ways, wire) in raw.iter_mut().zip((0u32..).map(WireId)).filter(|(ways, _)| ways.is_empty()) {
        let Some(home) = given.trace.comes_home(wire) else { continue };
        let Some(to_load) = way_to(&by_load, home) else { continue };
        let ends = given.topology.link(home.load).map(|link| [link.a, link.b]);
        let found = ends.into_iter().flatten().filter_map(|node| pools.at.get(node.0 as usize));
        let highest =
            found.fold(Highest::default(), |held, found| if found.amps > held.amps { *found } else { held });
        ways.push(way::RawWay {
            feed: home.feed,
            at_from: true,
            homeward: Some(highest),
            lowest: to_load.lowest,
            out: to_load.out,
            drop: to_load.drop,
            back: to_load.back,
            guard: to_load.guard,
            chain: to_load.chain,
            unmeasured: to_load.unmeasured,
            unrated: given.trace.comes_home_unrated(wire).and_then(|load| load.device),
        });
    }
    raw
}

/// The way to a load that the trace tells of: of several to its two ends the one past the same device or limit. `sorted` is
/// by load and feed.
fn way_to<'a>(sorted: &[&'a way::ToLoad], home: &ReturnLoad) -> Option<&'a way::ToLoad> {
    let key = (home.load, home.feed);
    let first = sorted.partition_point(|one| (one.load, one.feed) < key);
    let mut ways = sorted.get(first..)?.iter().take_while(|one| (one.load, one.feed) == key).peekable();
    let any = ways.peek().map(|one| **one);
    ways.find(|one| one.guard.amps().total_cmp(&home.rated.0).is_eq()).copied().or(any)
}

/// What the devices' figures are put together from.
struct Found<'a> {
    levels: &'a [source::Levels],
    pools: &'a pool::Pools,
    devices: &'a Devices,
    upstream: BTreeMap<LinkId, Vec<Upstream>>,
    /// By the position of the device.
    burdens: Vec<Burden>,
}

impl Back {
    /// How much it resists, hot.
    #[must_use]
    pub const fn ohms(self) -> Ohms {
        match self {
            Self::Known(ohms) | Self::AsTheWayOut(ohms) => ohms,
        }
    }
}

/// The links at a node.
fn links_at(topology: &Topology, node: NodeId) -> impl Iterator<Item = (LinkId, &crate::topology::Link)> {
    let ids = topology.links_at.get(node.0 as usize).into_iter().flatten();
    ids.filter_map(|id| Some((*id, topology.link(*id)?)))
}
