//! Rows about signal terminals and what the part does with them.

use crate::{
    kind::{Rating, RatingShape, key, setting},
    quantity::Dimension::{Current, Time, Voltage},
};

/// What signal terminals are.
pub(super) const PORT: Rating = Rating::of(
    key::PORT,
    RatingShape::Ports(setting::PORT),
    "What signal terminals are: the terminals, then words and figures of the table for `port` lines. The key may stand \
     on several lines.",
);

/// High level of a signal.
pub(super) const LOGIC: Rating =
    Rating::quantity(key::LOGIC, Voltage, "Voltage of its signals when they are high, V.").usually(0.5, 60.0);

/// Highest voltage at a signal terminal.
pub(super) const SIGNAL_MAX: Rating =
    Rating::quantity(key::SIGNAL_MAX, Voltage, "Highest voltage that its signal terminals survive, V.")
        .usually(1.0, 100.0);

/// Least voltage of a high output.
pub(super) const OUTPUT_HIGH: Rating = Rating::quantity(
    key::OUTPUT_HIGH,
    Voltage,
    "Least voltage of its outputs when they are high, V, under load.",
)
.usually(0.5, 60.0);

/// Highest voltage of a low output.
pub(super) const OUTPUT_LOW: Rating = Rating::quantity(
    key::OUTPUT_LOW,
    Voltage,
    "Highest voltage of its outputs when they are low, V, under load.",
)
.or_zero()
.usually(0.01, 2.0);

/// Voltage that reads high.
pub(super) const INPUT_HIGH: Rating = Rating::quantity(
    key::INPUT_HIGH,
    Voltage,
    "Voltage above which its inputs are sure to read high, V: 2.0 V for thresholds of the TTL kind.",
)
.usually(0.3, 40.0);

/// Voltage that reads low.
pub(super) const INPUT_LOW: Rating =
    Rating::quantity(key::INPUT_LOW, Voltage, "Voltage below which its inputs are sure to read low, V.")
        .usually(0.1, 20.0);

/// Leakage of outputs.
pub(super) const LEAKAGE: Rating = Rating::quantity(
    key::LEAKAGE,
    Current,
    "Current that leaks through an output that is off, A: enough of it lights a LED or holds a small relay.",
)
.or_zero()
.usually(1e-10, 0.05);

/// Current into a signal terminal.
pub(super) const CLAMP_CURRENT: Rating = Rating::quantity(
    key::CLAMP_CURRENT,
    Current,
    "Highest current that may flow into a signal terminal above the supply, through the protection inside, A.",
)
.usually(1e-5, 0.2);

/// Common-mode voltage.
pub(super) const COMMON_MODE: Rating = Rating::quantity(
    key::COMMON_MODE,
    Voltage,
    "Highest voltage that both conductors of a pair, or both measuring inputs, may have together against its negative, V.",
)
.or_zero()
.usually(0.1, 1000.0);

/// Signals while unpowered.
pub(super) const TAKES_SIGNAL_UNPOWERED: Rating = Rating::flag(
    key::TAKES_SIGNAL_UNPOWERED,
    "It takes no harm from signals that are driven high while its own supply is off.",
)
.else_no("careful: most inputs pass the current on into the supply");

/// Address on a bus.
pub(super) const ADDRESS: Rating =
    Rating::of(key::ADDRESS, RatingShape::Text, "Its address or identity on its bus: `address \"0x41\"`.");

/// Address given by program.
pub(super) const ADDRESSED_IN_TURN: Rating = Rating::flag(
    key::ADDRESSED_IN_TURN,
    "Its address is given by a program, one part at a time in a fixed order, so that equal ones can share a bus.",
)
.else_no("two parts with one address answer at the same time");

/// What happens without a signal.
pub(super) const FAILSAFE: Rating =
    Rating::word(key::FAILSAFE, REACTIONS, "What its outputs do when the signal or the radio link is lost.");

/// How long until the failsafe acts.
pub(super) const FAILSAFE_TIME: Rating = Rating::quantity(
    key::FAILSAFE_TIME,
    Time,
    "How long after the loss of the signal the outputs do that, s.",
)
.or_zero()
.usually(1e-3, 30.0);

/// When the failsafe was tried.
pub(super) const FAILSAFE_TESTED: Rating = Rating::of(
    key::FAILSAFE_TESTED,
    RatingShape::Date,
    "The day on which its behaviour at start-up, on reset and without signal was last tried on the robot.",
);

/// What happens during a reset.
pub(super) const ON_RESET: Rating = Rating::word(
    key::ON_RESET,
    REACTIONS,
    "What its outputs do while it resets and starts, as after a dip of its supply.",
);

/// What outputs can do without command.
const REACTIONS: &[(&str, &str)] = &[
    ("stops", "the outputs go to standstill"),
    ("coasts", "the outputs let go; what moves runs out"),
    ("holds", "the outputs stay as they were"),
    ("absent", "nothing is arranged; anything may happen"),
];

/// What is done with the supply of the servo plugs.
pub(super) const SERVO_RAIL: Rating = Rating::word(
    key::SERVO_RAIL,
    &[
        ("out", "it feeds the rail of the servo plugs"),
        ("in", "it is fed from that rail, if only its input side"),
        ("none", "the middle wire of its plug is not connected inside"),
    ],
    "What it does with the middle wire of the servo plugs, the supply of receiver and servos.",
);
