//! The profile `boat`, against 33 CFR 183.425 table 5 and 183.455, and the correction factors of the electrical code.

use wattle_grammar::quantity::{Amps, Celsius, Volts};
use wattle_linter::{
    physics::conductor::awg_area,
    profile::{Conductor, DEFAULT},
};
use wattle_tests::table::{Table, entry, gauge, near, number, published_json};

type Outcome = Result<(), String>;

const CLASSES: [f64; 7] = [60.0, 75.0, 80.0, 90.0, 105.0, 125.0, 200.0];
const INCH: f64 = 0.0254;

fn conductor(number: i32, class: f64, air: f64, bundle: u32) -> Conductor {
    Conductor { area: awg_area(number), insulation: Celsius(class), ambient: Celsius(air), bundle }
}

fn amps(conductor: &Conductor) -> Result<f64, String> {
    DEFAULT.ampacity(conductor).map(|found| found.amps.0).ok_or_else(|| format!("not covered: {conductor:?}"))
}

/// 33 CFR 183.425 table 5 (seen): every cell, exactly.
#[test]
fn every_cell_of_table_5() -> Outcome {
    let table = Table::published("cfr183_425_table5.csv")?;
    assert_eq!(table.rows.len(), 15);
    for row in &table.rows {
        let name = row.text("awg")?;
        for class in CLASSES {
            let published = row.number(&format!("a_{class}C"))?;
            assert_eq!(amps(&conductor(gauge(name)?, class, 30.0, 1))?, published, "{name} {class}");
        }
    }
    Ok(())
}

/// 33 CFR 183.425 table 5 note 1 (from memory): factors in engine spaces at 50 °C, two digits. At 200 °C the note takes
/// nothing off; the root takes 6 %, which is the careful side.
#[test]
fn engine_spaces_take_what_note_1_takes() -> Outcome {
    let notes = Table::published("cfr183_425_notes.csv")?;
    for class in CLASSES {
        let row = notes.with("key", &format!("{class}C")).next().ok_or("no row")?;
        let share = amps(&conductor(10, class, 50.0, 1))? / amps(&conductor(10, class, 30.0, 1))?;
        let published = row.number("factor")?;
        let agrees =
            (share - published).abs() <= 0.011 || (class == 200.0 && share < published && share > 0.93);
        assert!(agrees, "{class} {share} {published}");
    }
    Ok(())
}

/// 33 CFR 183.425 table 5 note 2 (from memory): factors in bundles.
#[test]
fn bundles_take_what_note_2_takes() -> Outcome {
    let notes = Table::published("cfr183_425_notes.csv")?;
    let ranges = [("3 conductors", 3, 3), ("4-6", 4, 6), ("7-24", 7, 24), ("25 and over", 25, 60)];
    for (key, first, last) in ranges {
        let factor = notes.with("key", key).next().ok_or(key)?.number("factor")?;
        for bundle in [first, last] {
            let found = amps(&conductor(12, 105.0, 30.0, bundle))?;
            assert!(near(found, 45.0 * factor, 1e-12), "{key} {found}");
        }
    }
    assert_eq!(amps(&conductor(12, 105.0, 30.0, 2))?, 45.0);
    Ok(())
}

/// NFPA 70 ambient corrections (seen), within 0.011 at the upper end of each range; for air below 30 °C the code gives
/// credit, the profile none.
#[test]
fn warm_air_takes_what_the_electrical_code_takes() -> Outcome {
    for row in Table::published("nec_temperature_correction.csv")?.rows {
        let range = row.text("ambient_c")?;
        let upper = range.rsplit(['-', ' ']).next().and_then(|text| text.parse::<f64>().ok()).unwrap_or(10.0);
        for class in [60.0, 75.0, 90.0] {
            let Some(published) = row.maybe(&format!("f_{class}C"))? else { continue };
            let share = amps(&conductor(10, class, upper, 1))? / amps(&conductor(10, class, 30.0, 1))?;
            let agrees = if upper > 30.0 { (share - published).abs() <= 0.011 } else { share == 1.0 };
            assert!(agrees, "{range} {class}: {share}, published {published}");
        }
    }
    Ok(())
}

/// 33 CFR 183.455(c)(1) (seen): below 50 V up to 150 % of table 5.
#[test]
fn below_50_volts_a_device_may_be_half_again_the_table() -> Outcome {
    let rules = published_json("cfr183_rules.json")?;
    let factor = number(entry(&rules["rules"], "section", "183.455(c)(1)")?, "factor")?;
    for row in Table::published("cfr183_425_table5.csv")?.rows {
        let wire = conductor(gauge(row.text("awg")?)?, 60.0, 30.0, 1);
        let limit = DEFAULT.device_limit(&wire, Volts(49.9)).ok_or("not covered")?;
        let listed = row.number("a_60C")?;
        assert_eq!((limit.preferred, limit.allowed), (Amps(listed), Amps(listed * factor)));
    }
    Ok(())
}

/// 33 CFR 183.455(c)(2) (seen): from 50 V on the next standard rating, if within 150 %. Standard ratings here are the
/// blade and bolt-down ratings that are sold: 105 A of 4 AWG takes 125 A, 40 A of 10 AWG is a rating itself.
#[test]
fn from_50_volts_only_the_next_standard_rating() -> Outcome {
    for (number, allowed) in [(4, 125.0), (10, 40.0), (8, 60.0), (2, 150.0), (18, 10.0)] {
        let limit =
            DEFAULT.device_limit(&conductor(number, 60.0, 30.0, 1), Volts(50.0)).ok_or("not covered")?;
        assert_eq!(limit.allowed, Amps(allowed), "{number}");
    }
    // 25 A in air of 59 °C leaves 4.56 A; the next rating is 5 A. At 59.9 °C 1.44 A is left: 2 A is within 150 %.
    let hot =
        |air| DEFAULT.device_limit(&conductor(12, 60.0, air, 1), Volts(58.8)).map(|limit| limit.allowed);
    assert_eq!(hot(59.0), Some(Amps(5.0)));
    assert_eq!(hot(59.9), Some(Amps(2.0)));
    Ok(())
}

/// 33 CFR 183.455(b) (seen): 7 inches, or 40 inches sheathed or enclosed.
#[test]
fn distances_from_the_source() -> Outcome {
    let rules = published_json("cfr183_rules.json")?;
    let inches = &entry(&rules["rules"], "section", "183.455(b)")?["inches"];
    for (index, distance) in [DEFAULT.bare_distance, DEFAULT.sheathed_distance].into_iter().enumerate() {
        let published = inches[index].as_f64().ok_or("no inches")? * INCH;
        assert!(near(distance.0, published, 1e-12), "{distance:?}");
    }
    Ok(())
}

/// FAA AC 43.13-1B table 11-3, breaker column (seen), for the two sizes that table 5 does not list.
#[test]
fn thin_wires_by_the_aircraft_handbook() -> Outcome {
    let table = Table::published("ac4313_table11_3.csv")?;
    for number in [20, 22] {
        let row = table.with("an_gauge", &number.to_string()).next().ok_or("no row")?;
        assert_eq!(amps(&conductor(number, 60.0, 30.0, 1))?, row.number("breaker_a")?);
        assert_eq!(amps(&conductor(number, 105.0, 57.0, 1))?, row.number("breaker_a")?);
    }
    let continuous = Table::published("ac4313_table11_9.csv")?;
    let row = continuous.with("awg", "24").next().ok_or("no row")?;
    assert_eq!(amps(&conductor(24, 105.0, 70.0, 1))?, row.number("a_105C")?);
    Ok(())
}
