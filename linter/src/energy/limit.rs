//! How much a battery may give and take by what is written of it.

use wattle_grammar::{
    kind::key,
    quantity::{AmpHours, Amps, CRate, Seconds},
};

use crate::{
    design::{Basis, Design, Origin, Rated, Thing, ThingId},
    missing::Missing,
};

/// The share of an advertised figure that counts for long (common practice: half).
pub(super) const ADVERTISED_SHARE: f64 = 0.5;

/// What a battery may give.
#[derive(Clone, Debug, PartialEq)]
pub struct DischargeLimit {
    /// For long.
    pub continuous: Result<Amps, Missing>,
    /// Whether that is a share of an advertised figure.
    pub advertised: bool,
    /// For a short time, and for how long where that is written.
    pub peak: Option<(Amps, Option<Seconds>)>,
}

/// What a battery may give: `current`, else `capacity` × `discharge`; of an advertised figure half of it; a figure that is
/// one for a peak is none for long.
#[must_use]
pub fn discharge_limit(design: &Design, battery: ThingId) -> DischargeLimit {
    let thing = design.thing(battery);
    let (written, basis) = written(thing);
    let time = thing.get::<Seconds>(key::PEAK_TIME);
    let stated_peak = thing.get::<Amps>(key::PEAK).filter(|amps| *amps > Amps(0.0));
    let missing = || Missing::on(battery, key::DISCHARGE);
    match (written, basis) {
        (Some(amps), Some(Basis::Peak)) => DischargeLimit {
            continuous: Err(missing()),
            advertised: false,
            peak: Some((stated_peak.unwrap_or(amps), time)),
        },
        (Some(amps), basis) => {
            let advertised = basis == Some(Basis::Advertised);
            let share = if advertised { ADVERTISED_SHARE } else { 1.0 };
            DischargeLimit {
                continuous: Ok(amps * share),
                advertised,
                peak: stated_peak.map(|amps| (amps, time)),
            }
        }
        (None, _) => DischargeLimit {
            continuous: Err(missing()),
            advertised: false,
            peak: stated_peak.map(|amps| (amps, time)),
        },
    }
}

/// The current that is written for long, and what it is worth.
fn written(thing: &Thing) -> (Option<Amps>, Option<Basis>) {
    let own = thing.rated(key::CURRENT).filter(|rated| !matches!(rated.origin, Origin::Default(_)));
    let of_rate = || {
        let rate = thing.get::<CRate>(key::DISCHARGE)?;
        Some(thing.get::<AmpHours>(key::CAPACITY)? * rate)
    };
    let positive = |amps: &Amps| *amps > Amps(0.0);
    match own {
        Some(rated) => (thing.get::<Amps>(key::CURRENT).filter(positive), basis(thing, Some(rated))),
        None => (of_rate().filter(positive), basis(thing, thing.rated(key::DISCHARGE))),
    }
}

/// What stands behind the figure itself, else the word on the whole line.
fn basis(thing: &Thing, rated: Option<&Rated>) -> Option<Basis> {
    rated.and_then(|rated| rated.standing.basis).or_else(|| match thing.word(key::BASIS)? {
        "continuous" => Some(Basis::Continuous),
        "peak" => Some(Basis::Peak),
        "advertised" => Some(Basis::Advertised),
        _ => None,
    })
}

/// The current that a battery may be charged with.
///
/// # Errors
/// Names `charge-current` where it is not written.
pub fn charge_limit(design: &Design, battery: ThingId) -> Result<Amps, Missing> {
    let written = design.thing(battery).get::<Amps>(key::CHARGE_CURRENT);
    written.filter(|amps| *amps > Amps(0.0)).ok_or_else(|| Missing::on(battery, key::CHARGE_CURRENT))
}
