//! What capacitors hold after their supply is opened.

use super::{CAPACITORS, Telling};
use crate::{
    explained::{Amount, Explained, Input},
    surge::{Hold, HoldLoad, Holds},
};

/// How long one thing is held.
pub(super) fn told(telling: &Telling<'_>, hold: &Hold) -> Explained {
    let opened = telling.name(hold.opened);
    let amount = hold.time.map_or_else(|| Amount::Words("without end".to_owned()), Amount::of);
    let told = Explained::new(format!("held up after {opened} opens"), amount)
        .from([
            Input::of("C", "stated capacitance on the same supply", hold.capacitance),
            Input::of("U₁", "voltage before", hold.from),
            Input::of("U₂", "voltage at which it ends", hold.down_to),
        ])
        .from([match hold.load {
            HoldLoad::Coil(ohms) => Input::of("R", "resistance of the coil", ohms),
            HoldLoad::Power(watts) => Input::of("P", "power of all that hangs there", watts),
        }])
        .at(Some(hold.point));
    match hold.holds {
        Holds::Coil => told
            .by("t = R · C · ln(U₁ / U₂)", CAPACITORS)
            .noting("the coil alone draws: the longest that it may stay in"),
        Holds::Supply => told
            .by("t = C · (U₁² − U₂²) / (2 · P)", CAPACITORS)
            .noting("all that hangs there goes on drawing its power: the shortest that it works on"),
    }
}
