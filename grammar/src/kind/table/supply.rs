//! The bench or mains supply.

use super::{shared, source};
use crate::{
    kind::{Family, Kind, KindId, Rating, Role, Terminal, key},
    quantity::Dimension::{Current, Power, Ratio, Resistance, Voltage},
};

pub(super) const KIND: Kind = Kind {
    id: KindId::Supply,
    word: "supply",
    family: Family::Source,
    doc: "The direct-current side of a bench or mains supply: a set voltage up to a current.",
    terminals: &[
        Terminal::once("pos", &[], Role::SourcePositive, "Positive output."),
        Terminal::once("neg", &[], Role::SourceNegative, "Negative output."),
    ],
    ratings: RATINGS,
    example: "supply BENCH 24 V 5 A { current-limit 5.5 A }",
};

const RATINGS: &[Rating] = &[
    Rating::quantity(key::VOLTAGE, Voltage, "Output voltage it is set to, V.").inline().usually(1.0, 140.0),
    Rating::quantity(key::TOLERANCE, Ratio, "How far the output voltage may be off, a share.")
        .else_number(0.05, "common practice: 5 %"),
    Rating::quantity(key::CURRENT, Current, "Highest continuous current, A.")
        .inline()
        .usually(0.02, 300.0)
        .else_from("`power` / `voltage`"),
    Rating::quantity(key::POWER, Power, "Highest continuous power, W.").inline().usually(0.1, 1e4),
    shared::BASIS,
    shared::PEAK,
    shared::PEAK_TIME,
    shared::CURRENT_LIMIT,
    Rating::quantity(key::RESISTANCE, Resistance, "Resistance of its output and leads, Ω.")
        .usually(1e-4, 2.0)
        .else_number(0.01, "common practice: 10 mΩ with short leads"),
    shared::SINKS,
    shared::TAKES_BACK_FEED,
    shared::SHARES_LOAD,
    shared::ISOLATED.else_flag(true, "a supply for the mains separates its output from the mains"),
    source::SERIES_STRING,
    source::OR_ED_BY,
    source::EARTHED,
];
