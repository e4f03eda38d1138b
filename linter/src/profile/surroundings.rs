//! What warm air and loaded neighbours take from a conductor's ampacity.

use wattle_grammar::quantity::Celsius;

/// The air temperature that 33 CFR 183.425 table 5 is for.
pub(super) const TABLE_AIR: Celsius = Celsius(30.0);

/// Share of the ampacity that is left in air at `air`, of a table made for air at `table`:
/// `√((T_ins − T_air) / (T_ins − T_table))`, textbook. Cooler air earns no credit.
///
/// The engine space factors of 33 CFR 183.425 table 5 note 1 and the corrections of NFPA 70 are this root, rounded.
pub(super) fn air_factor(insulation: Celsius, air: Celsius, table: Celsius) -> f64 {
    let left = (insulation - air).0.max(0.0);
    let whole = (insulation - table).0;
    if air <= table { 1.0 } else { (left / whole.max(f64::MIN_POSITIVE)).sqrt().min(1.0) }
}

/// Share of the ampacity that is left to each of so many loaded conductors side by side, and the range it holds for:
/// 33 CFR 183.425 table 5 note 2, from memory. The regulation asks for it from 50 V on; heat does not know the
/// voltage, so the profiles apply it always.
pub(super) const fn bundle_factor(loaded: u32) -> (f64, &'static str) {
    match loaded {
        0..=2 => (1.0, "1 or 2"),
        3 => (0.7, "3"),
        4..=6 => (0.6, "4 to 6"),
        7..=24 => (0.5, "7 to 24"),
        25.. => (0.4, "25 or more"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_credit_for_cool_air_and_nothing_left_in_hot_air() {
        assert_eq!(air_factor(Celsius(60.0), Celsius(-20.0), TABLE_AIR), 1.0);
        assert_eq!(air_factor(Celsius(60.0), Celsius(60.0), TABLE_AIR), 0.0);
        assert_eq!(air_factor(Celsius(60.0), Celsius(85.0), TABLE_AIR), 0.0);
        assert_eq!(air_factor(Celsius(60.0), Celsius(70.0), Celsius(65.0)), 0.0);
    }
}
