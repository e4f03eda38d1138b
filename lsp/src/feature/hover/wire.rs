//! A wire: its ends, what it is made of, what it may carry, and its current and drop in each mode.

use wattle_grammar::quantity::{Amps, Volts};
use wattle_linter::{
    account::subject,
    design::{ModeId, ModeOrigin, Wire, WireId},
    figures::Point,
};

use super::{glance, resolved};
use crate::{engine::Robot, feature::page::Page};

pub(super) fn describe(page: &mut Page, robot: &Robot, id: WireId) {
    let Some(wire) = robot.design.wires.get(id.index()) else { return };
    let end = |terminal| robot.design.terminal_name(terminal);
    page.title(format!("wire `{}` from `{}` to `{}`", wire.name, end(wire.from.0), end(wire.to.0)));
    page.list(made_of(robot, wire));
    if let Some(ampacity) = robot.given().ampacity(id) {
        page.text(format!("may carry {}: {}", ampacity.amps, ampacity.basis));
    }
    page.list(glance(robot, subject::Subject::Wire(id)));
    page.table(&["mode", "current", "drop"], rows(robot, id));
}

fn made_of(robot: &Robot, wire: &Wire) -> Vec<String> {
    let size = wire.size.as_ref().map(|size| {
        if size.awg { format!("{} ({})", size.written, size.area) } else { size.written.clone() }
    });
    let place = wire.place.and_then(|place| robot.design.places.get(place.index()));
    let harness = wire.harness.and_then(|harness| robot.design.harnesses.get(harness.index()));
    let facts =
        [
            Some(format!("size {}", size.unwrap_or_else(|| "not stated".to_owned()))),
            Some(wire.length.map_or_else(
                || "length not stated: drop not checked".to_owned(),
                |it| format!("length {it}"),
            )),
            wire.colour.as_ref().map(|colour| format!("colour {colour}")),
            wire.insulation.map(|class| format!("insulation {class}")),
            harness.map(|harness| format!("in `{}`", harness.name)),
            place.map(|place| format!("at `{}`", place.name)),
        ];
    facts.into_iter().flatten().collect()
}

/// A row for each mode: the largest current at any state of charge and the drop that goes with it.
fn rows(robot: &Robot, wire: WireId) -> Vec<Vec<String>> {
    let modes = (0u32..).map(ModeId).zip(&robot.design.modes);
    modes
        .map(|(id, mode)| {
            let derived = if mode.origin == ModeOrigin::Derived { " (derived)" } else { "" };
            let (amps, volts) = worst(robot, wire, id).map_or_else(
                || ("no working point".to_owned(), String::new()),
                |(amps, volts)| (resolved(amps), volts.map_or_else(String::new, resolved)),
            );
            vec![format!("{}{derived}", mode.name), amps, volts]
        })
        .collect()
}

fn worst(robot: &Robot, wire: WireId, mode: ModeId) -> Option<(Amps, Option<Volts>)> {
    let points = robot.figures.points.iter().enumerate().filter(|(_, point)| point.mode == mode);
    let seen = points.filter_map(|(at, point)| Some((robot.figures.wire_amps(at, wire)?.abs(), point)));
    let (amps, point) = seen.max_by(|(a, _), (b, _)| a.0.total_cmp(&b.0))?;
    Some((amps, drop(robot, point, wire)))
}

fn drop(robot: &Robot, point: &Point, wire: WireId) -> Option<Volts> {
    point.wire_drop(&robot.topology, wire).map(Volts::abs)
}
