//! Contacts moved by hand and by coils.

use wattle_grammar::kind::key;

use super::{Inside, LinkId, Nature};
use crate::topology::rating;

/// Pole p of a switch lies between its terminals 2p - 1 and 2p.
pub(super) fn switch(inside: &mut Inside<'_, '_>) {
    let breaks = inside.thing.word(key::CONTACT) == Some("break");
    inside.each(in_twos, Nature::HandContact { breaks });
}

/// A stop device has break contacts 11 12, 21 22, … ; the receiver of one by radio draws current.
pub(super) fn stop(inside: &mut Inside<'_, '_>) {
    inside.each(|pole| (format!("{pole}1"), format!("{pole}2")), Nature::HandContact { breaks: true });
    inside.between("pos", "neg", Nature::Load);
}

/// A relay has change-over contacts: p1 common, p2 break, p4 make.
pub(super) fn relay(inside: &mut Inside<'_, '_>) {
    let Some(coil) = coil(inside) else { return };
    let breaks = Nature::CoilContact { normally_closed: true, coil };
    let makes = Nature::CoilContact { normally_closed: false, coil };
    for pole in 1.. {
        let common = format!("{pole}1");
        inside.between(&common, &format!("{pole}2"), breaks);
        if inside.between(&common, &format!("{pole}4"), makes).is_none() {
            break;
        }
    }
}

/// A contactor has main make contacts in twos, the auxiliary make contact 13 14 and the auxiliary break contact 21 22.
pub(super) fn contactor(inside: &mut Inside<'_, '_>) {
    let Some(coil) = coil(inside) else { return };
    let makes = Nature::CoilContact { normally_closed: false, coil };
    inside.each(in_twos, makes);
    inside.between("13", "14", makes);
    inside.between("21", "22", Nature::CoilContact { normally_closed: true, coil });
}

/// The coil, and across it the diode of one that has a diode inside: against the coil's current.
fn coil(inside: &mut Inside<'_, '_>) -> Option<LinkId> {
    let coil = inside.between(
        "A1",
        "A2",
        Nature::Coil(rating::coil(inside.laying.design, inside.thing).resistance),
    )?;
    if rating::has_coil_diode(inside.thing) {
        inside.between("A2", "A1", Nature::Diode);
    }
    Some(coil)
}

fn in_twos(pole: u32) -> (String, String) {
    ((2 * pole - 1).to_string(), (2 * pole).to_string())
}
