//! A working day of several modes.

use wattle_grammar::quantity::{Seconds, Share};

use super::{Lasts, Mix, ModeEnergy};
use crate::{
    design::{Design, ModeId, ThingId},
    missing::Missing,
};

/// Shares that add up to less than this are taken for the whole day.
const WHOLE: f64 = 1.0 - 1e-9;

/// The mix that the stated shares make; the rest of the day is spent put away. `None` when no share is stated.
pub(super) fn mix(
    design: &Design,
    modes: &[ModeEnergy],
    standby: Option<ModeId>,
    batteries: &[ThingId],
) -> Option<Mix> {
    let mut parts: Vec<(&ModeEnergy, Share)> =
        modes.iter().filter_map(|mode| Some((mode, mode.share?))).collect();
    if parts.is_empty() {
        return None;
    }
    let shares = Share(parts.iter().map(|(_, share)| share.0).sum());
    let rest = standby.filter(|_| shares.0 < WHOLE);
    let put_away = modes.iter().find(|mode| Some(mode.mode) == rest);
    parts.extend(put_away.map(|mode| (mode, Share(1.0 - shares.0))));
    let lasts = lasts(design, &parts, batteries);
    Some(Mix { shares, rest, lasts })
}

/// As long as the first battery to run empty: each mode uses up its share of the time over its own runtime.
fn lasts(design: &Design, parts: &[(&ModeEnergy, Share)], batteries: &[ThingId]) -> Result<Lasts, Missing> {
    let mut shortest = Lasts::Forever;
    for battery in batteries {
        let mut used = 0.0;
        for (mode, share) in parts {
            used += share.0 * per_second(design, mode, *battery)?;
        }
        shortest = shortest.shorter(Lasts::of(Seconds(1.0 / used)));
    }
    Ok(shortest)
}

/// What a mode uses up of a battery in a second: one over how long its bank lasts.
fn per_second(design: &Design, mode: &ModeEnergy, battery: ThingId) -> Result<f64, Missing> {
    let bank = mode.banks.iter().find(|bank| bank.packs.contains(&battery)).ok_or_else(|| {
        let name = design.modes.get(mode.mode.index()).map_or("", |mode| mode.name.as_str());
        Missing::of_robot(format!("a working point of mode `{name}`"))
    })?;
    Ok(match bank.lasts.clone()? {
        Lasts::For(time) if time > Seconds(0.0) => 1.0 / time.0,
        Lasts::For(_) => f64::MAX,
        Lasts::Forever => 0.0,
    })
}
