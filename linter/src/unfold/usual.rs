//! What is taken where the author wrote nothing: each figure once, with its source.

use wattle_grammar::quantity::{Amps, Celsius, Ohms, Share, Volts};

/// Temperature at which conductors are taken for the working points.
pub const CONDUCTOR: Celsius = Celsius(20.0);

/// A relay whose release voltage is above this share of its operate voltage is a voltage monitor, whose electronics do not
/// depend on the copper of a coil (common practice: plain coils release at 10 % to 40 %).
pub const WATCHING: f64 = 0.5;

/// How far a regulator that states no tolerance may be off (common practice).
pub const TOLERANCE: Share = Share(0.05);

/// Resistance of the crimp at one end of a wire (common practice: 0.1 mΩ for a sound crimp). A wire without a length has
/// its two crimps only.
pub const CRIMP: Ohms = Ohms(0.1e-3);

/// How many times the resistance of copper a wire of aluminium has, clad or not (electrical aluminium has 61 % of the
/// conductivity of annealed copper, IACS; from memory).
pub const ALUMINIUM_OVER_COPPER: f64 = 1.0 / 0.61;

/// Contact of a switch, relay or mated way when its kind says nothing (common practice: 1 mΩ to 5 mΩ).
pub const CONTACT: Ohms = Ohms(1e-3);

/// The least resistance an element that may open is given, so that closing it never changes the network's shape.
pub const LEAST: Ohms = Ohms(1e-6);

/// Resistance of a protective device without a rating (common practice: that of a 10 A blade fuse, as its data sheet
/// has it).
pub const PROTECTIVE: Ohms = Ohms(7.7e-3);

/// Output resistance of a charger or supply with its leads (common practice).
pub const SUPPLY: Ohms = Ohms(10e-3);

/// Current of a source that states neither limit nor rating: as good as none.
pub const UNLIMITED: Amps = Amps(1e4);

/// Output resistance of a regulator (common practice: its loop holds the output to a millivolt per ampere).
pub const REGULATOR: Ohms = Ohms(1e-3);

/// Joint between input and output negative inside a regulator (common practice: a copper plane with two terminals).
pub const REGULATOR_GROUND: Ohms = Ohms(1e-3);

/// How far the own limit of a regulator or supply lies above its rated current (common practice). For a working point the
/// low side is the careful one; a fault is judged with the high side (`trace/feeds.rs`).
pub const LIMIT_OVER_RATED: f64 = 1.2;

/// Limit of a regulator that states neither current nor limit.
pub const REGULATOR_LIMIT: Amps = Amps(100.0);

/// Least voltage over a linear regulator (from memory of makers' data for three-terminal regulators).
pub const LINEAR_DROPOUT: Volts = Volts(2.0);

/// Least voltage over a buck regulator (common practice).
pub const BUCK_DROPOUT: Volts = Volts(1.0);

/// Efficiency of a switching regulator (common practice at middling load).
pub const REGULATOR_EFFICIENCY: Share = Share(0.85);

/// Share of its supply power that a chopping driver passes to its motors (common practice).
pub const DRIVER_EFFICIENCY: Share = Share(0.95);

/// Voltage below which a load whose supply range is not stated draws less, in proportion.
pub const CUTOFF: Volts = Volts(0.5);

/// Slope resistance of a diode (common practice).
pub const DIODE: Ohms = Ohms(10e-3);

/// Resistance of a clamp while it conducts (common practice: 0.1 Ω).
pub const CLAMP: Ohms = Ohms(0.1);

/// Speaker (the usual 8 Ω).
pub const SPEAKER: Ohms = Ohms(8.0);

/// How many times its ordinary current a motor draws at stall when neither stall nor winding is stated (common practice
/// for geared brushed motors: 5 to 10 times).
pub const STALL_OVER_TYPICAL: f64 = 8.0;

/// Winding of a motor of which nothing is stated.
pub const WINDING: Ohms = Ohms(1.0);

/// Conducting transistor of a bridge (common practice).
pub const BRIDGE: Ohms = Ohms(10e-3);

/// Leakage across the output of a driving bridge; it keeps a motor circuit that opens solvable.
pub const BRIDGE_LEAK: Ohms = Ohms(1e6);

/// Leakage across the supply of a driver or a regulator: its capacitors and dividers (common practice). It gives the rail
/// of an unpowered driver the voltage that a turned motor lifts it to, even when nothing else is on it, and a regulator
/// that draws nothing an input voltage to start by: behind a diode that of its source, behind an open contact none. Across
/// the output of a regulator it holds an unloaded rail at its voltage, as the divider does by which the regulator sees it.
pub const BUS_LEAK: Ohms = Ohms(1e6);
