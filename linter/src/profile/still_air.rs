//! The profile `still-air`: no table, the heat balance of the conductor itself.

use std::borrow::Cow;

use wattle_grammar::quantity::{Celsius, Metres, SquareMm};

use super::{Ampacity, Basis, Conductor, DeviceLimit, Profile, working::Working};
use crate::physics::heat::{self, Cable};

/// The profile.
pub(super) static PROFILE: Profile = Profile {
    word: "still-air",
    name: Cow::Borrowed("heat balance in still air"),
    source: Cow::Borrowed(
        "steady heat balance of a thin-walled wire: Joule heat = Churchill and Chu 1975 (horizontal cylinder) + \
             radiation with emissivity 0.9; loaded neighbours by 33 CFR 183.425 table 5 note 2; 10 % below to 12 % \
             above published free-air ampacities, so leave a margin",
    ),
    default_insulation: Celsius(60.0),
    bare_distance: Metres(0.1778),
    sheathed_distance: Metres(1.016),
    distance_source: Cow::Borrowed(
        "33 CFR 183.455(b), for physics gives no figure: 7 in, or 40 in sheathed or enclosed",
    ),
    basis: Basis::StillAir,
};

/// The sizes the balance has been compared with published ampacities for, with a margin.
const SIZES: (SquareMm, SquareMm) = (SquareMm(0.05), SquareMm(125.0));

pub(super) fn ampacity(conductor: &Conductor) -> Option<Ampacity> {
    if conductor.area < SIZES.0 || conductor.area > SIZES.1 {
        return None;
    }
    let cable = Cable::thin_walled(conductor.area);
    let amps = heat::ampacity(cable, conductor.insulation, conductor.ambient);
    let basis = format!(
        "heat balance, Churchill and Chu 1975 + radiation with emissivity 0.9, conductor at {} in still air of {}, \
         wall {}",
        conductor.insulation, conductor.ambient, cable.wall
    );
    Some(Working::new(amps, basis).in_bundle(conductor.bundle).finish())
}

/// The balance has no margin of its own, so a device may not exceed it.
pub(super) fn device_limit(conductor: &Conductor) -> Option<DeviceLimit> {
    ampacity(conductor).map(|found| DeviceLimit {
        preferred: found.amps,
        allowed: found.amps,
        basis: format!("{}; the balance has no margin, so the device may not exceed it", found.basis),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sizes_nobody_compared_are_not_covered() {
        let of = |area| {
            ampacity(&Conductor {
                area: SquareMm(area),
                insulation: Celsius(75.0),
                ambient: Celsius(30.0),
                bundle: 1,
            })
        };
        assert!(of(0.04).is_none());
        assert!(of(130.0).is_none());
        assert!(of(1.0).is_some_and(|found| found.basis.contains("75 °C")));
    }
}
