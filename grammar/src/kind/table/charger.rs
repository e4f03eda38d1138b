//! The charger.

use super::{shared, source};
use crate::{
    kind::{Family, Kind, KindId, Rating, Repeat, Role, Terminal, chemistry, key},
    quantity::Dimension::{Cells, Current, Ratio, Resistance, Voltage},
};

pub(super) const KIND: Kind = Kind {
    id: KindId::Charger,
    word: "charger",
    family: Family::Source,
    doc: "The direct-current side of a charger: gives its current until the end-of-charge voltage is reached. Absent in \
          every mode that does not name it. Charge lithium packs only attended.",
    terminals: &[
        Terminal::once("pos", &[], Role::SourcePositive, "Positive output."),
        Terminal::once("neg", &[], Role::SourceNegative, "Negative output."),
        Terminal {
            name: "t{}",
            aliases: &[],
            role: Role::Sense,
            repeat: Repeat::Per { key: key::CELLS, first: 0, step: 1, extra: 1, only_if: Some(key::TAPS) },
            doc: "Balance terminal for the cell tap above so many cells: t0 is for the negative pole, the last one for the \
                  positive. There only with `taps`. It measures; what it takes from a cell to balance it is not counted.",
        },
    ],
    ratings: RATINGS,
    example: "charger CHG lipo 6S 5 A",
};

const RATINGS: &[Rating] = &[
    Rating::word(key::CHEMISTRY, chemistry::WORDS, "The chemistry it is set to.").inline(),
    Rating::quantity(key::CELLS, Cells, "The number of cells in series it is set to, `6S`.").inline(),
    Rating::flag(key::TAPS, "It balances: its balance socket is there as terminals t0, t1, …, one more than `cells`.")
        .inline()
        .else_flag(false, "a balance socket that nobody wires is no terminal"),
    Rating::quantity(key::VOLTAGE, Voltage, "End-of-charge voltage, V.")
        .inline()
        .usually(1.0, 140.0)
        .else_from("`cells` × full voltage of one cell"),
    Rating::quantity(key::TOLERANCE, Ratio, "How far the end-of-charge voltage may be off, a share.")
        .else_number(0.01, "common practice: 1 % for lithium chargers"),
    Rating::quantity(key::CURRENT, Current, "Charge current it is set to, A.").inline().usually(0.02, 200.0),
    shared::BASIS,
    shared::CURRENT_LIMIT.else_from("`current`: a charger limits itself until its end voltage"),
    Rating::quantity(key::RESISTANCE, Resistance, "Resistance of its output and leads, Ω.")
        .usually(1e-4, 2.0)
        .else_number(0.01, "common practice: 10 mΩ with short leads"),
    shared::SINKS,
    shared::TAKES_BACK_FEED,
    shared::ISOLATED.else_flag(true, "a charger for the mains separates its output from the mains"),
    Rating::quantity(
        key::FLOAT,
        Voltage,
        "Voltage that it holds for good once the battery is full, V. A charger that has one may stay joined while the \
         robot runs.",
    )
    .usually(1.0, 140.0),
    Rating::flag(key::ADJUSTABLE, "It can be set to other chemistries or numbers of cells.")
        .else_no("what is written is taken to be what it always does"),
    Rating::flag(
        key::WAITS_FOR_BATTERY,
        "Its output is dead until it has recognised a battery, so that open contacts are harmless.",
    )
    .else_no("careful: open contacts of a charger are taken to be live"),
    source::OR_ED_BY,
    source::EARTHED,
    source::PARKED_ONLY,
];
