//! Kinds with one link, or one link repeated.

use wattle_grammar::{kind::key, quantity::Amps};

use super::{Inside, Nature};
use crate::topology::rating;

pub(super) fn protective(inside: &mut Inside<'_, '_>) {
    let rated = inside.thing.get::<Amps>(key::CURRENT);
    inside.between("line", "load", Nature::Protective { rated });
}

pub(super) fn clamp(inside: &mut Inside<'_, '_>) {
    inside.between("pos", "neg", Nature::Clamp);
}

pub(super) fn motor(inside: &mut Inside<'_, '_>) {
    inside.between("a", "b", Nature::Winding);
}

pub(super) fn load(inside: &mut Inside<'_, '_>) {
    inside.between("pos", "neg", Nature::Load);
}

/// Each side is a load of its own; nothing joins them.
pub(super) fn isolator(inside: &mut Inside<'_, '_>) {
    inside.between("pos1", "neg1", Nature::Load);
    inside.between("pos2", "neg2", Nature::Load);
}

pub(super) fn meter(inside: &mut Inside<'_, '_>) {
    inside.between("pos", "neg", Nature::Load);
    inside.between("sense", "sense-neg", Nature::Sense);
}

pub(super) fn speaker(inside: &mut Inside<'_, '_>) {
    inside.between("pos", "neg", Nature::SpeakerCoil);
}

pub(super) fn resistor(inside: &mut Inside<'_, '_>) {
    inside.between("1", "2", Nature::Resistor(rating::resistor(inside.thing)));
}

pub(super) fn capacitor(inside: &mut Inside<'_, '_>) {
    inside.between("pos", "neg", Nature::Capacitor);
}

pub(super) fn diode(inside: &mut Inside<'_, '_>) {
    inside.between("anode", "cathode", Nature::Diode);
}

pub(super) fn shunt(inside: &mut Inside<'_, '_>) {
    inside.between("1", "2", Nature::Shunt(rating::shunt(inside.thing)));
}

/// Ring n joins stator terminal sn and rotor terminal rn.
pub(super) fn slip_ring(inside: &mut Inside<'_, '_>) {
    inside.each(|ring| (format!("s{ring}"), format!("r{ring}")), Nature::Mated);
}
