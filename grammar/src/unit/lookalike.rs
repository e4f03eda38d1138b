//! Units that are written for one another because their symbols nearly are the same: `Ah` for `A`, `mm` for `mm²`.

use super::{UnitSymbol, by_spelling};

/// Pairs of symbols of different dimensions; each may stand where the other was meant.
const PAIRS: &[(&str, &str)] = &[
    ("mAh", "mA"),
    ("Ah", "A"),
    ("mWh", "mW"),
    ("Wh", "W"),
    ("kWh", "kW"),
    ("mm", "mm²"),
    ("C", "°C"),
    ("K", "°C"),
    ("K", "kΩ"),
    ("S", "s"),
    ("H", "h"),
    ("mΩ/m", "mΩ"),
    ("Ω/m", "Ω"),
    ("rpm", "rpm/V"),
];

/// The units that were perhaps meant where the unit with this symbol does not fit, the likeliest first.
pub fn lookalikes(symbol: &str) -> impl Iterator<Item = &'static UnitSymbol> {
    let other = move |(one, other): &(&'static str, &'static str)| match symbol {
        found if found == *one => Some(*other),
        found if found == *other => Some(*one),
        _ => None,
    };
    PAIRS.iter().filter_map(other).filter_map(by_spelling)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_pair_is_of_known_units_that_measure_different_things() {
        for (one, other) in PAIRS {
            let (one, other) = (by_spelling(one).unwrap(), by_spelling(other).unwrap());
            assert_ne!(one.dimension, other.dimension, "{} {}", one.symbol, other.symbol);
        }
    }

    #[test]
    fn each_of_a_pair_finds_the_other() {
        let found = |symbol| lookalikes(symbol).map(|unit| unit.symbol).collect::<Vec<_>>();
        assert_eq!(found("Ah"), ["A"]);
        assert_eq!(found("A"), ["Ah"]);
        assert_eq!(found("K"), ["°C", "kΩ"]);
        assert_eq!(found("V"), [""; 0]);
    }
}
