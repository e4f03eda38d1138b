//! Coils that have stayed on: their copper has more resistance, and takes as much more voltage to pull as it did cold.

use crate::{
    air,
    design::{Design, ModeId, ThingId},
    network::Follower,
    physics::{coil::hot_winding, conductor::copper_growth},
    topology::rating,
};

use super::usual;

/// The factors of all followers in a mode, in their order.
#[derive(Clone, Debug, Default)]
pub(super) struct WarmCoils {
    /// On the resistance of the coil, which is stated at 20 °C.
    pub(super) ohms: Vec<f64>,
    /// On the voltages at which it operates and releases.
    pub(super) volts: Vec<f64>,
}

impl WarmCoils {
    /// Those of every mode. `relay_of` has the relay of each follower.
    pub(super) fn of_modes(design: &Design, followers: &[Follower], relay_of: &[ThingId]) -> Vec<Self> {
        let modes = (0u32..).map(ModeId).take(design.modes.len());
        modes
            .map(|mode| {
                let warm = followers.iter().zip(relay_of).map(|(follower, relay)| {
                    // One that lets go not far below the voltage it operates at is no plain coil: electronics watch its voltage.
                    let watches = follower.release > follower.operate * usual::WATCHING;
                    if watches { (1.0, 1.0) } else { factors(design, *relay, mode) }
                });
                let (ohms, volts) = warm.unzip();
                Self { ohms, volts }
            })
            .collect()
    }
}

/// How many times its resistance and its voltages a plain coil has in the air of a mode. A winding is not taken colder than
/// what its voltages are stated for.
fn factors(design: &Design, relay: ThingId, mode: ModeId) -> (f64, f64) {
    let hot = hot_winding(air::around(design, relay, Some(mode)).0);
    let stated_at = rating::coil(design, design.thing(relay)).stated_at;
    (copper_growth(hot), copper_growth(hot.max(stated_at)) / copper_growth(stated_at))
}
