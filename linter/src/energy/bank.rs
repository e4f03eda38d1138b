//! Batteries side by side: which they are, what goes round between them, how long they last together.

use std::collections::BTreeMap;

use wattle_grammar::{
    kind::Role,
    quantity::{AmpHours, Amps, Share},
};

use super::{Bank, Lasts, Law, Seen, capacity, capacity_of, charge_of, law, usable_of};
use crate::{
    conduction::Conduction,
    design::{Design, ModeId, ThingId},
    figures::Point,
    missing::Missing,
    network::NodeId,
    topology::{Charge, Topology},
};

/// The batteries of a point whose poles conductors and closed contacts join, in order of their first.
pub(super) fn banks(
    design: &Design,
    topology: &Topology,
    point: &Point,
    batteries: &[ThingId],
) -> Vec<Vec<ThingId>> {
    let pieces = Conduction::new(topology, point).pieces();
    let mut by_poles: BTreeMap<(u32, u32), Vec<ThingId>> = BTreeMap::new();
    let mut lone = Vec::new();
    for battery in batteries {
        match poles(design, topology, *battery) {
            Some((plus, minus)) => {
                by_poles.entry((pieces.of(plus), pieces.of(minus))).or_default().push(*battery);
            }
            None => lone.push(vec![*battery]),
        }
    }
    let mut banks: Vec<Vec<ThingId>> = by_poles.into_values().chain(lone).collect();
    banks.sort();
    banks
}

/// The nodes of the poles of a battery.
fn poles(design: &Design, topology: &Topology, battery: ThingId) -> Option<(NodeId, NodeId)> {
    let of = |role: Role| {
        let (id, _) = design.terminals_of(battery).find(|(_, terminal)| terminal.role == role)?;
        topology.node(id)
    };
    Some((of(Role::SourcePositive)?, of(Role::SourceNegative)?))
}

/// The current that goes round between the batteries of each bank: the smaller of what some of them give and what the
/// others take.
pub(super) fn circulating(
    design: &Design,
    topology: &Topology,
    point: &Point,
    batteries: &[ThingId],
    mut found: impl FnMut(ThingId, Amps),
) {
    if batteries.len() < 2 || point.working().is_none() {
        return;
    }
    for bank in banks(design, topology, point, batteries).into_iter().filter(|bank| bank.len() > 1) {
        let amps = bank.iter().filter_map(|pack| point.source_amps(topology, *pack));
        let (given, taken) = amps.fold((Amps(0.0), Amps(0.0)), |(given, taken), amps| {
            (given + amps.max(Amps(0.0)), taken + (-amps).max(Amps(0.0)))
        });
        bank.iter().for_each(|pack| found(*pack, given.min(taken)));
    }
}

/// A bank in a mode: its mean current over the discharge and how long it lasts.
pub(super) fn bank(seen: &Seen<'_>, mode: ModeId, packs: Vec<ThingId>) -> Bank {
    let mean = mean(seen, mode, &packs);
    let each: Vec<Result<Lasts, Missing>> = packs
        .iter()
        .map(|pack| {
            let mean = self::mean(seen, mode, std::slice::from_ref(pack))?;
            of_packs(seen.design, std::slice::from_ref(pack), mean)
        })
        .collect();
    let together = mean.clone().and_then(|mean| of_packs(seen.design, &packs, mean));
    Bank { packs, mean, lasts: together, each }
}

/// How long packs of one law last at a mean current. Packs that go by different laws are no bank that is known.
fn of_packs(design: &Design, packs: &[ThingId], mean: Amps) -> Result<Lasts, Missing> {
    if mean <= Amps(0.0) {
        return Ok(Lasts::Forever);
    }
    let (mut total, mut used, mut common) = (AmpHours(0.0), AmpHours(0.0), None::<Law>);
    for pack in packs {
        let (capacity, own) = (capacity_of(design, *pack)?, law(design, *pack)?);
        if common.is_some_and(|common| common != own) {
            return Err(Missing::on(*pack, "one chemistry for all packs side by side"));
        }
        common = Some(own);
        total = total + capacity;
        used = used + capacity * usable_of(design, *pack).0;
    }
    let usable = if total > AmpHours(0.0) { used / total } else { 0.0 };
    Ok(common.map_or(Lasts::Forever, |law| capacity::lasts(law, total, Share(usable), mean)))
}

/// The mean current of packs over the discharge of a mode: at full, half and empty charge by Simpson's rule, each the
/// largest over the corners. As the mean of the current and not of its inverse it errs to the short side.
fn mean(seen: &Seen<'_>, mode: ModeId, packs: &[ThingId]) -> Result<Amps, Missing> {
    let at = |charge: Charge| largest(seen, mode, packs, charge);
    match (at(Charge::Full), at(Charge::Nominal), at(Charge::Empty)) {
        (Some(full), Some(half), Some(empty)) => Ok((full + half * 4.0 + empty) / 6.0),
        _ => {
            let name = seen.design.modes.get(mode.index()).map_or("", |mode| mode.name.as_str());
            Err(Missing::of_robot(format!("a working point of mode `{name}` at every state of charge")))
        }
    }
}

/// The largest mean current of packs over the corners of a mode at one charge; `None` when one of them has no solution.
fn largest(seen: &Seen<'_>, mode: ModeId, packs: &[ThingId], charge: Charge) -> Option<Amps> {
    let points = seen.figures.points.iter().enumerate();
    let points = points.filter(|(_, point)| point.mode == mode && charge_of(point) == charge);
    let mut most: Option<Amps> = None;
    for (at, point) in points {
        let amps: Option<Amps> = packs.iter().map(|pack| seen.currents.mean(at, point, *pack)).sum();
        let amps = amps?;
        most = Some(most.map_or(amps, |held| held.max(amps)));
    }
    most
}
