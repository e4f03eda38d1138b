//! Conductors: wire gauge geometry and the resistance of copper at a temperature.

use std::f64::consts::PI;

use wattle_grammar::{
    quantity::{Celsius, Metres, Ohms, SquareMm},
    unit::area_of_awg,
};

use super::{
    constant::{COPPER_COEFFICIENT, COPPER_RESISTIVITY, COPPER_ZERO, REFERENCE_TEMPERATURE},
    unit::{OhmMetres, PerKelvin},
};

/// A metal as a conductor. Its resistance grows in a straight line with temperature, counted from 20 °C.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Metal {
    /// Resistivity at 20 °C.
    pub resistivity: OhmMetres,
    /// Relative growth of the resistance from 20 °C on.
    pub coefficient: PerKelvin,
}

/// Annealed copper, 100 % IACS.
pub const COPPER: Metal = Metal { resistivity: COPPER_RESISTIVITY, coefficient: COPPER_COEFFICIENT };

impl Metal {
    /// Resistance of a conductor: `ρ₂₀ · (1 + α (T − 20 °C)) · length / area`. Infinite for no area.
    #[must_use]
    pub fn resistance(&self, area: SquareMm, length: Metres, temperature: Celsius) -> Ohms {
        let square_metres = area.0 * 1e-6;
        self.warmed(Ohms(self.resistivity.0 * length.0 / square_metres), temperature)
    }

    /// A resistance known at 20 °C, at another temperature: `R₂₀ · (1 + α (T − 20 °C))`.
    #[must_use]
    pub fn warmed(&self, at_20: Ohms, temperature: Celsius) -> Ohms {
        at_20 * (1.0 + self.coefficient.0 * (temperature - REFERENCE_TEMPERATURE).0)
    }

    /// The temperature at which a resistance known at 20 °C has grown to `warm`: the inverse of [`Self::warmed`].
    #[must_use]
    pub fn temperature(&self, at_20: Ohms, warm: Ohms) -> Celsius {
        REFERENCE_TEMPERATURE + Celsius((warm / at_20 - 1.0) / self.coefficient.0)
    }
}

/// Resistance of a copper conductor, one way; see [`Metal::resistance`].
#[must_use]
pub fn resistance(area: SquareMm, length: Metres, temperature: Celsius) -> Ohms {
    COPPER.resistance(area, length, temperature)
}

/// The run that keeps a drop when the conductor is warm, from the run that keeps it at 20 °C:
/// `L₂ = 254.5 · L₁ / (234.5 + T₂)` (FAA AC 43.13-1B p. 11-22).
#[must_use]
pub fn warm_run(run_at_20: Metres, conductor: Celsius) -> Metres {
    run_at_20 / copper_growth(conductor)
}

/// How many times its value at 20 °C a copper resistance has at a temperature: `(234.5 + T) / 254.5`
/// (FAA AC 43.13-1B p. 11-22). A plain ratio.
#[must_use]
pub fn copper_growth(temperature: Celsius) -> f64 {
    (COPPER_ZERO + temperature.0) / (COPPER_ZERO + REFERENCE_TEMPERATURE.0)
}

/// Copper area of a gauge number (ASTM B258), 1/0 being 0, 2/0 being -1 and so on; stranded wire of a gauge has the same
/// area as solid.
#[must_use]
pub fn awg_area(number: i32) -> SquareMm {
    SquareMm(area_of_awg(f64::from(number)))
}

/// Diameter of a solid wire of a gauge number, numbered as in [`awg_area`].
#[must_use]
pub fn awg_diameter(number: i32) -> Metres {
    solid_diameter(awg_area(number))
}

/// Diameter of a solid round conductor of an area.
#[must_use]
pub fn solid_diameter(area: SquareMm) -> Metres {
    Metres((4.0 * area.0 / PI).sqrt() * 1e-3)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn temperature_inverts_warmed() {
        let warm = COPPER.warmed(Ohms(0.3), Celsius(71.0));
        assert!((COPPER.temperature(Ohms(0.3), warm).0 - 71.0).abs() < 1e-9);
    }

    #[test]
    fn both_temperature_laws_agree() {
        // 1/254.5 is 0.003929, the coefficient 0.00393 is that rounded: 0.02 % apart per 80 K.
        let line = COPPER.warmed(Ohms(1.0), Celsius(100.0)).0;
        assert!((copper_growth(Celsius(100.0)) / line - 1.0).abs() < 1e-4);
    }
}
