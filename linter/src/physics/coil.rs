//! Relay and contactor coils: resistance, and the voltages they work at when warm.
//!
//! A coil pulls by its current. Warm copper needs more voltage for the same current, so the voltages stated at 20 °C
//! grow with the winding's resistance (FAA AC 43.13-1B p. 11-22 for the copper law).

use wattle_grammar::quantity::{Amps, Celsius, Kelvins, Ohms, Volts};

use super::conductor::copper_growth;

/// Resistance of a coil at 20 °C from its rated voltage and the current it draws there.
#[must_use]
pub fn resistance(rated: Volts, current: Amps) -> Ohms {
    rated / current
}

/// Resistance of a coil at a winding temperature from that at 20 °C: `R₂₀ · (234.5 + T) / 254.5`.
#[must_use]
pub fn warm_resistance(at_20: Ohms, winding: Celsius) -> Ohms {
    at_20 * copper_growth(winding)
}

/// The operate or release voltage at a winding temperature from that at 20 °C: `U₂₀ · (234.5 + T) / 254.5`.
#[must_use]
pub fn warm_voltage(at_20: Volts, winding: Celsius) -> Volts {
    at_20 * copper_growth(winding)
}

/// The operate or release voltage at a winding temperature from that at the temperature it is stated for:
/// `U · (234.5 + T) / (234.5 + T₀)`.
#[must_use]
pub fn voltage_at(stated: Volts, at: Celsius, winding: Celsius) -> Volts {
    stated * (copper_growth(winding) / copper_growth(at))
}

/// How much warmer than the air the winding of a coil gets that stays switched on. Makers of relays publish a rise over the
/// air around, not a temperature: 40 K to 60 K at the rated voltage (common practice, from memory). The lower figure: what
/// is told of it then holds of nearly every relay.
pub const WINDING_RISE: Kelvins = Kelvins(40.0);

/// The temperature of the winding of a coil that has stayed on in air at `air`.
#[must_use]
pub fn hot_winding(air: Celsius) -> Celsius {
    air + Celsius(WINDING_RISE.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_coil_at_80_degrees_needs_a_quarter_more() {
        // (234.5 + 80) / 254.5 = 1.2358: the figure a coil maker's note rounds to +24 %.
        assert!((warm_voltage(Volts(1.0), Celsius(80.0)).0 - 1.2358).abs() < 5e-5);
        assert!((warm_resistance(Ohms(100.0), Celsius(80.0)).0 - 123.58).abs() < 5e-3);
        assert_eq!(warm_voltage(Volts(18.0), Celsius(20.0)), Volts(18.0));
    }

    #[test]
    fn a_figure_at_the_stated_temperature_is_the_stated_one() {
        assert_eq!(voltage_at(Volts(16.8), Celsius(85.0), Celsius(85.0)), Volts(16.8));
        assert_eq!(
            voltage_at(Volts(16.8), Celsius(20.0), Celsius(60.0)),
            warm_voltage(Volts(16.8), Celsius(60.0))
        );
    }

    #[test]
    fn the_warm_coil_draws_the_same_current_at_its_warm_voltage() {
        let cold = Volts(9.6) / resistance(Volts(12.0), Amps(0.1));
        let ohms = warm_resistance(Ohms(120.0), Celsius(60.0));
        assert!((warm_voltage(Volts(9.6), Celsius(60.0)) / ohms - cold).abs() < Amps(1e-12));
    }
}
