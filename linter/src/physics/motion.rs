//! The energy of what moves: what has to go somewhere when it is braked.
//!
//! OpenStax University Physics vol. 1, sections 7.2 and 10.4, from memory of the source.

use wattle_grammar::quantity::{KilogramSquareMetres, Kilograms, MetresPerSecond, Rpm, Seconds, Watts};

use super::unit::Joules;

/// Energy of a mass that moves along: `E = ½ m v²`.
#[must_use]
pub fn moving(mass: Kilograms, speed: MetresPerSecond) -> Joules {
    Joules(0.5 * mass.0 * speed.0 * speed.0)
}

/// Energy of what turns: `E = ½ J ω²`, with `ω = 2 π n / 60`.
#[must_use]
pub fn turning(inertia: KilogramSquareMetres, speed: Rpm) -> Joules {
    let radians = std::f64::consts::TAU * speed.0 / 60.0;
    Joules(0.5 * inertia.0 * radians * radians)
}

/// The power at the beginning of an even braking, and so the highest: `P = F v = 2 E / t`, for the speed falls in a
/// straight line to nothing.
#[must_use]
pub fn braking_power(energy: Joules, time: Seconds) -> Watts {
    Watts(2.0 * energy.0 / time.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_mass_at_a_speed() {
        // 40 kg at 1.5 m/s: 45 J. Twice as fast is four times as much.
        assert!((moving(Kilograms(40.0), MetresPerSecond(1.5)).0 - 45.0).abs() < 1e-12);
        assert!((moving(Kilograms(40.0), MetresPerSecond(3.0)).0 - 180.0).abs() < 1e-12);
    }

    #[test]
    fn what_turns_is_a_mass_at_its_rim() {
        // A hoop of 2 kg and 0.5 m at 60 rpm: its rim runs at 2 π 0.5 m/s, J = m r².
        let rim = MetresPerSecond(std::f64::consts::PI);
        let hoop = turning(KilogramSquareMetres(0.5), Rpm(60.0));
        assert!((hoop.0 - moving(Kilograms(2.0), rim).0).abs() < 1e-12);
    }

    #[test]
    fn even_braking_begins_with_twice_the_mean_power() {
        assert!((braking_power(Joules(45.0), Seconds(1.5)).0 - 60.0).abs() < 1e-12);
    }
}
