//! Physical constants, each once, with its source.

use wattle_grammar::quantity::Celsius;

use super::unit::{OhmMetres, PerKelvin};

/// Resistivity of annealed copper at 20 °C: 100 % IACS, 0.017241 Ω mm²/m (NBS Handbook 100, 1966).
pub const COPPER_RESISTIVITY: OhmMetres = OhmMetres(1.7241e-8);

/// Temperature coefficient of copper of 100 % IACS at 20 °C (NBS Handbook 100, 1966).
pub const COPPER_COEFFICIENT: PerKelvin = PerKelvin(0.003_93);

/// Copper's resistance, followed down in a straight line, is zero at minus this: °C (FAA AC 43.13-1B p. 11-22).
pub const COPPER_ZERO: f64 = 234.5;

/// The temperature that tabulated resistances are given at.
pub const REFERENCE_TEMPERATURE: Celsius = Celsius(20.0);

/// Melting point of copper, as used with the Onderdonk equation.
pub const COPPER_MELTS: Celsius = Celsius(1083.0);

/// Melting point of aluminium, as handbooks of chemistry and physics give it (from memory).
pub const ALUMINIUM_MELTS: Celsius = Celsius(660.0);

/// Adiabatic constant of copper, A √s/mm² (IEC 60949 table I).
pub const COPPER_ADIABATIC: f64 = 226.0;

/// 0 °C in kelvin.
pub const ZERO_CELSIUS: f64 = 273.15;

/// Standard acceleration of gravity, m/s² (CGPM 1901).
pub const GRAVITY: f64 = 9.806_65;

/// Stefan–Boltzmann constant, W/(m² K⁴) (CODATA 2018).
pub const STEFAN_BOLTZMANN: f64 = 5.670_374e-8;

/// Emissivity of plastic insulation; 0.9 is the usual handbook value for paint and plastics of any colour.
pub const INSULATION_EMISSIVITY: f64 = 0.9;

/// Heat conductivity of insulation, W/(m K): PVC, the poorest conductor among the usual ones.
pub const INSULATION_CONDUCTIVITY: f64 = 0.17;

/// Diameter of a stranded conductor over that of a solid one of the same copper area: concentric lay, common practice.
pub const STRANDED_DIAMETER: f64 = 1.15;

/// Resistance of a stranded conductor over that of a solid one, from the lay of the strands. NFPA 70 chapter 9
/// table 8 lists 1.02 to 1.03 for its seven-strand rows.
pub const STRANDED_RESISTANCE: f64 = 1.02;

/// Temperature below zero at which the resistance of aluminium would vanish, for short circuits (IEC 60949, seen).
pub const ALUMINIUM_ZERO: f64 = 228.0;

/// Factor of aluminium in the adiabatic equation, A √s/mm² (IEC 60949, seen).
pub const ALUMINIUM_ADIABATIC: f64 = 148.0;
