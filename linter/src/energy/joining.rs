//! What flows into an empty battery at the moment it is joined to full ones.

use wattle_grammar::{
    kind::key,
    quantity::{Amps, Ohms, Volts},
};

use super::{Joining, ModeEnergy, batteries, charge_limit};
use crate::{
    design::{Design, ThingId},
    figures::Figures,
    frozen::Frozen,
    network::Law,
    physics::battery::joining_difference,
    topology::{Charge, LinkId, Nature, Topology},
    unfold,
};

/// What joining looks at.
#[derive(Clone, Copy)]
pub(super) struct Robot<'a> {
    pub(super) design: &'a Design,
    pub(super) topology: &'a Topology,
    pub(super) figures: &'a Figures,
}

/// The battery empty, those beside it full, every other source and load away. `None` for a battery that never stands beside
/// another.
pub(super) fn joining(robot: &Robot<'_>, modes: &[ModeEnergy], battery: ThingId) -> Option<Joining> {
    let (mode, others) = modes.iter().find_map(|mode| {
        let bank = mode.banks.iter().find(|bank| bank.packs.len() > 1 && bank.packs.contains(&battery))?;
        let others: Vec<ThingId> = bank.packs.iter().copied().filter(|pack| *pack != battery).collect();
        Some((mode.mode, others))
    })?;
    let mut points = robot.figures.points.iter().enumerate();
    let (at, point) = points
        .find(|(_, point)| point.mode == mode && point.corner.is_plain() && point.working().is_some())?;
    let mut frozen = Frozen::new(robot.topology, point)?;
    take_sources_away(robot, &mut frozen);
    let (empty, _) = put(robot, &mut frozen, battery, Charge::Empty)?;
    let mut highest = None::<Volts>;
    for other in &others {
        let (emf, _) = put(robot, &mut frozen, *other, Charge::Full)?;
        highest = Some(highest.map_or(emf, |held| held.max(emf)));
    }
    let difference = highest? - empty;
    let top = cells(robot, battery).last()?;
    let amps = frozen.solve()?.amps(top);
    if amps <= Amps(0.0) || difference <= Volts(0.0) {
        return None;
    }
    let round = difference / amps;
    let limit = charge_limit(robot.design, battery).map(|most| joining_difference(most, round, Ohms(0.0)));
    let stated = std::iter::once(&battery)
        .chain(&others)
        .filter_map(|pack| robot.design.thing(*pack).get::<Volts>(key::JOINING_LIMIT))
        .reduce(Volts::max);
    Some(Joining { point: at, others, amps, difference, round, limit, stated })
}

fn take_sources_away(robot: &Robot<'_>, frozen: &mut Frozen) {
    for (id, link) in (0u32..).map(LinkId).zip(&robot.topology.links) {
        if link.nature == Nature::Supply {
            frozen.set(id, Law::Open);
        }
    }
    for battery in batteries(robot.design) {
        for link in cells(robot, battery).collect::<Vec<_>>() {
            frozen.set(link, Law::Open);
        }
    }
}

fn cells<'a>(robot: &'a Robot<'_>, battery: ThingId) -> impl Iterator<Item = LinkId> + 'a {
    let inside = robot.topology.inside(battery);
    inside.filter(|(_, link)| matches!(link.nature, Nature::Cells { .. })).map(|(id, _)| id)
}

/// Puts a battery back at a state of charge; its voltage and resistance.
fn put(robot: &Robot<'_>, frozen: &mut Frozen, battery: ThingId, charge: Charge) -> Option<(Volts, Ohms)> {
    let figures = unfold::source_figures(robot.design.thing(battery), charge)?;
    let segments: Vec<(LinkId, f64)> = robot
        .topology
        .inside(battery)
        .filter_map(|(id, link)| match link.nature {
            Nature::Cells { cells, of } => Some((id, f64::from(cells) / f64::from(of.max(1)))),
            _ => None,
        })
        .collect();
    for (link, share) in segments {
        let resistance = (figures.resistance * share).max(unfold::usual::LEAST);
        frozen.set(link, Law::Source { emf: figures.emf * share, resistance });
    }
    Some((figures.emf, figures.resistance))
}
