//! The loudspeaker.

use crate::{
    kind::{Family, Kind, KindId, Rating, Role, Terminal, key},
    quantity::Dimension::{Power, Resistance},
};

pub(super) const KIND: Kind = Kind {
    id: KindId::Speaker,
    word: "speaker",
    family: Family::Load,
    doc: "A loudspeaker.",
    terminals: &[
        Terminal::once("pos", &[], Role::SpeakerLead, "Positive lead."),
        Terminal::once("neg", &[], Role::SpeakerLead, "Negative lead; not a supply negative."),
    ],
    ratings: &[
        Rating::quantity(key::RESISTANCE, Resistance, "Rated impedance, Ω.").inline().usually(1.0, 1000.0),
        Rating::quantity(key::POWER, Power, "Highest power it stands for long, W.")
            .inline()
            .usually(0.05, 3000.0),
    ],
    example: "speaker VOICE 4 ohm 30 W",
};
