//! The profile `boat`: the United States' regulation for the wiring of pleasure boats, and careful figures for the thin
//! wires that it does not list.

use std::borrow::Cow;

use wattle_grammar::quantity::{Amps, Celsius, Metres, Volts};

use super::{
    Ampacity, Basis, Conductor, DeviceLimit, Profile,
    handbook::{CONTINUOUS_AIR, DEVICE_AIR, table_air},
    surroundings::TABLE_AIR,
    working::{Row, Working, gauge_name, row_for, row_name},
};
use crate::physics::{conductor::awg_area, standard_fuse};

/// The profile.
pub(super) static PROFILE: Profile = Profile {
    word: "boat",
    name: Cow::Borrowed("boat wiring"),
    source: Cow::Borrowed(
        "33 CFR 183.425 table 5 and 183.455 for 18 AWG and thicker; thinner sizes, which it does not list, by FAA AC \
             43.13-1B tables 11-3 (22 and 20 AWG) and 11-9 (24 AWG) and a student robot contest's rule (26 AWG)",
    ),
    default_insulation: Celsius(60.0),
    bare_distance: Metres(0.1778),
    sheathed_distance: Metres(1.016),
    distance_source: Cow::Borrowed("33 CFR 183.455(b): 7 in, or 40 in sheathed or enclosed"),
    basis: Basis::Boat,
};

/// Insulation temperatures that the columns of table 5 are for.
const COLUMNS: [f64; 7] = [60.0, 75.0, 80.0, 90.0, 105.0, 125.0, 200.0];

/// 33 CFR 183.425 table 5: ampere by [`COLUMNS`], thinnest first; stranded copper, 30 °C.
const TABLE_5: &[Row<[f64; 7]>] = &[
    (18, [10.0, 10.0, 15.0, 20.0, 20.0, 25.0, 25.0]),
    (16, [15.0, 15.0, 20.0, 25.0, 25.0, 30.0, 35.0]),
    (14, [20.0, 20.0, 25.0, 30.0, 35.0, 40.0, 45.0]),
    (12, [25.0, 25.0, 35.0, 40.0, 45.0, 50.0, 55.0]),
    (10, [40.0, 40.0, 50.0, 55.0, 60.0, 70.0, 70.0]),
    (8, [55.0, 65.0, 70.0, 70.0, 80.0, 90.0, 100.0]),
    (6, [80.0, 95.0, 100.0, 100.0, 120.0, 125.0, 135.0]),
    (4, [105.0, 125.0, 130.0, 135.0, 160.0, 170.0, 180.0]),
    (3, [120.0, 145.0, 150.0, 155.0, 180.0, 195.0, 210.0]),
    (2, [140.0, 170.0, 175.0, 180.0, 210.0, 225.0, 240.0]),
    (1, [165.0, 195.0, 210.0, 210.0, 245.0, 265.0, 280.0]),
    (0, [195.0, 230.0, 245.0, 245.0, 285.0, 305.0, 325.0]),
    (-1, [225.0, 265.0, 285.0, 285.0, 330.0, 355.0, 370.0]),
    (-2, [260.0, 310.0, 330.0, 330.0, 385.0, 410.0, 430.0]),
    (-3, [300.0, 360.0, 385.0, 385.0, 445.0, 475.0, 510.0]),
];

/// A size that table 5 does not list.
#[derive(Clone, Copy, Debug)]
struct Thin {
    amps: Amps,
    source: &'static str,
    /// The air temperature its figure is for, with insulation that stands well above it. The contest's rule names none.
    air: Celsius,
}

/// Sizes below table 5, thinnest first. Their figures are for bundles already.
const THIN: &[Row<Thin>] = &[
    (26, Thin { amps: Amps(1.0), source: "a student robot contest's rule", air: DEVICE_AIR }),
    (24, Thin { amps: Amps(2.5), source: "FAA AC 43.13-1B table 11-9, 105 °C column", air: CONTINUOUS_AIR }),
    (22, Thin { amps: Amps(5.0), source: "FAA AC 43.13-1B table 11-3, breaker column", air: DEVICE_AIR }),
    (20, Thin { amps: Amps(7.5), source: "FAA AC 43.13-1B table 11-3, breaker column", air: DEVICE_AIR }),
];

/// What a thin conductor may rise over the air at its figure; alone in still air it rises less, see the test. In a bundle
/// it rises more, there the thinnest listed size bounds it.
const THIN_RISE: Celsius = Celsius(20.0);

/// The thinnest size of table 5.
const THINNEST_LISTED: i32 = 18;

/// Below this voltage 33 CFR 183.455(c)(1) holds, from it on (c)(2).
const VOLTAGE_STEP: Volts = Volts(50.0);

/// A device may exceed the table by this, 33 CFR 183.455(c).
const OVERSIZE: f64 = 1.5;

pub(super) fn ampacity(conductor: &Conductor) -> Option<Ampacity> {
    listed(conductor).or_else(|| thin(conductor))
}

/// Table 5 with its notes; `None` for sizes and insulation it does not list.
fn listed(conductor: &Conductor) -> Option<Ampacity> {
    let (gauge, row) = row_for(TABLE_5, conductor.area)?;
    let at = COLUMNS.iter().rposition(|column| *column <= conductor.insulation.0)?;
    let (column, amps) = (Celsius(*COLUMNS.get(at)?), Amps(*row.get(at)?));
    let name = row_name(gauge, conductor);
    Some(
        Working::new(amps, format!("33 CFR 183.425 table 5, {name}, {column} column"))
            .in_bundle(conductor.bundle)
            .in_air(column, conductor.ambient, TABLE_AIR)
            .finish(),
    )
}

