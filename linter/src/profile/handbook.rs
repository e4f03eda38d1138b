//! Tables 11-3 and 11-9 of the aircraft handbook FAA AC 43.13-1B, as two profiles use them.

use wattle_grammar::quantity::{Amps, Celsius};

use super::working::Row;

/// The protective devices of a row of table 11-3.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Device {
    /// Largest circuit breaker; the table has none for the thickest sizes.
    pub breaker: Option<Amps>,
    /// Largest fuse.
    pub fuse: Amps,
}

const fn device(breaker: f64, fuse: f64) -> Device {
    Device { breaker: Some(Amps(breaker)), fuse: Amps(fuse) }
}

/// Table 11-3, p. 11-15 (1998): wire and circuit protector chart, thinnest first.
pub(super) const DEVICES: &[Row<Device>] = &[
    (22, device(5.0, 5.0)),
    (20, device(7.5, 5.0)),
    (18, device(10.0, 10.0)),
    (16, device(15.0, 10.0)),
    (14, device(20.0, 15.0)),
    (12, device(30.0, 20.0)),
    (10, device(40.0, 30.0)),
    (8, device(50.0, 50.0)),
    (6, device(80.0, 70.0)),
    (4, device(100.0, 70.0)),
    (2, device(125.0, 100.0)),
    (1, Device { breaker: None, fuse: Amps(150.0) }),
    (0, Device { breaker: None, fuse: Amps(150.0) }),
];

/// The air temperature that table 11-3 is for: wires in bundles at 57 °C (from memory of its notes).
pub(super) const DEVICE_AIR: Celsius = Celsius(57.0);

/// Conductor temperatures that the columns of table 11-9 are for.
pub(super) const COLUMNS: [Celsius; 3] = [Celsius(105.0), Celsius(150.0), Celsius(200.0)];

/// Table 11-9, p. 11-23 (2001): continuous ampere in bundles, by [`COLUMNS`], thinnest first.
pub(super) const CONTINUOUS: &[Row<[f64; 3]>] = &[
    (24, [2.5, 4.0, 5.0]),
    (22, [3.0, 5.0, 6.0]),
    (20, [4.0, 7.0, 9.0]),
    (18, [6.0, 9.0, 12.0]),
    (16, [7.0, 11.0, 14.0]),
    (14, [10.0, 14.0, 18.0]),
    (12, [13.0, 19.0, 25.0]),
    (10, [17.0, 26.0, 32.0]),
    (8, [38.0, 57.0, 71.0]),
    (6, [50.0, 76.0, 97.0]),
    (4, [68.0, 103.0, 133.0]),
    (2, [95.0, 141.0, 179.0]),
    (1, [113.0, 166.0, 210.0]),
    (0, [128.0, 192.0, 243.0]),
    (-1, [147.0, 222.0, 285.0]),
    (-2, [172.0, 262.0, 335.0]),
    (-3, [204.0, 310.0, 395.0]),
];

/// The air temperature that table 11-9 is for (its note 1): 70 °C, 33 or more wires, at most 20 % of the harness's
/// capacity in use, 60 000 ft. No credit is taken for easier conditions.
pub(super) const CONTINUOUS_AIR: Celsius = Celsius(70.0);

/// The air temperature up to which a table's figure holds for an insulation: the table's own, but at least `rise` below
/// the insulation's class. Both tables are for wire whose insulation stands well above their air; `rise` is what the
/// conductor may rise over the air at the table's figure.
pub(super) fn table_air(insulation: Celsius, table: Celsius, rise: Celsius) -> Celsius {
    table.min(insulation - rise)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn cool_insulation_lowers_the_air_a_table_holds_for() {
        let rise = Celsius(30.0);
        assert_eq!(table_air(Celsius(60.0), DEVICE_AIR, rise), Celsius(30.0));
        assert_eq!(table_air(Celsius(105.0), DEVICE_AIR, rise), DEVICE_AIR);
        assert_eq!(table_air(Celsius(105.0), CONTINUOUS_AIR, rise), CONTINUOUS_AIR);
    }
}
