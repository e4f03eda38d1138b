//! The air around what stands at a place.

use wattle_grammar::{kind::key, quantity::Celsius};

use crate::{
    conductors::DEFAULT_AMBIENT,
    design::{Design, ModeId, PlaceId, ThingId, facts},
};

/// The warmest air at a place in a mode, where it is written: the mode's, else the place's, else the robot's. A place that
/// states its own is never taken cooler than that: a cold day does not cool a motor bay.
#[must_use]
pub(crate) fn written(design: &Design, place: Option<PlaceId>, mode: Option<ModeId>) -> Option<Celsius> {
    let of_mode = mode.and_then(|mode| design.modes.get(mode.index())?.ambient);
    let place = place.and_then(|place| design.places.get(place.index()));
    let stated = place.and_then(|place| place.ambient).or(design.robot.ambient).map(|(_, high)| high);
    let is_its_own = || place.is_some_and(|place| facts::find(&place.facts, key::AMBIENT).is_some());
    match (of_mode, stated) {
        (Some(of_mode), Some(stated)) if is_its_own() => Some(of_mode.max(stated)),
        (of_mode, stated) => of_mode.or(stated),
    }
}

/// The warmest air around a thing in a mode, and whether that is written; else the one that is taken for wires too.
#[must_use]
pub(crate) fn around(design: &Design, thing: ThingId, mode: Option<ModeId>) -> (Celsius, bool) {
    let stated = written(design, design.thing(thing).place, mode);
    (stated.unwrap_or(DEFAULT_AMBIENT), stated.is_some())
}
