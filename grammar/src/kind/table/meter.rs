//! The panel meter.

use super::{draw, shared};
use crate::{
    kind::{Family, Kind, KindId, Rating, Role, Terminal, key},
    quantity::Dimension::Voltage,
};

pub(super) const KIND: Kind = Kind {
    id: KindId::Meter,
    word: "meter",
    family: Family::Load,
    doc: "A panel meter: its supply, and a measuring input that draws next to nothing. Its thin leads need their own \
          small fuse at the tap.",
    terminals: &[
        Terminal::once("pos", &[], Role::SupplyPositive, "Positive supply."),
        Terminal::once("neg", &[], Role::SupplyNegative, "Negative supply."),
        Terminal::once("sense", &[], Role::Sense, "Measuring input."),
        Terminal::once("sense-neg", &[], Role::Sense, "Other side of the measuring input, as at a shunt."),
    ],
    ratings: &[
        draw::SUPPLY,
        shared::ABSOLUTE_MAX,
        draw::TYPICAL,
        draw::IDLE,
        draw::DRAWS,
        Rating::quantity(key::SENSE_MAX, Voltage, "Highest voltage that its measuring input survives, V."),
    ],
    example: "meter PANEL 4 V .. 30 V 20 mA { sense-max 100 V }",
};
