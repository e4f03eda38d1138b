//! The plug.

use super::{shared, socket};
use crate::kind::{Family, Kind, KindId};

pub(super) const KIND: Kind = Kind {
    id: KindId::Plug,
    word: "plug",
    family: Family::Join,
    doc: "The loose or load-side half of a connector; `mate` joins it with a socket. Its contacts are pins unless it \
          says otherwise. Pins that stay live when the halves are apart can short on the frame.",
    terminals: &[socket::WAY],
    ratings: &[
        socket::WAYS,
        socket::CURRENT,
        socket::VOLTAGE,
        socket::CONTACTS.else_word("pins", "as its name says"),
        socket::VIEW,
        socket::WIRE_SIZE,
        socket::SHROUDED,
        socket::KEYED,
        socket::HOT_MATE,
        shared::CONTACT_RESISTANCE,
        shared::MAX_TEMPERATURE,
    ],
    example: "plug P3 4 way 13 A pins 20 AWG .. 16 AWG",
};
