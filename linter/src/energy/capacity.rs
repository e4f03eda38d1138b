//! How long a capacity lasts at a current, by the law of its chemistry.

use wattle_grammar::{
    kind::key,
    quantity::{AmpHours, Amps, Share},
};

use super::Lasts;
use crate::{
    design::{Design, ThingId},
    missing::Missing,
    physics::runtime,
    topology::rating,
};

/// By which law a battery runs empty.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Law {
    /// The capacity does not depend on the current: lithium and nickel.
    Ideal,
    /// Peukert's law from the capacity at 20 h, with this exponent: lead.
    Peukert(f64),
}

/// The law of a battery. Alkaline cells have none that is known well enough: their capacity falls steeply with the
/// current.
///
/// # Errors
/// Names the missing chemistry.
pub fn law(design: &Design, battery: ThingId) -> Result<Law, Missing> {
    let chemistry = rating::chemistry(design.thing(battery));
    match chemistry.map(|row| (row.word, row.peukert)) {
        Some(("lead-acid" | "agm" | "gel", exponent)) => Ok(Law::Peukert(exponent)),
        Some(("lipo" | "lihv" | "li-ion" | "lifepo4" | "nimh" | "nicd", _)) => Ok(Law::Ideal),
        Some(_) => Err(Missing::on(battery, "the capacity of these cells at the current that they give")),
        None => Err(Missing::on(battery, key::CHEMISTRY)),
    }
}

/// How long a capacity lasts at a mean current; for ever where none is drawn, or where the battery is charged.
pub(super) fn lasts(law: Law, capacity: AmpHours, usable: Share, mean: Amps) -> Lasts {
    if mean <= Amps(0.0) {
        return Lasts::Forever;
    }
    Lasts::of(match law {
        Law::Ideal => runtime::ideal(capacity, usable, mean),
        Law::Peukert(exponent) => runtime::lead(capacity, usable, exponent, mean),
    })
}
