//! Permanent-magnet motors: back-EMF and winding resistance, and what a motor gives when it is pushed.
//!
//! `U = E + I R`, `E = Ke · ω`, and in SI units the torque constant equals `Ke` (textbook relations).

use std::f64::consts::PI;

use wattle_grammar::quantity::{Amps, Ohms, Rpm, RpmPerVolt, Volts, Watts};

use super::unit::EmfConstant;

/// EMF constant from a speed constant: `Ke = 60 / (2π Kv)`.
#[must_use]
pub fn emf_constant(speed: RpmPerVolt) -> EmfConstant {
    EmfConstant(60.0 / (2.0 * PI * speed.0))
}

/// EMF of a motor turning at a speed, whether it drives or is pushed: `E = n / Kv`.
#[must_use]
pub fn emf(constant: RpmPerVolt, speed: Rpm) -> Volts {
    Volts(speed.0 / constant.0)
}

/// EMF at a declared running point: `E = U − I R`.
#[must_use]
pub fn running_emf(supply: Volts, current: Amps, winding: Ohms) -> Volts {
    supply - current * winding
}

/// Current of a running motor: `I = (U − E) / R`; negative when it gives current back.
#[must_use]
pub fn running_current(supply: Volts, emf: Volts, winding: Ohms) -> Amps {
    (supply - emf) / winding
}

/// Current of a motor held still: `I = U / R`.
#[must_use]
pub fn stall_current(supply: Volts, winding: Ohms) -> Amps {
    supply / winding
}

/// Winding resistance from the current a motor draws when held still: `R = U / I`.
#[must_use]
pub fn winding_resistance(supply: Volts, stall: Amps) -> Ohms {
    supply / stall
}

/// Power that leaves a motor at its shaft, friction included: `E I`.
#[must_use]
pub fn shaft_power(emf: Volts, current: Amps) -> Watts {
    emf * current
}

/// Heat in a winding: `I² R`.
#[must_use]
pub fn winding_heat(current: Amps, winding: Ohms) -> Watts {
    current * winding * current
}

/// The rail that a pushed motor raises through the freewheel diodes of an unpowered bridge: its EMF less two diode
/// drops, never below 0 V.
#[must_use]
pub fn pushed_rail(emf: Volts, diode_drop: Volts) -> Volts {
    (emf.abs() - diode_drop * 2.0).max(Volts(0.0))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn both_constants_give_one_emf() {
        let constant = RpmPerVolt(320.0);
        let radians_per_second = 4800.0 * 2.0 * PI / 60.0;
        assert!((emf_constant(constant).0 * radians_per_second - emf(constant, Rpm(4800.0)).0).abs() < 1e-9);
    }

    #[test]
    fn a_pushed_motor_lifts_the_rail_by_its_emf_less_two_diodes() {
        assert!((pushed_rail(Volts(-12.0), Volts(0.7)).0 - 10.6).abs() < 1e-12);
        assert_eq!(pushed_rail(Volts(1.0), Volts(0.7)), Volts(0.0));
    }

    #[test]
    fn energy_is_kept() {
        let (supply, winding) = (Volts(24.0), Ohms(0.4));
        let emf = running_emf(supply, Amps(6.0), winding);
        let out = shaft_power(emf, Amps(6.0)) + winding_heat(Amps(6.0), winding);
        assert!((out - supply * Amps(6.0)).abs() < Watts(1e-9));
        assert!((running_current(supply, emf, winding) - Amps(6.0)).abs() < Amps(1e-9));
        assert!((winding_resistance(supply, stall_current(supply, winding)) - winding).abs() < Ohms(1e-12));
    }
}
