//! A figure in the making: the amperes and the sentence that says how they came about, kept together.

use wattle_grammar::quantity::{Amps, Celsius, SquareMm};

use super::{
    Ampacity, Conductor,
    surroundings::{air_factor, bundle_factor},
};
use crate::physics::{conductor::awg_area, standard_size::ROUNDING};

/// An ampacity with its sentence so far.
#[derive(Clone, Debug)]
pub(super) struct Working {
    amps: Amps,
    sentence: String,
}

impl Working {
    /// Starts from what a table or a formula gives.
    pub(super) fn new(amps: Amps, basis: String) -> Self {
        Self { amps, sentence: format!("{basis}: {amps}") }
    }

    /// Applies a factor and says what for; says nothing when it changes nothing.
    pub(super) fn times(self, factor: f64, why: impl FnOnce() -> String) -> Self {
        if factor == 1.0 {
            return self;
        }
        let why = why();
        Self { amps: self.amps * factor, sentence: format!("{}; × {factor:.2} {why}", self.sentence) }
    }

    /// Applies the factor for warm air.
    pub(super) fn in_air(self, insulation: Celsius, air: Celsius, table: Celsius) -> Self {
        let why = || format!("for air of {air}, √(({insulation} − {air}) / ({insulation} − {table}))");
        self.times(air_factor(insulation, air, table), why)
    }

    /// Applies the factor for loaded neighbours.
    pub(super) fn in_bundle(self, loaded: u32) -> Self {
        let (factor, range) = bundle_factor(loaded);
        let why = || {
            format!(
                "for {range} loaded conductors side by side (33 CFR 183.425 table 5 note 2, applied at any voltage)"
            )
        };
        self.times(factor, why)
    }

    /// The finished figure.
    pub(super) fn finish(self) -> Ampacity {
        Ampacity { amps: self.amps, basis: self.sentence }
    }
}

/// A row of a table by gauge: the gauge number as in [`awg_area`], and what the table has for it.
pub(super) type Row<T> = (i32, T);

/// The row for a conductor: the thickest listed gauge that is not thicker. `None` for one thinner than all.
/// The rows stand thinnest first.
pub(super) fn row_for<T: Copy>(rows: &[Row<T>], area: SquareMm) -> Option<Row<T>> {
    rows.iter().rev().copied().find(|&(gauge, _)| awg_area(gauge).0 <= area.0 * (1.0 + ROUNDING))
}

/// How a gauge number is written.
pub(super) fn gauge_name(gauge: i32) -> String {
    if gauge < 1 { format!("{}/0 AWG", 1 - gauge) } else { format!("{gauge} AWG") }
}

/// How the row is named in a sentence: the gauge, and for another size that it is taken as that gauge.
pub(super) fn row_name(gauge: i32, conductor: &Conductor) -> String {
    let same = (conductor.area.0 / awg_area(gauge).0 - 1.0).abs() <= ROUNDING;
    if same {
        gauge_name(gauge)
    } else {
        format!("{} (the next smaller size listed for {})", gauge_name(gauge), conductor.area)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_size_between_two_rows_takes_the_thinner() {
        let rows = [(18, 'a'), (16, 'b'), (0, 'c')];
        assert_eq!(row_for(&rows, SquareMm(1.0)), Some((18, 'a')));
        assert_eq!(row_for(&rows, SquareMm(0.82)), Some((18, 'a')));
        assert_eq!(row_for(&rows, SquareMm(0.81)), None);
        assert_eq!(row_for(&rows, SquareMm(200.0)), Some((0, 'c')));
    }

    #[test]
    fn gauges_are_written_as_the_trade_does() {
        assert_eq!(gauge_name(10), "10 AWG");
        assert_eq!(gauge_name(0), "1/0 AWG");
        assert_eq!(gauge_name(-3), "4/0 AWG");
    }
}
