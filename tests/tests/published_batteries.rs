//! Battery packs and runtimes, against published arithmetic and worked examples.

use serde_json::Value;
use wattle_grammar::{
    kind::chemistry,
    quantity::{AmpHours, Amps, CRate, Ohms, Seconds, Share, Volts},
};
use wattle_linter::physics::{
    battery::{ChargeVolts, charging_factor, charging_time, rate},
    runtime::{ideal, peukert, peukert_exponent, peukert_one_ampere},
};
use wattle_tests::table::{Row, Table, entry, near, number, published_json};

type Outcome = Result<(), String>;

const HOUR: f64 = 3600.0;

fn volts(row: &Row) -> Result<ChargeVolts, String> {
    Ok(ChargeVolts {
        full: Volts(row.number("full_v")?),
        nominal: Volts(row.number("nominal_v")?),
        empty: Volts(row.number("empty_v")?),
    })
}

/// Lithium polymer packs of 2, 3 and 4 cells (seen), of 6 (computed), from one cell of the
/// language's own table.
#[test]
fn packs_have_the_voltages_of_their_cells() -> Outcome {
    let table = Table::published("battery_pack_arithmetic.csv")?;
    let lipo = chemistry::by_word("lipo").ok_or("no chemistry `lipo`")?;
    let cell = ChargeVolts { full: lipo.full, nominal: lipo.nominal, empty: lipo.empty };
    for row in &table.rows {
        let cells = row.text("pack")?.trim_end_matches('S').parse().map_err(|_| "no count")?;
        let (found, published) = (cell.in_series(cells), volts(row)?);
        for (ours, theirs) in
            [(found.full, published.full), (found.nominal, published.nominal), (found.empty, published.empty)]
        {
            assert!(near(ours.0, theirs.0, 1e-12), "{row:?} {found:?}");
        }
    }
    Ok(())
}

fn examples() -> Result<Value, String> {
    Ok(published_json("battery_runtime_examples.json")?["examples"].clone())
}

/// Lessons In Electric Circuits ch. 11 and OpenStax University Physics vol. 2 ch. 10 (seen): ideal batteries.
#[test]
fn ideal_runtimes() -> Outcome {
    let examples = examples()?;
    for id in ["ideal-auto", "ideal-auto-70A", "ideal-auto-1mA", "charge", "AAA-series", "AAA-parallel"] {
        let example = entry(&examples, "id", id)?;
        let capacity = AmpHours(number(example, "capacity_ah")?);
        let current = match (number(example, "volt"), number(example, "load_ohm")) {
            (Ok(volts), Ok(ohms)) => Volts(volts) / Ohms(ohms),
            _ => Amps(number(example, "ampere").or_else(|_| number(example, "charge_ampere"))?),
        };
        let time = ideal(capacity, Share(1.0), current);
        assert!(near(time.0 / HOUR, number(example, "hours")?, 1e-9), "{id} {time:?}");
    }
    Ok(())
}

/// Peukert's law from the capacity at 1 A: the page (seen) prints 14.5 h for 14.496 h.
#[test]
fn peukert_by_the_capacity_at_one_ampere() -> Outcome {
    let examples = examples()?;
    let example = entry(&examples, "id", "peukert-one-hour-form")?;
    let (capacity, exponent) = (AmpHours(number(example, "cp")?), number(example, "k")?);
    let hours = peukert_one_ampere(capacity, exponent, Amps(number(example, "ampere")?)).0 / HOUR;
    assert!((hours - number(example, "hours")?).abs() < 0.05, "{hours}");
    assert!((hours - number(example, "computed")?).abs() < 5e-4, "{hours}");
    Ok(())
}

/// Peukert's law from a rated capacity (formula seen, values computed to five digits), and the rated load's identity.
#[test]
fn peukert_by_the_rated_capacity() -> Outcome {
    let examples = examples()?;
    for id in ["peukert-rated-form-10A", "peukert-rated-form-20A", "peukert-rated-form-5A"] {
        let example = entry(&examples, "id", id)?;
        let rated = Seconds(number(example, "rated_hours")? * HOUR);
        let capacity = AmpHours(number(example, "capacity_ah")?);
        let time = peukert(capacity, rated, number(example, "k")?, Amps(number(example, "ampere")?));
        assert!(near(time.0 / HOUR, number(example, "hours")?, 2e-5), "{id} {time:?}");
    }
    Ok(())
}

/// The exponent from two tests (formula seen, value computed).
#[test]
fn peukert_exponent_of_two_tests() -> Outcome {
    let examples = examples()?;
    let example = entry(&examples, "id", "peukert-exponent-from-two-tests")?;
    let test = |time, current| -> Result<_, String> {
        Ok((Seconds(number(example, time)? * HOUR), Amps(number(example, current)?)))
    };
    let exponent = peukert_exponent(test("t1_h", "i1")?, test("t2_h", "i2")?);
    assert!(near(exponent, number(example, "n")?, 1e-5), "{exponent}");
    Ok(())
}

