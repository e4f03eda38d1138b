//! Forward drops of diodes when none is stated: textbook values.

use wattle_grammar::quantity::Volts;

/// Forward drop of a silicon junction, as in a bridge's freewheel diodes (common practice).
pub const SILICON_DROP: Volts = Volts(0.7);

/// Forward drop of a Schottky diode at a moderate current (common practice).
pub const SCHOTTKY_DROP: Volts = Volts(0.4);
