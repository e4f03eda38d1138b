//! Which of two devices in a row opens first.

use std::collections::BTreeMap;

use wattle_grammar::quantity::{AmpSquaredSeconds, Amps, Seconds};

use super::{
    Device, Devices, links_at,
    pool::Pools,
    way::{Chains, ToLoad},
};
use crate::{
    network::NodeId,
    physics::fuse::{SAME_FAMILY_RATIO, UNLATCHES},
    topology::{LinkId, Nature, Topology},
};

/// A device and the next one towards the sources.
#[derive(Clone, Debug, PartialEq)]
pub struct Upstream {
    /// The one towards the sources.
    pub device: LinkId,
    /// The fault current behind the lower one at which they are compared.
    pub amps: Amps,
    /// What of it the upper one carries: devices side by side share it evenly, as packs of one kind do.
    pub share: Amps,
    /// Rated current of all the upper ones side by side over that of the lower one.
    pub ratio: Option<f64>,
    /// Which opens first.
    pub order: Order,
    /// Whether the upper one feeds loads besides those behind the lower one.
    pub feeds_others: bool,
}

/// Which of the two opens first.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Order {
    /// The lower one, by its limits: it has opened by the first time before the upper one may at the second.
    Lower(Seconds, Seconds),
    /// The lower one, by the ratio of ratings of one family.
    LowerByRatio,
    /// The upper one, or nobody knows: two of one family whose ratings are too near each other.
    TooNear,
    /// The upper one, by its limits: it has opened by the first time, before the lower one may at the second.
    Upper(Seconds, Seconds),
    /// The upper one is a breaker that trips at once at this current.
    Instantaneous(Amps),
    /// Their limits overlap or are not known.
    NotSure,
}

/// The next device or devices towards the sources of every device that has any, compared at the highest current.
pub(super) fn upstream(
    topology: &Topology,
    devices: &Devices,
    pools: &Pools,
    to_loads: &[ToLoad],
    chains: &Chains,
) -> BTreeMap<LinkId, Vec<Upstream>> {
    let Neighbours { behind, above } = Neighbours::new(devices, to_loads, chains);
    let mut found = BTreeMap::new();
    let mut met = vec![false; topology.nodes as usize];
    for ((device, uppers), own) in devices.all().iter().zip(above).zip(&behind) {
        let Some(uppers) = uppers.filter(|uppers| !uppers.is_empty()) else { continue };
        let lower = device.link;
        let amps = pools.through(lower).map_or(Amps(0.0), |[one, other]| one.near.amps.max(other.near.amps));
        let whole: Option<Amps> = uppers.iter().map(|upper| devices.all()[*upper].rated).sum();
        let compared = uppers.iter().map(|upper| {
            let share = amps / (uppers.len() as f64);
            let ratio = whole.zip(device.rated).map(|(whole, rated)| whole / rated);
            let (all, upper) = (&behind[*upper], &devices.all()[*upper]);
            Upstream {
                device: upper.link,
                amps,
                share,
                ratio,
                order: if has_way_round(topology, upper.link, &mut met) {
                    Order::NotSure
                } else {
                    order(device, upper, amps, share, ratio)
                },
                feeds_others: all.iter().any(|load| own.binary_search(load).is_err()),
            }
        });
        found.insert(lower, compared.collect());
    }
    found
}

/// What stands next to each device, by its position.
struct Neighbours {
    /// The loads behind it, rising.
    behind: Vec<Vec<LinkId>>,
    /// The positions of the next devices towards the sources, rising; none for one that some source feeds past no further
    /// device: then what stands before it on another way does not decide.
    above: Vec<Option<Vec<usize>>>,
}

