//! Each mode as the batteries see it.

use wattle_grammar::{kind::key, quantity::Share};

use super::{Bank, Lasts, ModeEnergy, Seen, bank, charge_of};
use crate::{
    design::{Design, Mode, ModeId, ThingId, facts},
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
            let lasts = first_empty(&banks, mode);
            ModeEnergy { mode: id, share: share_of(mode), banks, lasts }
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

/// Which batteries stand side by side is looked up with half-charged batteries, else at the first point that is solved.
fn banks(seen: &Seen<'_>, mode: ModeId, batteries: &[ThingId]) -> Vec<Bank> {
    let solved =
        || seen.figures.points.iter().filter(|point| point.mode == mode && point.working().is_some());
    let half = solved().find(|point| charge_of(point) == Charge::Nominal).or_else(|| solved().next());
    let Some(point) = half else { return Vec::new() };
    let banks = bank::banks(seen.design, seen.topology, point, batteries);
    banks.into_iter().map(|packs| bank::bank(seen, mode, packs)).collect()
}

/// The bank that is empty first ends the mode.
fn first_empty(banks: &[Bank], mode: &Mode) -> Result<Lasts, Missing> {
    if banks.is_empty() {
        return Err(Missing::of_robot(format!("a working point of mode `{}`", mode.name)));
    }
    let all: Result<Vec<Lasts>, Missing> = banks.iter().map(|bank| bank.lasts.clone()).collect();
    Ok(all?.into_iter().fold(Lasts::Forever, Lasts::shorter))
}
