//! Battery packs: voltages from cells, and the current between packs of unequal charge.

use wattle_grammar::quantity::{AmpHours, Amps, CRate, Ohms, Seconds, Volts};

/// The voltages of a cell or a pack without load.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ChargeVolts {
    /// End of charge.
    pub full: Volts,
    /// Nominal.
    pub nominal: Volts,
    /// End of discharge.
    pub empty: Volts,
}

impl ChargeVolts {
    /// Of a pack of so many of these cells in series. Strings in parallel do not change them.
    #[must_use]
    pub fn in_series(self, cells: u32) -> Self {
        let times = f64::from(cells);
        Self { full: self.full * times, nominal: self.nominal * times, empty: self.empty * times }
    }
}

/// Internal resistance of a pack from that of its cells: in series they add, strings in parallel share. Infinite for no
/// strings.
#[must_use]
pub fn pack_resistance(cell: Ohms, cells: u32, strings: u32) -> Ohms {
    cell * f64::from(cells) / f64::from(strings)
}

/// The rate a current is of a capacity: 10 A of 5 Ah is 2 C. The inverse is `capacity * rate`.
#[must_use]
pub fn rate(capacity: AmpHours, current: Amps) -> CRate {
    CRate(current.0 / capacity.0)
}

/// The current that flows from the fuller of two packs into the other when they are joined:
/// `I = (U₁ − U₂) / (R₁ + R₂)`, Kirchhoff's voltage law. `R` includes the leads.
#[must_use]
pub fn equalising_current(fuller: (Volts, Ohms), emptier: (Volts, Ohms)) -> Amps {
    (fuller.0 - emptier.0) / (fuller.1 + emptier.1)
}

/// The largest difference of voltage at which two packs may be joined, for a highest equalising current.
#[must_use]
pub fn joining_difference(highest: Amps, first: Ohms, second: Ohms) -> Volts {
    highest * (first + second)
}

/// The time to charge: what has to go in over the current, and an allowance for the end, where the current tapers off and
/// part of it turns to heat: `t = factor · C / I`. Infinite for no current.
#[must_use]
pub fn charging_time(missing: AmpHours, current: Amps, factor: f64) -> Seconds {
    Seconds(factor * missing.0 / current.0 * 3600.0)
}

/// How many times the constant-current time a charge takes by chemistry (common practice: lithium spends about a third
/// longer in the constant-voltage stage, lead takes back 1.1 to 1.2 times its charge and tapers for hours, nickel takes
/// back 1.4 to 1.6 times). `None` for a chemistry that is not charged or not known.
#[must_use]
pub fn charging_factor(chemistry: &str) -> Option<f64> {
    Some(match chemistry {
        "lipo" | "lihv" | "li-ion" | "lifepo4" => 1.35,
        "lead-acid" | "agm" | "gel" => 1.5,
        "nimh" | "nicd" => 1.6,
        _ => return None,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn unequal_packs_exchange_current_and_the_limit_inverts_it() {
        let (full, empty) = ((Volts(25.2), Ohms(0.018)), (Volts(22.2), Ohms(0.022)));
        let current = equalising_current(full, empty);
        assert!((current.0 - 75.0).abs() < 1e-9);
        assert!((joining_difference(current, full.1, empty.1).0 - 3.0).abs() < 1e-9);
    }

    #[test]
    fn strings_share_and_cells_add() {
        assert!((pack_resistance(Ohms(0.006), 6, 2).0 - 0.018).abs() < 1e-12);
    }

    #[test]
    fn rate_inverts_the_c_product() {
        let (capacity, two) = (AmpHours(5.0), CRate(2.0));
        assert_eq!(rate(capacity, capacity * two), two);
    }
}
