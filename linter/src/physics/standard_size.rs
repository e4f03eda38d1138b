//! Standard conductor sizes by name, so that a mend can name a size in the author's own system.

use wattle_grammar::quantity::SquareMm;

use super::conductor::awg_area;

/// Two sizes closer than this are one: a gauge's area is often written with two digits (`0.82 mm²` for 18 AWG).
pub(crate) const ROUNDING: f64 = 0.005;

/// A system of conductor sizes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum System {
    /// American wire gauge (ASTM B258); the sizes that are commonly sold.
    Awg,
    /// Square millimetres (IEC 60228 from 0.5 mm² on; catalogue sizes below).
    Metric,
}

/// A size that can be bought.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StandardSize {
    /// As it is written in a robot's text: `8 AWG`, `10 mm²`.
    pub name: &'static str,
    /// Copper area.
    pub area: SquareMm,
    /// The system it belongs to.
    pub system: System,
}

/// Gauges that are commonly sold, thinnest first.
const GAUGES: &[(&str, i32)] = &[
    ("30 AWG", 30),
    ("28 AWG", 28),
    ("26 AWG", 26),
    ("24 AWG", 24),
    ("22 AWG", 22),
    ("20 AWG", 20),
    ("18 AWG", 18),
    ("16 AWG", 16),
    ("14 AWG", 14),
    ("12 AWG", 12),
    ("10 AWG", 10),
    ("8 AWG", 8),
    ("6 AWG", 6),
    ("4 AWG", 4),
    ("2 AWG", 2),
    ("1 AWG", 1),
    ("1/0 AWG", 0),
    ("2/0 AWG", -1),
    ("3/0 AWG", -2),
    ("4/0 AWG", -3),
];

/// The sizes thicker than `area` in the author's own system, thinnest first: what a mend tries one after the other.
#[must_use]
pub fn above(area: SquareMm, awg: bool) -> Vec<StandardSize> {
    let mut sizes = System::of(awg).sizes();
    sizes.retain(|size| size.area.0 > area.0 * (1.0 + ROUNDING));
    sizes
}

/// Metric sizes, thinnest first: IEC 60228 from 0.5 mm² on, common catalogue sizes below.
const SQUARES: &[(&str, f64)] = &[
    ("0.08 mm²", 0.08),
    ("0.14 mm²", 0.14),
    ("0.25 mm²", 0.25),
    ("0.34 mm²", 0.34),
    ("0.5 mm²", 0.5),
    ("0.75 mm²", 0.75),
    ("1 mm²", 1.0),
    ("1.5 mm²", 1.5),
    ("2.5 mm²", 2.5),
    ("4 mm²", 4.0),
    ("6 mm²", 6.0),
    ("10 mm²", 10.0),
    ("16 mm²", 16.0),
    ("25 mm²", 25.0),
    ("35 mm²", 35.0),
    ("50 mm²", 50.0),
    ("70 mm²", 70.0),
    ("95 mm²", 95.0),
    ("120 mm²", 120.0),
];

impl System {
    /// The system of a size, by whether it was written as a gauge number.
    #[must_use]
    pub const fn of(awg: bool) -> Self {
        if awg { Self::Awg } else { Self::Metric }
    }

    /// Its sizes, thinnest first.
    #[must_use]
    pub fn sizes(self) -> Vec<StandardSize> {
        match self {
            Self::Awg => GAUGES
                .iter()
                .map(|&(name, number)| StandardSize { name, area: awg_area(number), system: self })
                .collect(),
            Self::Metric => SQUARES
                .iter()
                .map(|&(name, area)| StandardSize { name, area: SquareMm(area), system: self })
                .collect(),
        }
    }

    /// The thinnest size that is thicker than `area`.
    #[must_use]
    pub fn next_up(self, area: SquareMm) -> Option<StandardSize> {
        above(area, self == Self::Awg).into_iter().next()
    }

    /// The thinnest size with at least `area`.
    #[must_use]
    pub fn at_least(self, area: SquareMm) -> Option<StandardSize> {
        self.sizes().into_iter().find(|size| size.area.0 >= area.0 * (1.0 - ROUNDING))
    }

    /// The thickest size with at most `area`.
    #[must_use]
    pub fn at_most(self, area: SquareMm) -> Option<StandardSize> {
        self.sizes().into_iter().rev().find(|size| size.area.0 <= area.0 * (1.0 + ROUNDING))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn name(size: Option<StandardSize>) -> &'static str {
        size.map_or("none", |size| size.name)
    }

    #[test]
    fn neighbours_stay_in_the_system() {
        assert_eq!(name(System::Awg.next_up(awg_area(10))), "8 AWG");
        assert_eq!(name(System::Metric.next_up(SquareMm(6.0))), "10 mm²");
        assert_eq!(name(System::Awg.next_up(SquareMm(0.82))), "16 AWG");
        assert_eq!(name(System::Awg.at_least(SquareMm(0.82))), "18 AWG");
        assert_eq!(name(System::Awg.at_most(SquareMm(2.5))), "14 AWG");
        assert_eq!(name(System::Metric.at_least(awg_area(10))), "6 mm²");
    }

    #[test]
    fn the_ends_of_the_lists_are_ends() {
        assert_eq!(System::Awg.next_up(awg_area(-3)), None);
        assert_eq!(System::Metric.at_least(SquareMm(200.0)), None);
        assert_eq!(System::Metric.at_most(SquareMm(0.01)), None);
    }

    #[test]
    fn sizes_grow() {
        for system in [System::Awg, System::Metric] {
            assert!(system.sizes().is_sorted_by(|one, next| one.area < next.area), "{system:?}");
        }
    }
}
