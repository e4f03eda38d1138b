//! The air around a thing.

use wattle_grammar::quantity::Celsius;

use crate::{
    conductors::DEFAULT_AMBIENT,
    design::{Design, ModeId, ThingId},
};

/// The warmest air around a thing in a mode, and whether that is written: the mode's, else its place's, else the robot's,
/// else the one that is taken for wires too.
pub(super) fn air(design: &Design, thing: ThingId, mode: Option<ModeId>) -> (Celsius, bool) {
    let of_mode = mode.and_then(|mode| design.modes.get(mode.index())?.ambient);
    let of_place = design.thing(thing).place.and_then(|place| design.places.get(place.index())?.ambient);
    let stated = of_mode.or_else(|| of_place.or(design.robot.ambient).map(|(_, high)| high));
    (stated.unwrap_or(DEFAULT_AMBIENT), stated.is_some())
}