/// Sizes below table 5: their own source, and never more than the thinnest listed size in the same surroundings.
fn thin(conductor: &Conductor) -> Option<Ampacity> {
    let (gauge, row) = row_for(THIN, conductor.area)?;
    let insulation = conductor.insulation;
    let bound = listed(&Conductor { area: awg_area(THINNEST_LISTED), ..*conductor })?;
    let own = Working::new(row.amps, format!("{}, {}", row.source, row_name(gauge, conductor)))
        .in_air(insulation, conductor.ambient, table_air(insulation, row.air, THIN_RISE))
        .finish();
    if own.amps <= bound.amps {
        return Some(own);
    }
    let basis = format!("not more than {} carries here: {}", gauge_name(THINNEST_LISTED), bound.basis);
    Some(Ampacity { amps: bound.amps, basis })
}

pub(super) fn device_limit(conductor: &Conductor, system: Volts) -> Option<DeviceLimit> {
    match listed(conductor) {
        Some(ampacity) => Some(by_regulation(ampacity, system)),
        None => thin(conductor).map(|ampacity| DeviceLimit {
            preferred: ampacity.amps,
            allowed: ampacity.amps,
            basis: format!(
                "{}; the device opens before the wire's rating (AC 43.13-1B 11-48)",
                ampacity.basis
            ),
        }),
    }
}

/// 33 CFR 183.455(c): up to 150 % below 50 V; from 50 V on only the next standard rating, if it is within 150 %.
fn by_regulation(ampacity: Ampacity, system: Volts) -> DeviceLimit {
    let preferred = ampacity.amps;
    let most = preferred * OVERSIZE;
    let (allowed, rule) = if system < VOLTAGE_STEP {
        (most, "33 CFR 183.455(c)(1) allows 150 % below 50 V")
    } else {
        let next = standard_fuse::smallest_from(preferred).filter(|rating| *rating <= most);
        (
            next.unwrap_or(preferred).max(preferred),
            "33 CFR 183.455(c)(2) allows the next standard rating within 150 % at 50 V or more",
        )
    };
    DeviceLimit { preferred, allowed, basis: format!("{}; {rule}", ampacity.basis) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::physics::heat::{Cable, steady_temperature};

    fn conductor(gauge: i32) -> Conductor {
        Conductor { area: awg_area(gauge), insulation: Celsius(60.0), ambient: Celsius(30.0), bundle: 1 }
    }

    #[test]
    fn thin_sizes_take_their_own_sources() {
        // FAA AC 43.13-1B tables 11-3 and 11-9 (seen); 26 AWG: a student robot contest's rule (seen).
        for (gauge, amps, source) in
            [(20, 7.5, "11-3"), (22, 5.0, "11-3"), (24, 2.5, "11-9"), (26, 1.0, "contest")]
        {
            let found = ampacity(&conductor(gauge)).unwrap();
            assert_eq!(found.amps, Amps(amps), "{gauge}");
            assert!(found.basis.contains(source), "{}", found.basis);
        }
        assert_eq!(ampacity(&conductor(28)), None);
    }

    #[test]
    fn thin_sizes_keep_their_figure_in_a_bundle_but_never_beat_18_awg() {
        let bundled = |gauge, bundle| ampacity(&Conductor { bundle, ..conductor(gauge) }).unwrap();
        assert_eq!(bundled(22, 6).amps, Amps(5.0));
        assert_eq!(bundled(20, 6).amps, bundled(18, 6).amps);
        assert!(bundled(20, 6).basis.contains("18 AWG"));
    }

    #[test]
    fn thin_sizes_lose_in_air_above_their_tables() {
        let at = |class, air| {
            let wire = Conductor { insulation: Celsius(class), ambient: Celsius(air), ..conductor(22) };
            ampacity(&wire).unwrap().amps.0
        };
        assert_eq!(at(105.0, 57.0), 5.0);
        assert!((at(105.0, 69.0) - 5.0 * (36.0_f64 / 48.0).sqrt()).abs() < 1e-12);
        assert_eq!(at(60.0, 40.0), 5.0);
        assert!((at(60.0, 45.0) - 5.0 * (15.0_f64 / 20.0).sqrt()).abs() < 1e-12);
        assert_eq!(at(60.0, 60.0), 0.0);
    }

    #[test]
    fn thin_figures_heat_cool_insulation_no_more_than_it_stands() {
        for &(gauge, row) in THIN {
            let wire = Cable::thin_walled(awg_area(gauge));
            let settled = steady_temperature(wire, row.amps, Celsius(40.0)).unwrap();
            assert!(settled <= Celsius(40.0) + THIN_RISE, "{gauge} {settled:?}");
        }
    }

    #[test]
    fn the_sentence_names_table_column_and_factors() {
        let wire = Conductor { bundle: 5, ambient: Celsius(45.0), ..conductor(14) };
        let found = ampacity(&wire).unwrap();
        for part in
            ["33 CFR 183.425 table 5", "14 AWG", "60 °C column", "× 0.60", "4 to 6", "any voltage", "× 0.71"]
        {
            assert!(found.basis.contains(part), "no `{part}` in `{}`", found.basis);
        }
    }

    #[test]
    fn insulation_below_the_first_column_is_not_covered() {
        assert_eq!(ampacity(&Conductor { insulation: Celsius(50.0), ..conductor(14) }), None);
        assert_eq!(ampacity(&Conductor { insulation: Celsius(50.0), ..conductor(22) }), None);
    }

    #[test]
    fn a_thin_wire_gets_no_oversize_device() {
        let limit = device_limit(&conductor(22), Volts(12.0)).unwrap();
        assert_eq!((limit.preferred, limit.allowed), (Amps(5.0), Amps(5.0)));
    }
}
