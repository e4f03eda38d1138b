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

/// What cells of any make stand for long where nothing is written: 1 C (common practice; most stand several times that).
const SURE_DISCHARGE: CRate = CRate(1.0);

/// What cells of any make may be charged with where nothing is written, by chemistry (common practice: lithium 0.5 C, lead
/// 0.2 C, nickel 0.1 C; primary cells nothing).
const SURE_CHARGE: &[(&str, CRate)] = &[
    ("lipo", CRate(0.5)),
    ("lihv", CRate(0.5)),
    ("li-ion", CRate(0.5)),
    ("lifepo4", CRate(0.5)),
    ("lead-acid", CRate(0.2)),
    ("agm", CRate(0.2)),
    ("gel", CRate(0.2)),
    ("nimh", CRate(0.1)),
    ("nicd", CRate(0.1)),
];

/// What a battery surely stands for long though nothing is written; nothing where its capacity is not.
#[must_use]
pub fn sure_discharge(design: &Design, battery: ThingId) -> Amps {
    let capacity = design.thing(battery).get::<AmpHours>(key::CAPACITY);
    capacity.map_or(Amps(0.0), |capacity| capacity * SURE_DISCHARGE)
}

/// What a battery may surely be charged with though nothing is written; nothing where capacity or chemistry are not.
#[must_use]
pub fn sure_charge(design: &Design, battery: ThingId) -> Amps {
    let thing = design.thing(battery);
    let rate = SURE_CHARGE.iter().find(|(word, _)| Some(*word) == thing.word(key::CHEMISTRY));
    let capacity = thing.get::<AmpHours>(key::CAPACITY);
    capacity.zip(rate).map_or(Amps(0.0), |(capacity, (_, rate))| capacity * *rate)
}

/// The current that a battery may be charged with.
///
/// # Errors
/// Names `charge-current` where it is not written.
pub fn charge_limit(design: &Design, battery: ThingId) -> Result<Amps, Missing> {
    let written = design.thing(battery).get::<Amps>(key::CHARGE_CURRENT);
    written.filter(|amps| *amps > Amps(0.0)).ok_or_else(|| Missing::on(battery, key::CHARGE_CURRENT))
}
