//! Each mode as the batteries see it.

use wattle_grammar::{kind::key, quantity::Share};

use super::{Bank, Lasts, ModeEnergy, Seen, bank, charge_of};
use crate::{
    design::{Design, Mode, ModeId, State, ThingId, facts},
    missing::Missing,
    topology::Charge,
};

/// Names under which a robot is put away, the first that there is.
const PUT_AWAY: [&str; 3] = ["standby", "storage", "off"];

/// Every mode, in design order.
pub(super) fn modes(seen: &Seen<'_>, batteries: &[ThingId]) -> Vec<ModeEnergy> {
    let modes = (0u32..).map(ModeId).zip(&seen.design.modes);
    modes
        .map(|(id, mode)| {
            let banks = banks(seen, id, batteries);
            let unsolved = || Missing::of_robot(format!("a working point of mode `{}`", mode.name));
            let lasts = banks.as_deref().map_or_else(|| Err(unsolved()), first_empty);
            ModeEnergy { mode: id, share: share_of(mode), banks: banks.unwrap_or_default(), lasts }
        })
        .collect()
}

/// The share of a working day that is stated for a mode.
pub(super) fn share_of(mode: &Mode) -> Option<Share> {
    facts::find(&mode.facts, key::SHARE).and_then(facts::quantity)
}

/// The mode in which the robot is put away.
pub(super) fn standby(design: &Design) -> Option<ModeId> {
    let named = |name: &str| (0u32..).map(ModeId).zip(&design.modes).find(|(_, mode)| mode.name == name);
    PUT_AWAY.iter().copied().find_map(named).map(|(id, _)| id)
}

/// Which batteries stand side by side is looked up with half-charged batteries, else at the first point that is solved. One
/// that is taken out in the mode stands beside none. `None` for a mode without a solution.
fn banks(seen: &Seen<'_>, mode: ModeId, batteries: &[ThingId]) -> Option<Vec<Bank>> {
    let solved =
        || seen.figures.points.iter().filter(|point| point.mode == mode && point.working().is_some());
    let half = solved().find(|point| charge_of(point) == Charge::Nominal).or_else(|| solved().next());
    let states = seen.design.modes.get(mode.index()).map(|mode| &mode.states)?;
    let is_there = |battery: &ThingId| states.get(battery.index()) != Some(&State::Open);
    let there: Vec<ThingId> = batteries.iter().copied().filter(is_there).collect();
    let banks = bank::banks(seen.design, seen.topology, half?, &there);
    Some(banks.into_iter().map(|packs| bank::bank(seen, mode, packs)).collect())
}

/// The bank that is empty first ends the mode.
fn first_empty(banks: &[Bank]) -> Result<Lasts, Missing> {
    let all: Result<Vec<Lasts>, Missing> = banks.iter().map(|bank| bank.lasts.clone()).collect();
    Ok(all?.into_iter().fold(Lasts::Forever, Lasts::shorter))
}
