//! Coils when they are warm, and while motors are turned.

use wattle_grammar::quantity::{Celsius, Kelvins, Volts};

use super::{SOLVED, Telling};
use crate::{
    explained::{Amount, Explained, Input},
    physics::{coil::WINDING_RISE, evidence::Evidence},
    surge::Coil,
};

/// Where the law of warm copper is published.
const COPPER: &str = "FAA AC 43.13-1B p. 11-22, (234.5 + T) of copper";

/// What it needs warm, what it gets, and what holds it in.
pub(super) fn told(telling: &Telling<'_>, coil: &Coil) -> Vec<Explained> {
    let mut told = vec![
        warm("operate voltage with the winding as warm as the air", coil, coil.operate_in_air, Kelvins(0.0)),
        warm("operate voltage hot", coil, coil.operate_hot, WINDING_RISE)
            .resting_on(Evidence::Practice)
            .noting(format!(
                "the winding {WINDING_RISE} above the air, as after it has stayed on, common practice"
            )),
    ];
    if let Some((at, volts)) = coil.lowest {
        let margin = volts - coil.operate_in_air;
        let which = if margin < Volts(0.0) { "short of" } else { "above" };
        told.push(
            Explained::new("lowest coil voltage", Amount::of(volts))
                .by("U", SOLVED)
                .from([Input::of("U", "lowest voltage over the coil, network solved", volts)])
                .at(Some(at))
                .noting("of a battery with a `cutoff` the voltage counts at which its loads are switched off")
                .noting("over the modes that last and in which it pulls in with full batteries")
                .noting(format!("{} {which} what it needs in warm air", margin.abs())),
        );
    }
    told.extend(coil.pushed.map(|(at, volts)| pushed(telling, coil, at, volts)));
    told
}

fn warm(what: &str, coil: &Coil, volts: Volts, rise: Kelvins) -> Explained {
    let (air, written) = coil.air;
    let whence =
        if written { "warmest air around it, as stated" } else { "air, taken where no `ambient` is written" };
    let whence =
        if rise.0 > 0.0 { format!("winding: {rise} over {air}, the {whence}") } else { whence.to_owned() };
    // A winding is not taken colder than what its figures are stated for.
    let winding = Celsius(air.0 + rise.0).max(coil.stated_at);
    let told = Explained::new(what, Amount::of(volts)).by("U · (234.5 + T) / (234.5 + T₀)", COPPER).from([
        Input::of(
            "U",
            if coil.operate_written {
                "`operate`, as stated"
            } else {
                "75 % of `coil-voltage`, common practice"
            },
            coil.operate,
        ),
        Input::of("T", whence, winding),
        Input::of("T₀", "`operate-temperature`, at which the maker states it", coil.stated_at),
    ]);
    let told = if coil.operate_written { told } else { told.resting_on(Evidence::Practice) };
    if coil.economiser {
        told.noting("it has an economiser: its electronics decide, not its copper")
    } else {
        told
    }
}

fn pushed(telling: &Telling<'_>, coil: &Coil, at: usize, volts: Volts) -> Explained {
    let held = if volts >= coil.release { "it may be held in" } else { "it lets go" };
    Explained::new("coil voltage while motors are turned", Amount::of(volts))
        .by("U", SOLVED)
        .from([Input::of("U", "highest voltage over the coil, network solved", volts)])
        .at(Some(at))
        .noting(format!(
            "in `{}`; it surely lets go below {} at {}, below {} hot: {held}",
            telling.mode_of(at),
            coil.release,
            coil.stated_at,
            coil.release_hot
        ))
}
