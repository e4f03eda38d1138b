//! The panel meter.

use super::{draw, shared, signal};
use crate::{
    kind::{Family, Kind, KindId, Rating, Role, Terminal, key},
    quantity::Dimension::{Current, Voltage},
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
        Rating::quantity(key::SENSE_MAX, Voltage, "Highest voltage that its measuring input survives, V.")
            .usually(0.1, 1500.0),
        Rating::quantity(
            key::FULL_SCALE,
            Voltage,
            "Voltage at its measuring input at full deflection, V: `75 mV`.",
        )
        .usually(0.01, 1000.0),
        Rating::quantity(
            key::FULL_SCALE_CURRENT,
            Current,
            "Current it shows at full deflection, A, with the shunt it is scaled for.",
        )
        .usually(0.001, 2000.0),
        signal::COMMON_MODE,
        Rating::flag(key::ISOLATED, "Its measuring input is insulated from its supply.")
            .inline()
            .else_no("careful: most panel meters join supply and input negative"),
        draw::ALWAYS_ON,
        draw::TAKES_REVERSAL,
    ],
    example: "meter PANEL 4 V .. 30 V 20 mA { sense-max 100 V }",
};
