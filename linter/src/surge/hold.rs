//! How long capacitors keep coils in and electronics working after their supply is opened.

use wattle_grammar::{
    kind::{KindId, key},
    quantity::{Farads, Seconds, Volts, Watts},
};

use super::{
    Hold, HoldLoad, Holds, Seen,
    capacity::{Capacity, capacities},
    joint::Joint,
};
use crate::{
    design::ThingId,
    figures::Point,
    network::NodeId,
    physics::capacitor::{holds_power, holds_resistance},
    topology::{LinkId, Nature, rating},
};

/// Each coil and each controller, receiver and regulator that loses its supply when a switch, stop, breaker or fuse opens
/// in mode `run` and that capacitors hold for a while.
pub(super) fn holds(seen: &Seen<'_>) -> Vec<Hold> {
    let all = capacities(seen);
    let Some(at) = seen.full_point(|_| true).filter(|_| !all.is_empty()) else { return Vec::new() };
    let Some(point) = seen.figures.points.get(at) else { return Vec::new() };
    let whole = Joint::new(seen, point, None);
    let fed = whole.fed(seen);
    let holders = holders(seen, point);
    let is_fed =
        |joint: &Joint, fed: &[(u32, u32)], one: &Holder| fed.contains(&joint.pair(one.plus, one.minus));
    let was_fed: Vec<&Holder> = holders.iter().filter(|one| is_fed(&whole, &fed, one)).collect();
    let mut found = Vec::new();
    for opened in openers(seen) {
        let joint = Joint::new(seen, point, Some(opened));
        let fed = joint.fed(seen);
        for holder in was_fed.iter().filter(|one| !is_fed(&joint, &fed, one)) {
            found.extend(hold(&Moment { seen, point, at, joint: &joint, all: &all, opened }, holder));
        }
    }
    found
}

/// What may be held.
struct Holder {
    thing: ThingId,
    plus: NodeId,
    minus: NodeId,
    holds: Holds,
    down_to: Volts,
}

/// The robot at the moment after something is opened.
struct Moment<'a> {
    seen: &'a Seen<'a>,
    point: &'a Point,
    at: usize,
    joint: &'a Joint,
    all: &'a [Capacity<'a>],
    opened: ThingId,
}

fn openers(seen: &Seen<'_>) -> Vec<ThingId> {
    let opens = |kind| matches!(kind, KindId::Switch | KindId::Stop | KindId::Breaker | KindId::Fuse);
    seen.design.things().filter(|(_, thing)| opens(thing.id())).map(|(id, _)| id).collect()
}

/// The coils that are in and the electronics that work at a point.
fn holders(seen: &Seen<'_>, point: &Point) -> Vec<Holder> {
    let mut found = Vec::new();
    for (id, thing) in seen.design.things() {
        let (nature, holds, down_to): (fn(Nature) -> bool, _, _) = match thing.id() {
            KindId::Relay | KindId::Contactor => (
                |nature| matches!(nature, Nature::Coil(_)),
                Holds::Coil,
                Some(rating::coil(seen.design, thing).release),
            ),
            KindId::Controller | KindId::Receiver => {
                let lowest = thing.get::<Volts>(key::RESET_VOLTAGE).or_else(|| lowest_supply(thing));
                (|nature| nature == Nature::Load, Holds::Supply, lowest)
            }
            KindId::Regulator => {
                let lowest = thing.get::<Volts>(key::CUTOFF).or_else(|| lowest_supply(thing));
                (|nature| nature == Nature::ConverterInput, Holds::Supply, lowest)
            }
            _ => continue,
        };
        let Some((_, link)) = seen.topology.inside(id).find(|(_, link)| nature(link.nature)) else {
            continue;
        };
        let Some(down_to) = down_to.filter(|volts| *volts > Volts(0.0)) else { continue };
        let from = point.volts_across(link.a, link.b).unwrap_or(Volts(0.0)).abs();
        if from > down_to {
            found.push(Holder { thing: id, plus: link.a, minus: link.b, holds, down_to });
        }
    }
    found
}

/// The lower end of the supply range.
fn lowest_supply(thing: &crate::design::Thing) -> Option<Volts> {
    thing.range::<Volts>(key::SUPPLY).map(|(low, _)| low)
}

fn hold(moment: &Moment<'_>, holder: &Holder) -> Option<Hold> {
    let own = moment.joint.pair(holder.plus, holder.minus);
    let beside = moment.all.iter().filter(|one| moment.joint.pair(one.link.a, one.link.b) == own);
    let capacitance: Farads = beside.map(|one| one.farads).sum();
    if capacitance <= Farads(0.0) {
        return None;
    }
    let from = moment.point.volts_across(holder.plus, holder.minus)?.abs();
    let load = match holder.holds {
        // The coil alone draws: the longest that it may stay in.
        Holds::Coil => {
            let thing = moment.seen.design.thing(holder.thing);
            let coil = rating::coil(moment.seen.design, thing);
            HoldLoad::Coil(coil.resistance)
        }
        // All that hangs there draws what it drew: the shortest that it may go on.
        Holds::Supply => HoldLoad::Power(drawn(moment, own)),
    };
    let time = match load {
        HoldLoad::Coil(ohms) => holds_resistance(capacitance, ohms, from, holder.down_to),
        HoldLoad::Power(watts) => holds_power(capacitance, watts, from, holder.down_to),
    };
    Some(Hold {
        thing: holder.thing,
        holds: holder.holds,
        opened: moment.opened,
        point: moment.at,
        capacitance,
        from,
        down_to: holder.down_to,
        load,
        time: Some(time).filter(|time: &Seconds| time.0.is_finite()),
    })
}

/// The power of everything that hangs on the same supply.
fn drawn(moment: &Moment<'_>, own: (u32, u32)) -> Watts {
    let draws = |nature| {
        matches!(
            nature,
            Nature::Load | Nature::DriverInput | Nature::ConverterInput | Nature::Coil(_) | Nature::Winding
        )
    };
    let links = (0u32..).map(LinkId).zip(&moment.seen.topology.links);
    links
        .filter(|(_, link)| draws(link.nature) && moment.joint.pair(link.a, link.b) == own)
        .filter_map(|(id, link)| {
            let volts = moment.point.volts_across(link.a, link.b)?;
            Some(Watts((volts * moment.point.amps(id)?).0.max(0.0)))
        })
        .sum()
}
