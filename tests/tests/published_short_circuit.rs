//! What a conductor stands and when a fuse opens, against IEC 60364-4-43, ICEA P-32-382 and fuse data.

use wattle_grammar::quantity::{Amps, Celsius, Seconds, SquareMm};
use wattle_linter::physics::{
    adiabatic::{class_factor, factor, withstand_time},
    evidence::Evidence,
    fuse::{Style, cold_resistance},
    unit::AdiabaticK,
};
use wattle_tests::table::{Table, near};

type Outcome = Result<(), String>;

/// IEC 60364-4-43 table 43A and IEC 60364-5-54 (seen in a transcription): whole numbers, so half a unit and the last
/// digit of 226; and the same equation computed, with two decimals.
#[test]
fn factors_of_the_standard() -> Outcome {
    let table = Table::published("adiabatic_k.csv")?;
    assert_eq!(table.rows.len(), 8);
    for row in &table.rows {
        let k = factor(Celsius(row.number("initial_c")?), Celsius(row.number("final_c")?)).0;
        assert!((k - row.number("k_copper_published")?).abs() <= 0.55, "{row:?} {k}");
        assert!((k - row.number("k_copper_computed")?).abs() <= 0.05, "{row:?} {k}");
    }
    Ok(())
}

/// A class's factor is that of the standard's row for the weakest insulation of the class: 115 at 70 °C, 100 at 90 °C
/// (thermoplastic, seen).
#[test]
fn a_class_is_judged_by_its_weakest_insulation() {
    assert!((class_factor(Celsius(70.0)).0 - 115.0).abs() <= 0.55);
    assert!((class_factor(Celsius(90.0)).0 - 100.0).abs() <= 0.55);
    assert!(class_factor(Celsius(200.0)).0 < 132.0, "not above silicone rubber's 132 from 180 to 350 °C");
}

/// `t = (k S / I)²`, computed to four digits.
#[test]
fn withstand_times() -> Outcome {
    for row in Table::published("adiabatic_examples.csv")?.rows {
        let k = AdiabaticK(row.number("k")?);
        let time = withstand_time(k, SquareMm(row.number("mm2")?), Amps(row.number("ampere")?));
        assert!(near(time.0, row.number("seconds")?, 5e-4), "{row:?} {time:?}");
    }
    Ok(())
}

/// ICEA P-32-382 (formula seen) has 224.1 for 226 and 234 for 234.5: 1 % apart.
#[test]
fn the_american_equation_agrees() -> Outcome {
    for row in Table::published("icea_p32_382.csv")?.rows {
        let area = SquareMm(row.number("cmil")? * 5.067_07e-4);
        let k = factor(Celsius(row.number("initial_c")?), Celsius(row.number("final_c")?));
        let time = withstand_time(k, area, Amps(row.number("ampere")?));
        assert!(near(time.0, row.number("seconds")?, 0.02), "{row:?} {time:?}");
    }
    Ok(())
}

/// ISO 8820-3 limits at their own multiples: 110 and 135 % seen, the others from memory. Both blade sizes.
#[test]
fn blade_fuses_open_within_their_limits() -> Outcome {
    for word in ["blade", "mini-blade"] {
        let style = Style::by_word(word, None).ok_or(word)?;
        for row in Table::published("blade_fuse_time_current.csv")?.rows {
            let opening = style.opening(Amps(100.0), Amps(row.number("percent")?)).ok_or("no opening")?;
            assert!(near(opening.earliest.0, row.number("min_s")?, 1e-12), "{row:?} {opening:?}");
            assert_eq!(opening.latest, row.maybe("max_s")?.map(Seconds), "{row:?}");
            assert_eq!(opening.evidence == Evidence::Seen, row.text("flag")? == "seen", "{row:?}");
        }
    }
    Ok(())
}

/// Bolt-down fuses, from memory: at their own multiples no wider than the rows, within the rows' own rounding (2 %).
#[test]
fn bolt_down_fuses_open_within_their_limits() -> Outcome {
    let style = Style::by_word("bolt-down", None).ok_or("no style")?;
    for row in Table::published("bolt_down_fuse_time_current.csv")?.rows {
        let opening = style.opening(Amps(100.0), Amps(row.number("percent")?)).ok_or("no opening")?;
        assert_eq!(opening.earliest, Seconds(row.number("min_s")?), "{row:?}");
        match (opening.latest, row.maybe("max_s")?) {
            (Some(latest), Some(published)) => {
                assert!(near(latest.0, published, 0.021), "{row:?} {latest:?}")
            }
            (latest, published) => assert_eq!(latest.map(|time| time.0), published, "{row:?}"),
        }
        assert_eq!(opening.evidence, Evidence::Memory);
    }
    Ok(())
}

/// IEC 60127-2 cartridge fuses, from memory: at their own multiples the rows' times bound ours.
#[test]
fn cartridge_fuses_open_within_their_limits() -> Outcome {
    let table = Table::published("cartridge_fuse_time_current.csv")?;
    let mut compared = 0;
    for row in &table.rows {
        let speed = match row.text("standard")? {
            name if name.contains("sheet 2") => "fast",
            name if name.contains("sheet 3") => "slow",
            _ => continue,
        };
        let style = Style::by_word("cartridge", Some(speed)).ok_or("no style")?;
        let opening = style.opening(Amps(1.0), Amps(row.number("percent")? / 100.0)).ok_or("no opening")?;
        if let Some(earliest) = row.maybe("min_s")? {
            assert!(near(opening.earliest.0, earliest, 1e-12), "{row:?} {opening:?}");
        }
        assert_eq!(opening.latest.map(|time| time.0), row.maybe("max_s")?, "{row:?}");
        compared += 1;
    }
    assert_eq!(compared, 9);
    Ok(())
}

/// Cold resistance of blade fuses, makers' data sheets (seen).
#[test]
fn cold_fuses_have_the_resistance_of_their_data_sheets() -> Outcome {
    for row in Table::published("blade_fuse_electrical.csv")?.rows {
        let ohms = cold_resistance(Amps(row.number("rating_a")?)).ok_or("no resistance")?;
        assert!(near(ohms.0 * 1e3, row.number("cold_mohm")?, 1e-9), "{row:?} {ohms:?}");
    }
    Ok(())
}
