//! Ratings that fuses are sold in, so that a mend names one that exists.

use wattle_grammar::quantity::Amps;

/// Blade fuses (ISO 8820-3): the ratings that are commonly sold.
pub const BLADE: &[Amps] = &[
    Amps(1.0),
    Amps(2.0),
    Amps(3.0),
    Amps(4.0),
    Amps(5.0),
    Amps(7.5),
    Amps(10.0),
    Amps(15.0),
    Amps(20.0),
    Amps(25.0),
    Amps(30.0),
    Amps(35.0),
    Amps(40.0),
];

/// Bolt-down, strip and class T fuses: the ratings that are commonly sold (common practice).
pub const BOLT_DOWN: &[Amps] = &[
    Amps(30.0),
    Amps(40.0),
    Amps(50.0),
    Amps(60.0),
    Amps(70.0),
    Amps(80.0),
    Amps(100.0),
    Amps(125.0),
    Amps(150.0),
    Amps(175.0),
    Amps(200.0),
    Amps(225.0),
    Amps(250.0),
    Amps(300.0),
    Amps(350.0),
    Amps(400.0),
    Amps(450.0),
    Amps(500.0),
];

/// Cartridge fuses (IEC 60127: the R10 series), ratings from 0.1 A up.
pub const CARTRIDGE: &[Amps] = &[
    Amps(0.1),
    Amps(0.125),
    Amps(0.16),
    Amps(0.2),
    Amps(0.25),
    Amps(0.315),
    Amps(0.4),
    Amps(0.5),
    Amps(0.63),
    Amps(0.8),
    Amps(1.0),
    Amps(1.25),
    Amps(1.6),
    Amps(2.0),
    Amps(2.5),
    Amps(3.15),
    Amps(4.0),
    Amps(5.0),
    Amps(6.3),
    Amps(8.0),
    Amps(10.0),
];

/// The ratings of a fuse style by its word; of an unknown one the blade ratings.
#[must_use]
pub fn ratings(style: &str) -> &'static [Amps] {
    match style {
        "cartridge" => CARTRIDGE,
        "bolt-down" | "strip" | "class-t" => BOLT_DOWN,
        _ => BLADE,
    }
}

/// The largest of some ratings that is at most `limit`.
#[must_use]
pub fn largest_of(ratings: &[Amps], limit: Amps) -> Option<Amps> {
    ratings.iter().rev().copied().find(|rating| *rating <= limit)
}

/// The smallest of some ratings that is at least `need`.
#[must_use]
pub fn smallest_of(ratings: &[Amps], need: Amps) -> Option<Amps> {
    ratings.iter().copied().find(|rating| *rating >= need)
}

/// The largest rating of any blade or bolt-down fuse that is at most `limit`.
#[must_use]
pub fn largest_up_to(limit: Amps) -> Option<Amps> {
    let bolted = largest_of(BOLT_DOWN, limit);
    [largest_of(BLADE, limit), bolted].into_iter().flatten().reduce(Amps::max)
}

/// The smallest rating of any blade or bolt-down fuse that is at least `need`.
#[must_use]
pub fn smallest_from(need: Amps) -> Option<Amps> {
    smallest_of(BLADE, need).or_else(|| smallest_of(BOLT_DOWN, need))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lists_rise() {
        for list in [BLADE, BOLT_DOWN, CARTRIDGE] {
            assert!(list.is_sorted_by(|one, next| one < next));
        }
    }

    #[test]
    fn a_mend_names_a_rating_that_exists() {
        assert_eq!(largest_up_to(Amps(14.0)), Some(Amps(10.0)));
        assert_eq!(largest_up_to(Amps(38.0)), Some(Amps(35.0)));
        assert_eq!(largest_up_to(Amps(79.0)), Some(Amps(70.0)));
        assert_eq!(largest_up_to(Amps(0.5)), None);
        assert_eq!(smallest_from(Amps(15.0)), Some(Amps(15.0)));
        assert_eq!(smallest_from(Amps(41.0)), Some(Amps(50.0)));
        assert_eq!(smallest_from(Amps(501.0)), None);
        assert_eq!(smallest_of(ratings("cartridge"), Amps(2.2)), Some(Amps(2.5)));
        assert_eq!(largest_of(ratings("class-t"), Amps(20.0)), None);
    }
}
