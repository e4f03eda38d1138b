//! The voltage regulator or converter.

use super::{draw, shared, signal, source};
use crate::{
    kind::{Family, Kind, KindId, Rating, Role, Terminal, key},
    quantity::Dimension::{Capacitance, Current, Power, Ratio, Voltage},
};

pub(super) const KIND: Kind = Kind {
    id: KindId::Regulator,
    word: "regulator",
    family: Family::Conversion,
    doc: "A voltage regulator or converter: makes a steady output voltage. Its input draws output power / efficiency, so \
          its input current rises when the battery falls. A voltage on the line means the output.",
    terminals: &[
        Terminal::once("in", &["in-pos"], Role::SupplyPositive, "Positive input."),
        Terminal::once(
            "in-neg",
            &["gnd"],
            Role::SupplyNegative,
            "Negative input; the same metal as `out-neg` unless the regulator is `isolated`.",
        ),
        Terminal::once("out", &["out-pos"], Role::OutputPositive, "Positive output."),
        Terminal::once("out-neg", &[], Role::OutputNegative, "Negative output."),
    ],
    ratings: RATINGS,
    example: "regulator REG-5 buck 5 V 3 A { supply 8 V .. 36 V; quiescent 15 mA }",
};

const RATINGS: &[Rating] = &[
    Rating::quantity(key::OUTPUT, Voltage, "Output voltage, V.").inline().usually(0.6, 130.0),
    Rating::quantity(key::CURRENT, Current, "Highest continuous output current, A.")
        .inline()
        .usually(5e-3, 200.0),
    Rating::word(
        key::STYLE,
        &[
            ("buck", "switching, output below input; a failed transistor passes the input through"),
            ("boost", "switching, output above input; while off it passes input to output, less a diode drop, and cannot \
                       limit a short"),
            ("buck-boost", "switching, output below or above input"),
            ("linear", "burns the difference: input current equals output current, heat is (input − output) × current"),
        ],
        "How it works.",
    )
    .inline(),
    Rating::range(key::SUPPLY, Voltage, "Input voltage it works with, V. One value alone means that value ± 10 %.")
        .usually(0.5, 300.0),
    shared::ABSOLUTE_MAX,
    Rating::quantity(key::DROPOUT, Voltage, "Least that the input has to be above the output, V; for buck and linear.")
        .or_zero()
        .usually(0.01, 12.0),
    Rating::quantity(key::TOLERANCE, Ratio, "How far the output voltage may be off, a share.")
        .else_number(0.05, "common practice: 5 %"),
    Rating::quantity(key::EFFICIENCY, Ratio, "Output power / input power; of a linear one it is output / input voltage.")
        .else_number(0.85, "common practice for switching converters at middling load"),
    Rating::quantity(key::QUIESCENT, Current, "Current its input draws with no load, A.")
        .or_zero()
        .usually(1e-7, 1.0),
    shared::BASIS,
    shared::PEAK,
    shared::PEAK_TIME,
    shared::CURRENT_LIMIT,
    Rating::quantity(
        key::CAPACITANCE,
        Capacitance,
        "Capacitance across its input, F; it draws the in-rush current when the supply is closed.",
    )
    .inline()
    .usually(1e-7, 0.1),
    shared::ISOLATED.else_flag(false, "most small converters join input and output negative"),
    shared::SINKS,
    shared::TAKES_BACK_FEED,
    shared::SHARES_LOAD,
    Rating::flag(key::FAILS_HIGH, "When it fails, it can pass its input voltage to its output.")
        .else_flag(true, "careful: a shorted transistor does that in a buck or linear regulator"),
    Rating::flag(key::ADJUSTABLE, "A screw, a jumper or a program can change its output; `not adjustable` is a fixed one."),
    Rating::flag(
        key::CONSTANT_CURRENT,
        "It keeps its output at `current` and lets the voltage follow, as a LED driver does; `output` is its highest voltage.",
    )
    .else_no("a regulator keeps its voltage"),
    Rating::quantity(
        key::CUTOFF,
        Voltage,
        "Input voltage below which it switches off by itself, V (under-voltage lockout).",
    )
    .usually(0.5, 200.0),
    Rating::quantity(
        key::DISSIPATION,
        Power,
        "Heat that it can give off for long as it is mounted, W, heat sink and air included.",
    )
    .usually(0.05, 1000.0),
    Rating::quantity(
        key::ISOLATION_VOLTAGE,
        Voltage,
        "Highest voltage that its insulation between input and output stands for long, V.",
    )
    .between(1.0, 1e5)
    .usually(30.0, 1e4),
    source::OR_ED_BY,
    source::SERIES_STRING,
    signal::SERVO_RAIL,
    draw::INRUSH,
    draw::INRUSH_TIME,
    draw::SOFT_START,
    draw::ALWAYS_ON,
    draw::TAKES_REVERSAL,
];