impl Neighbours {
    fn new(devices: &Devices, to_loads: &[ToLoad], chains: &Chains) -> Self {
        let mut behind: Vec<Vec<LinkId>> = vec![Vec::new(); devices.all().len()];
        let mut above: Vec<Option<Vec<usize>>> = vec![Some(Vec::new()); devices.all().len()];
        for to_load in to_loads {
            let mut lower: Option<usize> = None;
            for device in chains.devices(to_load.chain).filter_map(|link| devices.position(link)) {
                behind[device].push(to_load.load);
                if let Some(above) = lower.and_then(|lower| above[lower].as_mut())
                    && above.last() != Some(&device)
                {
                    above.push(device);
                }
                lower = Some(device);
            }
            if let Some(last) = lower {
                above[last] = None;
            }
        }
        for list in &mut behind {
            list.sort_unstable();
            list.dedup();
        }
        for list in above.iter_mut().flatten() {
            list.sort_unstable();
            list.dedup();
        }
        Self { behind, above }
    }
}

/// So many nodes are looked at for a way round a device: its neighbours on one bar.
const NEIGHBOURS: usize = 200;

/// Whether conductors and other devices lead round a device: several side by side share a current, so that the rating of
/// one does not tell. `met` has a place for each node, all false before and after.
fn has_way_round(topology: &Topology, device: LinkId, met: &mut [bool]) -> bool {
    let mut seen = Vec::new();
    let found = search_round(topology, device, met, &mut seen);
    seen.iter().for_each(|node| met[node.0 as usize] = false);
    found
}

fn search_round(topology: &Topology, device: LinkId, met: &mut [bool], seen: &mut Vec<NodeId>) -> bool {
    let Some(link) = topology.link(device) else { return false };
    seen.push(link.b);
    met[link.b.0 as usize] = true;
    let mut at = 0;
    while let Some(node) = seen.get(at).copied() {
        at += 1;
        for (id, next) in links_at(topology, node).filter(|(id, _)| *id != device) {
            let joins = matches!(
                next.nature,
                Nature::Wire | Nature::Mated | Nature::Protective { .. } | Nature::Shunt(_)
            );
            let to = next.other(node);
            if joins && to == link.a {
                return id != device;
            }
            if joins && seen.len() < NEIGHBOURS && !std::mem::replace(&mut met[to.0 as usize], true) {
                seen.push(to);
            }
        }
    }
    false
}

fn order(lower: &Device, upper: &Device, amps: Amps, share: Amps, ratio: Option<f64>) -> Order {
    let (Some(low), Some(low_rated)) = (lower.style, lower.rated) else { return Order::NotSure };
    let (Some(high), Some(high_rated)) = (upper.style, upper.rated) else { return Order::NotSure };
    if amps.0 <= 0.0 {
        return Order::NotSure;
    }
    let over = |energy: AmpSquaredSeconds, amps: Amps| Seconds(energy.0 / (amps.0 * amps.0));
    let melts = low.most_energy(low_rated, amps).map(|energy| over(energy, amps));
    if let Some(at) = high.instantaneous.filter(|(_, sure)| share >= high_rated * *sure)
        && melts.is_none_or(|melts| melts > UNLATCHES)
    {
        return Order::Instantaneous(high_rated * at.1);
    }
    if low.family == high.family && low.instantaneous.is_none() {
        return match ratio {
            Some(ratio) if ratio >= SAME_FAMILY_RATIO => Order::LowerByRatio,
            Some(_) => Order::TooNear,
            None => Order::NotSure,
        };
    }
    let (Some(lower), Some(upper)) = (low.times(low_rated, amps), high.times(high_rated, share)) else {
        return Order::NotSure;
    };
    // Above the last of its limits a fuse needs no less energy than there.
    let holds = match upper.fast {
        None if high.instantaneous.is_none() => {
            high.least_energy(high_rated).map(|energy| over(energy, share))
        }
        _ => None,
    };
    let upper_holds = holds.map_or(upper.earliest, |holds| holds.max(upper.earliest));
    match (melts.or(lower.latest), upper.latest) {
        (Some(latest), _) if latest <= upper_holds => Order::Lower(latest, upper_holds),
        (_, Some(latest)) if latest <= lower.earliest => Order::Upper(latest, lower.earliest),
        _ => Order::NotSure,
    }
}
