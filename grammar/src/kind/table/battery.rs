//! The battery.

use super::{shared, source};
use crate::{
    kind::{Family, Kind, KindId, Rating, Repeat, Role, Terminal, chemistry, key},
    quantity::Dimension::{Cells, Charge, ChargeRate, Current, Ratio, Resistance, Strings, Voltage},
};

pub(super) const KIND: Kind = Kind {
    id: KindId::Battery,
    word: "battery",
    family: Family::Source,
    doc: "A battery pack: cells in series, perhaps strings of them in parallel, behind an internal resistance. A short \
          at its terminals is limited only by that resistance, so its lead needs a fuse close to the pack.",
    terminals: &[
        Terminal::once("pos", &[], Role::SourcePositive, "Positive pole."),
        Terminal::once("neg", &[], Role::SourceNegative, "Negative pole."),
        Terminal {
            name: "t{}",
            aliases: &[],
            role: Role::Tap,
            repeat: Repeat::Per { key: key::CELLS, first: 0, step: 1, extra: 1, only_if: Some(key::TAPS) },
            doc: "Cell tap above so many cells: t0 is the negative pole, the last one the positive. There only with \
                  `taps`. Every tap is a source of its own.",
        },
    ],
    ratings: RATINGS,
    example: "battery PACK lipo 6S 5000 mAh 25 C 18 mohm",
};

const RATINGS: &[Rating] = &[
    Rating::word(
        key::CHEMISTRY,
        chemistry::WORDS,
        "Cell chemistry; it gives the cell's volts full, nominal and empty.",
    )
    .inline(),
    Rating::quantity(key::CELLS, Cells, "Cells in series, `6S`.")
        .inline()
        .else_from("`voltage` / nominal voltage of one cell, rounded, where both are written"),
    Rating::quantity(key::STRINGS, Strings, "Strings of cells in parallel inside the pack, `2P`.")
        .inline()
        .else_number(1.0, "the simplest one"),
    Rating::quantity(key::VOLTAGE, Voltage, "Nominal voltage of the pack, V.")
        .inline()
        .usually(1.0, 120.0)
        .else_from("`cells` × nominal voltage of one cell, where both are written"),
    Rating::quantity(
        key::FULL,
        Voltage,
        "Voltage of the pack when full, V; it counts for overvoltage and short circuits. A pack that is never charged all \
         the way has the voltage that its charger is set to.",
    )
    .usually(1.0, 140.0)
    .else_from("`cells` × full voltage of one cell"),
    Rating::quantity(
        key::EMPTY,
        Voltage,
        "Voltage of the pack when empty, V; it counts for drop and brown-out.",
    )
    .usually(0.7, 120.0)
    .else_from("`cells` × empty voltage of one cell"),
    Rating::quantity(key::CAPACITY, Charge, "Capacity of the whole pack, all strings together, Ah.")
        .inline()
        .usually(0.02, 500.0),
    Rating::quantity(key::USABLE, Ratio, "Share of the capacity that is used before it is charged again.")
        .else_number(0.8, "common practice: 80 %, which spares the cells"),
    Rating::quantity(key::RESISTANCE, Resistance, "Internal resistance of the whole pack with its leads, Ω.")
        .inline()
        .usually(0.0005, 2.0),
    Rating::quantity(
        key::DISCHARGE,
        ChargeRate,
        "Highest continuous discharge, C: multiple of the capacity per hour.",
    )
    .inline()
    .usually(0.05, 200.0),
    Rating::quantity(key::CURRENT, Current, "Highest continuous discharge current of the whole pack, A.")
        .inline()
        .usually(0.05, 2000.0)
        .else_from("`capacity` × `discharge`"),
    shared::BASIS,
    shared::PEAK,
    shared::PEAK_TIME,
    Rating::quantity(
        key::CHARGE_CURRENT,
        Current,
        "Highest current it may be charged with, A; braking motors count.",
    )
    .usually(0.01, 500.0),
    Rating::quantity(
        key::REGEN_CURRENT,
        Current,
        "Current of braking motors that its electronics let in at its main poles also when it is full, A, by the maker's \
         word.",
    )
    .or_zero()
    .usually(0.1, 1000.0),
    Rating::flag(key::TAPS, "The cell taps are brought out as terminals t0, t1, ….")
        .inline()
        .else_flag(false, "taps that nobody wires are no terminals"),
    Rating::quantity(
        key::BUILT_IN_FUSE,
        Current,
        "Rating of a fuse inside the pack in its positive lead, A.",
    )
    .usually(0.5, 600.0)
    .else_from("no fuse unless written"),
    Rating::word(
        key::PACK_PROTECTION,
        &[
            ("absent", "nothing inside the pack opens"),
            ("discharge", "electronics open on too much current or too low a voltage"),
            ("charge", "electronics open on too high a voltage or charge current, also while a motor brakes"),
            ("both", "electronics open in both directions, also while a motor brakes"),
        ],
        "What the electronics inside the pack open by themselves. They are no fuse.",
    ),
    Rating::quantity(
        key::BREAKING_CAPACITY,
        Current,
        "Highest fault current that the fuse inside the pack breaks without bursting, A.",
    )
    .usually(20.0, 1e5),
    Rating::quantity(
        key::CUTOFF,
        Voltage,
        "Voltage of the pack below which something switches the loads off by itself, V: its own electronics, a low-voltage \
         disconnect.",
    )
    .usually(0.7, 120.0),
    Rating::quantity(key::ALARM, Voltage, "Voltage of the pack below which an alarm warns, V.").usually(0.7, 120.0),
    Rating::quantity(
        key::JOINING_LIMIT,
        Voltage,
        "Greatest difference of voltage to another pack at which the two are joined in parallel, V; somebody measures it \
         before.",
    )
    .usually(0.01, 2.0),
    source::UNPLUGGED_AFTER_USE,
    source::SERIES_STRING,
    source::OR_ED_BY,
    Rating::flag(
        key::EQUALISED,
        "An equaliser keeps the batteries of its string at the same voltage, though one of them feeds loads alone.",
    )
    .else_no("careful: a battery that feeds loads alone is taken to run empty first"),
    shared::COVERED,
];
