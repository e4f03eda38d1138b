//! A terminal: what it is for, and its voltage in each mode.

use wattle_grammar::{kind::doc, quantity::Volts};
use wattle_linter::{
    design::{ModeId, TerminalId},
    figures::Point,
};

use super::resolved;
use crate::{engine::Robot, feature::page::Page};

pub(super) fn describe(page: &mut Page, robot: &Robot, id: TerminalId) {
    let Some(terminal) = robot.design.terminals.get(id.index()) else { return };
    page.title(format!("terminal `{}`", robot.design.terminal_name(id)));
    page.text(doc::role(terminal.role));
    page.table(&["mode", "voltage"], rows(robot, id));
    page.text("against the negative pole of the first source that it is joined to; from empty to full");
}

fn rows(robot: &Robot, terminal: TerminalId) -> Vec<Vec<String>> {
    let modes = (0u32..).map(ModeId).zip(&robot.design.modes);
    modes.map(|(id, mode)| vec![mode.name.clone(), voltage(robot, terminal, id)]).collect()
}

/// The voltage over the states of charge: one figure, or the lowest and the highest.
fn voltage(robot: &Robot, terminal: TerminalId, mode: ModeId) -> String {
    let at = |point: &Point| point.volts(&robot.topology, terminal);
    let volts = robot.figures.points.iter().filter(|point| point.mode == mode).filter_map(at);
    let range = volts.fold(None, |range: Option<(Volts, Volts)>, volts| {
        let (low, high) = range.unwrap_or((volts, volts));
        Some((low.min(volts), high.max(volts)))
    });
    let Some((low, high)) = range else { return "no working point".to_owned() };
    let (low, high) = (resolved(low), resolved(high));
    if low == high { low } else { format!("{low} .. {high}") }
}
