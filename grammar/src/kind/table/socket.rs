//! The socket, and what plugs and sockets have in common.

use super::shared;
use crate::{
    kind::{Family, Kind, KindId, Rating, Role, Terminal, key},
    quantity::Dimension::{Area, Current, Voltage, Ways},
};

pub(super) const KIND: Kind = Kind {
    id: KindId::Socket,
    word: "socket",
    family: Family::Join,
    doc: "The fixed or source-side half of a connector; `mate` joins it with a plug. Its contacts are sockets unless it \
          says otherwise: recessed metal on the side that stays live.",
    terminals: &[WAY],
    ratings: &[
        WAYS,
        CURRENT,
        VOLTAGE,
        CONTACTS.else_word("sockets", "as its name says"),
        VIEW,
        WIRE_SIZE,
        SHROUDED,
        KEYED,
        HOT_MATE,
        shared::CONTACT_RESISTANCE,
        shared::MAX_TEMPERATURE,
    ],
    example: "socket J3 4 way 13 A sockets 20 AWG .. 16 AWG",
};

/// A way.
pub(super) const WAY: Terminal =
    Terminal::per(key::WAYS, "{}", &[], Role::Way, "A way, numbered as on the housing.");

/// Number of ways.
pub(super) const WAYS: Rating = Rating::quantity(key::WAYS, Ways, "Number of ways, `4 way`.")
    .inline()
    .else_number(2.0, "the smallest power connector; write the number it has");

/// Contact current.
pub(super) const CURRENT: Rating =
    Rating::quantity(key::CURRENT, Current, "Highest current of one contact with all of them loaded, A.")
        .inline();

/// Voltage.
pub(super) const VOLTAGE: Rating =
    Rating::quantity(key::VOLTAGE, Voltage, "Highest voltage it is made for, V.").inline();

/// Pins or sockets.
pub(super) const CONTACTS: Rating = Rating::word(
    key::CONTACTS,
    &[
        ("pins", "its contacts are pins, which stick out unless it is shrouded"),
        ("sockets", "its contacts are sockets, recessed in the housing"),
    ],
    "Whether its contacts are pins or sockets. The side that stays live when the halves are apart has sockets.",
)
.inline();

/// View of the pin map.
pub(super) const VIEW: Rating = Rating::word(
    key::VIEW,
    &[("mating-face", "seen from the other half"), ("wire-side", "seen from where the wires enter")],
    "From which side its ways were counted; the other side shows them mirrored.",
)
.inline();

/// Sizes taken.
pub(super) const WIRE_SIZE: Rating =
    Rating::range(key::WIRE_SIZE, Area, "Conductor sizes that a contact takes, mm², the thinner first.")
        .inline();

/// Shrouded.
pub(super) const SHROUDED: Rating =
    Rating::flag(key::SHROUDED, "Its contacts cannot be touched or shorted when the halves are apart.")
        .inline()
        .else_flag(false, "careful: pins are taken to stick out; sockets are recessed anyway");

/// Keyed.
pub(super) const KEYED: Rating = Rating::flag(key::KEYED, "The halves fit only one way round.").inline();

/// Hot mate.
pub(super) const HOT_MATE: Rating =
    Rating::flag(key::HOT_MATE, "It may be joined and parted while live and loaded.")
        .inline()
        .else_flag(false, "careful: parting under load burns the contacts");