/// A discharge rate of 50 C of 4 Ah is 200 A; 1 C of 3 Ah is 3 A (seen).
#[test]
fn c_rates() -> Outcome {
    let examples = examples()?;
    let discharge = entry(&examples, "id", "C-rating")?;
    let capacity = AmpHours(number(discharge, "capacity_ah")?);
    let highest = capacity * CRate(number(discharge, "c_rating")?);
    assert_eq!(highest, Amps(number(discharge, "max_ampere")?));
    let charge = entry(&examples, "id", "charge-1C")?;
    let found = rate(AmpHours(number(charge, "capacity_ah")?), Amps(number(charge, "charge_ampere")?));
    assert_eq!(found, CRate(number(charge, "c_rate")?));
    Ok(())
}

/// Charging with 1 C takes an hour at constant current (seen); with the allowance for the taper somewhat longer.
#[test]
fn charging_at_one_c() -> Outcome {
    let examples = examples()?;
    let example = entry(&examples, "id", "charge-1C")?;
    let (capacity, current) =
        (AmpHours(number(example, "capacity_ah")?), Amps(number(example, "charge_ampere")?));
    let constant = charging_time(capacity, current, 1.0);
    assert!(near(constant.0 / HOUR, number(example, "hours_about")?, 1e-12));
    let factor = charging_factor("lipo").ok_or("no factor")?;
    let whole = charging_time(capacity, current, factor).0 / HOUR;
    assert!(whole > 1.0 && whole < 1.5, "{whole}");
    Ok(())
}

/// The default exponent of a battery monitor's manual (seen) is the one of the table for flooded lead cells.
#[test]
fn the_exponent_of_lead_is_the_usual_default() -> Outcome {
    let examples = examples()?;
    let flag = entry(&examples, "id", "exponent-default")?["flag"].as_str().unwrap_or_default().to_owned();
    let lead = chemistry::by_word("lead-acid").ok_or("no chemistry")?;
    assert!(flag.contains(&format!("n = {}", lead.peukert)), "{flag}");
    Ok(())
}

/// A band only (from memory): six lead cells at rest stand at 12.7 V full and 11.9 V empty; the nominal voltage of the table
/// lies between, the voltages on charge and under load beyond.
#[test]
fn six_lead_cells_stand_around_twelve_volts() -> Outcome {
    let lead = chemistry::by_word("lead-acid").ok_or("no chemistry")?;
    let [full, nominal, empty] = [lead.full, lead.nominal, lead.empty].map(|volts| volts.0 * 6.0);
    assert!((11.9..=12.7).contains(&nominal) && full > 12.7 && empty < 11.9, "{full} {nominal} {empty}");
    Ok(())
}

/// Every row of the table of chemistries: its name here, and what the language's table has in its place.
const CHEMISTRIES: &[(&str, &[&str])] = &[
    ("LiPo / Li-ion (LCO NMC)", &["lipo", "li-ion"]),
    ("LiHV", &["lihv"]),
    ("LiFePO4", &["lifepo4"]),
    ("lead-acid flooded", &["lead-acid"]),
    ("lead-acid AGM", &["agm"]),
    ("NiMH", &["nimh"]),
    ("NiCd", &["nicd"]),
    ("alkaline primary", &["alkaline"]),
    // Not in the language.
    ("carbon-zinc primary", &[]),
];

#[test]
fn chemistries_are_those_of_the_table() -> Outcome {
    let table = Table::published("battery_chemistries.csv")?;
    let names: Vec<&str> = table.rows.iter().map(|row| row.text("chemistry")).collect::<Result<_, _>>()?;
    assert_eq!(names, CHEMISTRIES.iter().map(|(name, _)| *name).collect::<Vec<_>>());
    for (row, (name, words)) in table.rows.iter().zip(CHEMISTRIES) {
        for word in *words {
            let ours = chemistry::by_word(word).ok_or_else(|| format!("no chemistry {word}"))?;
            assert_eq!(ours.nominal.0, row.number("nominal_v")?, "{name}");
            assert_eq!(ours.full.0, row.number("full_charge_v")?, "{name}");
            assert_eq!(ours.empty.0, row.number("empty_v")?, "{name}");
            assert_eq!(ours.peukert, row.number("peukert_k_typ")?, "{name}");
        }
    }
    Ok(())
}

/// No entry of the published examples is left out of these tests.
#[test]
fn every_example_is_checked() -> Outcome {
    let examples = examples()?;
    let found: Vec<&str> = examples
        .as_array()
        .ok_or("no list")?
        .iter()
        .filter_map(|example| example["id"].as_str())
        .filter(|id| !CHECKED.contains(id))
        .collect();
    assert!(found.is_empty(), "{found:?}");
    Ok(())
}

const CHECKED: &[&str] = &[
    "ideal-auto",
    "ideal-auto-70A",
    "ideal-auto-1mA",
    "charge",
    "AAA-series",
    "AAA-parallel",
    "peukert-one-hour-form",
    "peukert-rated-form-10A",
    "peukert-rated-form-20A",
    "peukert-rated-form-5A",
    "peukert-exponent-from-two-tests",
    "exponent-default",
    "C-rating",
    "charge-1C",
    "state-of-charge-vs-rest",
];
