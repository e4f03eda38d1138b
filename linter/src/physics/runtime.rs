//! How long a battery lasts: ideal, and by Peukert's law in both of its usual forms.

use wattle_grammar::quantity::{AmpHours, Amps, Seconds, Share};

const SECONDS_PER_HOUR: f64 = 3600.0;

/// Runtime of an ideal battery: usable capacity over current. Infinite for no current.
#[must_use]
pub fn ideal(capacity: AmpHours, usable: Share, current: Amps) -> Seconds {
    hours(capacity.0 * usable.0 / current.0)
}

/// Runtime by Peukert's law from a capacity at a rated time: `t = H · (C / (I H))^k`.
///
/// `rated` is the time the capacity was stated for, 20 h for most lead-acid batteries. Lighter loads than the rated one
/// are credited with more than the capacity, as the law has it.
#[must_use]
pub fn peukert(capacity: AmpHours, rated: Seconds, exponent: f64, current: Amps) -> Seconds {
    let rated_hours = rated.0 / SECONDS_PER_HOUR;
    hours(rated_hours * (capacity.0 / (current.0 * rated_hours)).powf(exponent))
}

/// The time for which a lead battery is rated, when nothing says otherwise: 20 h (common practice for stationary and cycling
/// batteries; starter batteries are rated for the same).
pub const RATED_TIME: Seconds = Seconds(20.0 * SECONDS_PER_HOUR);

/// Runtime of a share of the capacity of a lead battery: [`peukert`] from its rated time, but a load lighter than the
/// rated one gets no more than the capacity. Infinite for no current.
#[must_use]
pub fn lead(capacity: AmpHours, usable: Share, exponent: f64, current: Amps) -> Seconds {
    let by_law = peukert(capacity, RATED_TIME, exponent, current) * usable.0;
    by_law.min(ideal(capacity, usable, current))
}

/// Runtime by Peukert's law from the Peukert capacity, which is the capacity at 1 A: `t = Cp / I^k`, in hours and
/// amperes.
#[must_use]
pub fn peukert_one_ampere(capacity: AmpHours, exponent: f64, current: Amps) -> Seconds {
    hours(capacity.0 / current.0.powf(exponent))
}

/// Peukert's exponent from two discharge tests: `k = |(ln t₂ − ln t₁) / (ln I₁ − ln I₂)|`.
#[must_use]
pub fn peukert_exponent(first: (Seconds, Amps), second: (Seconds, Amps)) -> f64 {
    ((second.0 / first.0).ln() / (first.1 / second.1).ln()).abs()
}

fn hours(hours: f64) -> Seconds {
    Seconds(hours * SECONDS_PER_HOUR)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_exponent_of_one_is_the_ideal_battery() {
        let (capacity, current) = (AmpHours(7.2), Amps(1.8));
        let law = peukert(capacity, Seconds(72_000.0), 1.0, current);
        assert!((law / ideal(capacity, Share(1.0), current) - 1.0).abs() < 1e-12);
    }

    #[test]
    fn a_light_load_gets_no_more_than_the_capacity() {
        let lasts = |amps| lead(AmpHours(100.0), Share(0.8), 1.2, Amps(amps)).0 / SECONDS_PER_HOUR;
        assert!((lasts(5.0) - 16.0).abs() < 1e-9);
        assert!((lasts(1.0) - 80.0).abs() < 1e-9);
        assert!((lasts(10.0) - 0.8 * 8.7055).abs() < 1e-3);
        assert!(lasts(0.0).is_infinite());
    }

    #[test]
    fn the_exponent_comes_back_from_two_tests() {
        let time = |amps| peukert(AmpHours(100.0), Seconds(72_000.0), 1.17, Amps(amps));
        let exponent = peukert_exponent((time(5.0), Amps(5.0)), (time(30.0), Amps(30.0)));
        assert!((exponent - 1.17).abs() < 1e-12);
    }
}
