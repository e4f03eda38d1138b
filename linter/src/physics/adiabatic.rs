//! How long a conductor's insulation stands a short: no heat leaves the copper (IEC 60364-4-43, IEC 60949).
//!
//! The law is meant for up to 5 s. Above that it errs on the careful side, for heat does leave the copper.

use wattle_grammar::quantity::{AmpSquaredSeconds, Amps, Celsius, Seconds, SquareMm};

use super::{
    constant::{ALUMINIUM_ADIABATIC, ALUMINIUM_ZERO, COPPER_ADIABATIC, COPPER_MELTS, COPPER_ZERO},
    unit::AdiabaticK,
};

/// The longest short the law is meant for.
pub const LONGEST: Seconds = Seconds(5.0);

/// Factor of a copper conductor heated from `initial` to `last`:
/// `k = 226 · √ln((234.5 + T_f)/(234.5 + T_i))` (IEC 60949); 0 when `last` is not above `initial`.
#[must_use]
pub fn factor(initial: Celsius, last: Celsius) -> AdiabaticK {
    let ratio = (COPPER_ZERO + last.0) / (COPPER_ZERO + initial.0);
    AdiabaticK(COPPER_ADIABATIC * ratio.ln().max(0.0).sqrt())
}

/// Factor of an aluminium conductor: `k = 148 · √ln((228 + T_f)/(228 + T_i))` (IEC 60949), two thirds of that of copper.
#[must_use]
pub fn aluminium_factor(initial: Celsius, last: Celsius) -> AdiabaticK {
    let ratio = (ALUMINIUM_ZERO + last.0) / (ALUMINIUM_ZERO + initial.0);
    AdiabaticK(ALUMINIUM_ADIABATIC * ratio.ln().max(0.0).sqrt())
}

/// The temperature that an insulation of a temperature class stands for the few seconds of a short.
///
/// 160 °C up to a class of 105 °C: thermoplastic (IEC 60364-4-43 table 43A), for the material is not known and
/// thermoplastic is the weaker one. 250 °C above: such classes are crosslinked or fluoropolymer; the 350 °C of silicone
/// rubber is not taken, for a class of 200 °C does not tell silicone from fluoropolymer, which melts near 260 °C.
#[must_use]
pub fn short_circuit_limit(class: Celsius) -> Celsius {
    if class <= Celsius(105.0) { Celsius(160.0) } else { Celsius(250.0) }
}

/// Factor for an insulation of a temperature class, the short beginning at full load: from the class's temperature to
/// [`short_circuit_limit`].
#[must_use]
pub fn class_factor(class: Celsius) -> AdiabaticK {
    factor(class, short_circuit_limit(class))
}

/// How long the insulation stands `current`: `t = (k S / I)²` (IEC 60364-4-43, 434.5.2). Infinite for no current.
#[must_use]
pub fn withstand_time(k: AdiabaticK, area: SquareMm, current: Amps) -> Seconds {
    Seconds((k.0 * area.0 / current.0).powi(2))
}

/// The energy the insulation stands: `I²t = k² S²` (IEC 60364-4-43, 434.5.2).
#[must_use]
pub fn withstand_energy(k: AdiabaticK, area: SquareMm) -> AmpSquaredSeconds {
    AmpSquaredSeconds((k.0 * area.0).powi(2))
}

/// How long bare copper carries `current` before it melts, no heat leaving it (Onderdonk, as published:
/// `33 (I/A)² t = log₁₀((T_m − T_a)/(234 + T_a) + 1)` with A in circular mil). Infinite for no current.
#[must_use]
pub fn melting_time(area: SquareMm, current: Amps, air: Celsius) -> Seconds {
    let growth = (COPPER_MELTS.0 - air.0) / (234.0 + air.0) + 1.0;
    Seconds(growth.log10() / 33.0 * (circular_mils(area) / current.0).powi(2))
}

/// A cross-section in circular mil.
#[must_use]
pub fn circular_mils(area: SquareMm) -> f64 {
    area.0 / SQUARE_MM_PER_CIRCULAR_MIL
}

/// The area of a circle of a thousandth of an inch: π/4 · (25.4 µm)².
const SQUARE_MM_PER_CIRCULAR_MIL: f64 = std::f64::consts::FRAC_PI_4 * 0.0254 * 0.0254;

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn energy_and_time_are_one_law() {
        let (k, area, current) = (class_factor(Celsius(60.0)), SquareMm(1.5), Amps(300.0));
        let time = withstand_time(k, area, current);
        assert!((withstand_energy(k, area).0 / (300.0 * 300.0 * time.0) - 1.0).abs() < 1e-12);
    }

    #[test]
    fn nothing_is_stood_beyond_the_limit() {
        assert_eq!(factor(Celsius(160.0), Celsius(160.0)), AdiabaticK(0.0));
        assert_eq!(factor(Celsius(200.0), Celsius(160.0)), AdiabaticK(0.0));
    }
}
