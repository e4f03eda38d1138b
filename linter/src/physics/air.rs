//! Dry air at sea level pressure: the properties that convection needs.
//!
//! All from the U.S. Standard Atmosphere, 1976 (NOAA/NASA/USAF), section 1.3: Sutherland's equation for the viscosity
//! (equation 51), the empirical one for the heat conductivity (equation 53), the perfect gas for the rest.

use wattle_grammar::quantity::Celsius;

use super::constant::ZERO_CELSIUS;

/// Sea level pressure, Pa.
const PRESSURE: f64 = 101_325.0;
/// Molar mass of air, kg/mol.
const MOLAR_MASS: f64 = 28.9644e-3;
/// Gas constant as the 1976 atmosphere has it, J/(mol K).
const GAS_CONSTANT: f64 = 8.314_32;
/// Sutherland's factor, kg/(m s √K).
const SUTHERLAND_FACTOR: f64 = 1.458e-6;
/// Sutherland's temperature, K.
const SUTHERLAND_TEMPERATURE: f64 = 110.4;
/// Factor of the heat conductivity, W/(m √K).
const CONDUCTIVITY_FACTOR: f64 = 2.646_38e-3;
/// Temperature in the heat conductivity, K.
const CONDUCTIVITY_TEMPERATURE: f64 = 245.4;

/// Air at one temperature.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Air {
    /// Absolute temperature, K.
    pub kelvin: f64,
    /// Heat conductivity, W/(m K).
    pub conductivity: f64,
    /// Kinematic viscosity, m²/s.
    pub viscosity: f64,
    /// Prandtl number.
    pub prandtl: f64,
}

impl Air {
    /// Air at `temperature`, which is above absolute zero.
    pub(crate) fn at(temperature: Celsius) -> Self {
        let kelvin = temperature.0 + ZERO_CELSIUS;
        let root = kelvin * kelvin.sqrt();
        let dynamic = SUTHERLAND_FACTOR * root / (kelvin + SUTHERLAND_TEMPERATURE);
        let conductivity =
            CONDUCTIVITY_FACTOR * root / (kelvin + CONDUCTIVITY_TEMPERATURE * 10_f64.powf(-12.0 / kelvin));
        let density = PRESSURE * MOLAR_MASS / (GAS_CONSTANT * kelvin);
        let heat_capacity = 3.5 * GAS_CONSTANT / MOLAR_MASS;
        Self {
            kelvin,
            conductivity,
            viscosity: dynamic / density,
            prandtl: heat_capacity * dynamic / conductivity,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sea_level_values_of_the_standard_atmosphere() {
        // U.S. Standard Atmosphere 1976, table of properties at 0 m (288.15 K): kinematic viscosity 1.4607e-5 m²/s,
        // heat conductivity 2.5326e-2 W/(m K). From memory of the tables.
        let air = Air::at(Celsius(15.0));
        assert!((air.viscosity / 1.4607e-5 - 1.0).abs() < 2e-4, "{air:?}");
        assert!((air.conductivity / 2.5326e-2 - 1.0).abs() < 2e-4, "{air:?}");
    }
}
