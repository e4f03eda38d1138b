//! Units as written and as printed: symbols, spellings, prefixes, and wire gauge numbers.
//!
//! Symbols are case-sensitive, as everywhere in the trade's standards: `mA` and `MA` are a factor of a thousand million
//! apart. Each unit lists the spellings it may be written with; the first is the one that the layout writes. Whatever
//! is not in the list is an error, and [`misspelt`] knows what was meant.

mod awg;
mod lookalike;
mod misspelt;
mod print;
mod table;
mod trap;

use std::sync::OnceLock;

use crate::quantity::{Dimension, Quantity};

pub use awg::{THICKEST_AWG, THINNEST_AWG, area_of_awg, awg_of_area, nearest_awg};
pub use lookalike::lookalikes;
pub use misspelt::{Misspelt, misspelt};
pub use print::{base_symbol, told_apart, write_scaled};
pub use table::ALL;
pub use trap::{Trap, trap};

/// A unit symbol.
#[derive(Debug, PartialEq)]
pub struct UnitSymbol {
    /// As the layout writes it, `mm²`.
    pub symbol: &'static str,
    /// What it measures.
    pub dimension: Dimension,
    /// How a number of this unit becomes one of the base unit.
    pub scale: Scale,
    /// Every accepted spelling; the first is `symbol`.
    pub spellings: &'static [&'static str],
    /// The unit in words, for hover and completion.
    pub name: &'static str,
}

/// How a number of a unit becomes a number of the dimension's base unit. Multiples and parts are kept apart so that
/// `350 mm` is exactly the double nearest to 0.35 m.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Scale {
    /// Base units in one of this unit.
    Times(f64),
    /// How many of this unit make one base unit.
    Part(f64),
    /// Base units in one of this unit as a fraction of two whole numbers.
    Fraction(f64, f64),
    /// An American wire gauge number.
    Awg,
}

impl UnitSymbol {
    /// `number` of this unit in the base unit of its dimension. Overflow gives infinity, which [`Self::quantity`] refuses.
    #[must_use]
    pub fn to_base(&self, number: f64) -> f64 {
        match self.scale {
            Scale::Times(factor) => number * factor,
            Scale::Part(parts) => number / parts,
            Scale::Fraction(top, bottom) => number * top / bottom,
            Scale::Awg => area_of_awg(number),
        }
    }

    /// A value in the base unit as a number of this unit; for AWG the gauge number, which need not be whole.
    #[must_use]
    pub fn from_base(&self, value: f64) -> f64 {
        match self.scale {
            Scale::Times(factor) => value / factor,
            Scale::Part(parts) => value * parts,
            Scale::Fraction(top, bottom) => value * bottom / top,
            Scale::Awg => awg_of_area(value),
        }
    }

    /// The quantity `number` of this unit; `None` when it is not finite.
    #[must_use]
    pub fn quantity(&self, number: f64) -> Option<Quantity> {
        let value = self.to_base(number);
        value.is_finite().then_some(Quantity { value, dimension: self.dimension, unit: self.symbol })
    }
}

/// The unit that is written `spelling`, exactly.
#[must_use]
pub fn by_spelling(spelling: &str) -> Option<&'static UnitSymbol> {
    let bucket = buckets().get(usize::from(*spelling.as_bytes().first()?))?;
    bucket.iter().find(|(known, _)| *known == spelling).map(|(_, unit)| *unit)
}

/// A spelling with its unit.
type Spelling = (&'static str, &'static UnitSymbol);

/// All spellings by their first byte, made once from the table: every number asks.
fn buckets() -> &'static [Vec<Spelling>] {
    static BUCKETS: OnceLock<Vec<Vec<Spelling>>> = OnceLock::new();
    BUCKETS.get_or_init(|| {
        let mut buckets = vec![Vec::new(); 256];
        for spelling in ALL.iter().flat_map(|unit| unit.spellings.iter().map(move |text| (*text, unit))) {
            let first = spelling.0.bytes().next().map(usize::from);
            if let Some(bucket) = first.and_then(|first| buckets.get_mut(first)) {
                bucket.push(spelling);
            }
        }
        buckets
    })
}

/// All spellings.
fn spellings() -> impl Iterator<Item = &'static Spelling> {
    buckets().iter().flatten()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn spellings_are_unambiguous_and_begin_with_the_symbol() {
        let mut all: Vec<&str> = spellings().map(|(text, _)| *text).collect();
        all.sort_unstable();
        assert!(all.windows(2).all(|pair| pair[0] != pair[1]), "two units share a spelling");
        for unit in ALL {
            assert_eq!(unit.spellings.first(), Some(&unit.symbol));
            assert_eq!(by_spelling(unit.symbol), Some(unit));
        }
    }

    #[test]
    fn written_numbers_become_the_nearest_double() {
        for (spelling, number, base) in [
            ("mm", 350.0, 0.35),
            ("mA", 12.3, 0.0123),
            ("kΩ", 4.7, 4700.0),
            ("mAh", 5000.0, 5.0),
            ("mm^2", 2.5, 2.5),
            ("in", 7.0, 0.1778),
            ("ft", 1.0, 0.3048),
            ("min", 90.0, 5400.0),
            ("%", 70.0, 0.7),
            ("mohm/m", 3.3, 0.0033),
            ("µF", 470.0, 0.00047),
        ] {
            assert_eq!(by_spelling(spelling).unwrap().to_base(number), base, "{number} {spelling}");
        }
    }

    #[test]
    fn a_unit_takes_back_what_it_gave() {
        for unit in ALL {
            let there_and_back = unit.from_base(unit.to_base(7.0));
            assert!((there_and_back - 7.0).abs() < 1e-12, "{}: {there_and_back}", unit.symbol);
        }
    }

    #[test]
    fn case_tells_units_apart() {
        assert_eq!(by_spelling("mΩ").unwrap().to_base(1.0), 0.001);
        assert_eq!(by_spelling("MΩ").unwrap().to_base(1.0), 1e6);
        for wrong in ["MA", "KΩ", "mah", "v", "a", "ma", "MM", "rpm/v"] {
            assert_eq!(by_spelling(wrong), None, "{wrong}");
        }
    }
}
