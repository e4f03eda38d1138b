//! Capacitors: what flows when they are joined to a source, how long they hold, how far energy lifts them.
//!
//! The charging of a capacitor through a resistance, `i = (U/R) e^(−t/RC)`, and its energy, `½ C U²`: OpenStax
//! University Physics vol. 2, sections 8.3 and 10.5. The other formulas here follow from these two.

use wattle_grammar::quantity::{AmpSquaredSeconds, Amps, Farads, Ohms, Seconds, Share, Volts, Watts};

use super::unit::Joules;

/// Energy in a capacitor: `E = ½ C U²`. What a resistance turns to heat while a stiff source fills it is as much again.
#[must_use]
pub fn energy(capacitance: Farads, volts: Volts) -> Joules {
    Joules(0.5 * capacitance.0 * volts.0 * volts.0)
}

/// The current at the moment of joining, and so the highest: `I = U / R`. `volts` is the difference to what the capacitor
/// already has.
#[must_use]
pub fn inrush(volts: Volts, path: Ohms) -> Amps {
    volts / path
}

/// The time constant: `τ = R C`.
#[must_use]
pub fn time_constant(path: Ohms, capacitance: Farads) -> Seconds {
    Seconds(path.0 * capacitance.0)
}

/// What an in-rush lets through in all: `∫ i² dt = U² C / (2 R)`.
#[must_use]
pub fn let_through(volts: Volts, path: Ohms, capacitance: Farads) -> AmpSquaredSeconds {
    AmpSquaredSeconds(volts.0 * volts.0 * capacitance.0 / (2.0 * path.0))
}

/// The time until a share of the final voltage is reached: `t = −R C ln(1 − share)`. Infinite for the whole, 0 for
/// nothing.
#[must_use]
pub fn charging_time(path: Ohms, capacitance: Farads, share: Share) -> Seconds {
    let left = (1.0 - share.0.clamp(0.0, 1.0)).ln();
    Seconds(-time_constant(path, capacitance).0 * left)
}

/// How long a capacitor keeps a resistance above a voltage after its source is gone: `t = R C ln(U₁ / U₂)`. 0 when it
/// stands below from the beginning; infinite down to 0 V.
#[must_use]
pub fn holds_resistance(capacitance: Farads, load: Ohms, from: Volts, down_to: Volts) -> Seconds {
    if from <= down_to {
        return Seconds(0.0);
    }
    Seconds(load.0 * capacitance.0 * (from.0 / down_to.0.max(0.0)).ln())
}

/// How long a capacitor keeps a load of constant power above a voltage: `t = C (U₁² − U₂²) / (2 P)`, from the energy. 0
/// when it stands below from the beginning; infinite for no power.
#[must_use]
pub fn holds_power(capacitance: Farads, load: Watts, from: Volts, down_to: Volts) -> Seconds {
    let given = energy(capacitance, from).0 - energy(capacitance, down_to.max(Volts(0.0))).0;
    if given <= 0.0 { Seconds(0.0) } else { Seconds(given / load.0) }
}

/// The voltage to which energy that has nowhere else to go lifts a capacitor: `U₂ = √(U₁² + 2 E / C)`.
#[must_use]
pub fn lifted(capacitance: Farads, from: Volts, given: Joules) -> Volts {
    Volts((from.0 * from.0 + 2.0 * given.0.max(0.0) / capacitance.0).sqrt())
}

/// The energy that lifts a capacitor from one voltage to a higher one: `E = ½ C (U₂² − U₁²)`; 0 when it is there already.
#[must_use]
pub fn room(capacitance: Farads, from: Volts, to: Volts) -> Joules {
    Joules((energy(capacitance, to).0 - energy(capacitance, from).0).max(0.0))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lifting_by_its_room_is_the_upper_voltage() {
        let (bus, from, to) = (Farads(2.2e-3), Volts(25.2), Volts(30.0));
        assert!((lifted(bus, from, room(bus, from, to)).0 - 30.0).abs() < 1e-12);
        assert_eq!(room(bus, to, from), Joules(0.0));
        assert_eq!(lifted(bus, from, Joules(-1.0)), from);
    }

    #[test]
    fn let_through_is_the_energy_over_the_path() {
        let (volts, path, bus) = (Volts(24.0), Ohms(0.03), Farads(1e-3));
        assert!((let_through(volts, path, bus).0 * path.0 - energy(bus, volts).0).abs() < 1e-12);
        assert!((inrush(volts, path).0 - 800.0).abs() < 1e-9);
    }

    #[test]
    fn what_stands_below_holds_nothing_and_no_load_for_ever() {
        assert_eq!(holds_resistance(Farads(1e-3), Ohms(100.0), Volts(1.0), Volts(2.4)), Seconds(0.0));
        assert_eq!(holds_power(Farads(1e-3), Watts(5.0), Volts(4.0), Volts(5.0)), Seconds(0.0));
        assert!(holds_power(Farads(1e-3), Watts(0.0), Volts(6.0), Volts(5.0)).0.is_infinite());
        assert!(holds_resistance(Farads(1e-3), Ohms(100.0), Volts(1.0), Volts(0.0)).0.is_infinite());
    }
}
