//! Wire gauges, resistance and its growth with temperature, against published tables and worked examples.

use std::f64::consts::PI;

use wattle_grammar::{
    kind::colour,
    quantity::{Celsius, Metres, Ohms, SquareMm},
};
use wattle_linter::physics::{
    conductor::{COPPER, Metal, awg_area, awg_diameter, copper_growth, resistance},
    standard_size::System,
    unit::{OhmMetres, PerKelvin},
};
use wattle_tests::table::{Row, Table, gauge, near};

type Outcome = Result<(), String>;

const INCH: f64 = 25.4;
const FOOT: Metres = Metres(0.3048);
/// A circular mil, the area of a circle of a thousandth of an inch: π/4 · (0.0254 mm)².
const CIRCULAR_MIL: f64 = PI / 4.0 * 0.0254 * 0.0254;
const TWENTY: Celsius = Celsius(20.0);

/// ASTM B258 geometry and IACS resistance, printed with five digits: half a unit of the last is at most 5e-5.
#[test]
fn gauges_have_the_areas_and_resistances_of_the_standard() -> Outcome {
    let table = Table::published("awg.csv")?;
    assert_eq!(table.rows.len(), 48);
    for row in &table.rows {
        let name = row.text("awg")?;
        let number = gauge(name)?;
        assert!(near(awg_diameter(number).0 * 1e3, row.number("diameter_mm")?, 6e-5), "{name}");
        assert!(near(awg_area(number).0, row.number("area_mm2")?, 6e-5), "{name}");
        let ohms = resistance(awg_area(number), Metres(1000.0), TWENTY);
        assert!(near(ohms.0, row.number("ohm_per_km_20C")?, 6e-5), "{name} {ohms:?}");
    }
    Ok(())
}

/// Lessons In Electric Circuits vol. I ch. 12 wire table (seen). Diameters have three printed digits from 18 AWG on
/// (half a unit of 0.0403 in is 1.3e-3), areas four.
#[test]
fn gauges_agree_with_a_printed_wire_table() -> Outcome {
    for row in Table::published("awg.csv")?.rows {
        let name = row.text("awg")?;
        let number = gauge(name)?;
        assert!(near(awg_diameter(number).0 * 1e3 / INCH, row.number("book_diameter_in")?, 1.3e-3), "{name}");
        assert!(near(awg_area(number).0 / CIRCULAR_MIL, row.number("book_cmil")?, 6e-4), "{name}");
    }
    Ok(())
}

/// NBS Handbook 100 (1966), from memory of its table, printed with four digits.
#[test]
fn gauges_agree_with_the_bureau_of_standards() -> Outcome {
    let mut compared = 0;
    for row in Table::published("awg.csv")?.rows {
        let Some(published) = row.maybe("nbs_ohm_per_1000ft_20C_memory")? else { continue };
        let ohms = resistance(awg_area(gauge(row.text("awg")?)?), FOOT * 1000.0, TWENTY);
        assert!(near(ohms.0, published, 5e-4), "{} {ohms:?}", row.text("awg")?);
        compared += 1;
    }
    assert_eq!(compared, 18);
    Ok(())
}

/// NFPA 70 chapter 9 table 8 (seen in a transcription), 75 °C. Solid conductors to the three printed digits (0.5 %);
/// stranded ones are longer by their lay, up to 3.5 %, and never shorter.
#[test]
fn warm_resistance_agrees_with_the_electrical_code() -> Outcome {
    for row in Table::published("nec_ch9_table8.csv")?.rows {
        let name = row.text("awg")?;
        let ohms = resistance(awg_area(gauge(name)?), FOOT * 1000.0, Celsius(75.0)).0;
        let published = row.number("cu_uncoated_ohm_per_kft_75C")?;
        let ratio = published / ohms;
        let lay = if row.number("strands")? == 1.0 { 0.995..=1.005 } else { 1.0..=1.035 };
        assert!(lay.contains(&ratio), "{name} of {} strands: {ratio}", row.text("strands")?);
    }
    Ok(())
}

/// IEC 60228 (seen in two transcriptions) sets upper bounds, which cover tolerance, lay and tinning: up to 20 % above the
/// nominal resistance, and never below it.
#[test]
fn nominal_resistance_stays_below_the_bounds_for_cables() -> Outcome {
    let table = Table::published("iec60228.csv")?;
    for row in &table.rows {
        let ohms = resistance(SquareMm(row.number("mm2")?), Metres(1000.0), TWENTY).0;
        for class in ["class2_plain", "class2_tinned", "class5_plain", "class5_tinned"] {
            let ratio = row.number(class)? / ohms;
            assert!((1.0..1.20).contains(&ratio), "{} mm² {class}: {ratio}", row.text("mm2")?);
        }
    }
    Ok(())
}

/// The metric sizes that mends name are those of IEC 60228, from 0.5 mm² on.
#[test]
fn metric_sizes_are_those_of_the_standard() -> Outcome {
    let table = Table::published("iec60228.csv")?;
    let listed: Vec<f64> = table.rows.iter().map(|row| row.number("mm2")).collect::<Result<_, _>>()?;
    let offered: Vec<f64> =
        System::Metric.sizes().iter().map(|size| size.area.0).filter(|area| *area >= 0.5).collect();
    assert_eq!(offered, listed);
    Ok(())
}

/// IEC 60228 annex (seen): the printed factors lie between a coefficient of 0.00393 and one of 0.004, which differ by
/// up to 0.0035 at the ends of the table.
#[test]
fn growth_with_temperature_agrees_with_the_standard() -> Outcome {
    for row in Table::published("iec60228_temperature_factors.csv")?.rows {
        let back = 1.0 / copper_growth(Celsius(row.number("degC")?));
        assert!((back - row.number("kt")?).abs() <= 0.0035, "{} {back}", row.text("degC")?);
    }
    Ok(())
}

/// Worked examples of OpenStax University Physics vol. 2 ch. 9 and Lessons In Electric Circuits vol. I ch. 12 (seen),
/// each with the resistivity and coefficient that the book uses, to the digits it prints.
#[test]
fn worked_examples_of_textbooks() -> Outcome {
    let table = Table::published("resistance_examples.csv")?;
    let ohm_mil_per_foot = OhmMetres(10.09 * CIRCULAR_MIL * 1e-6 / FOOT.0);
    let physics = Metal { resistivity: OhmMetres(1.68e-8), coefficient: PerKelvin(0.0039) };
    let gold = Metal { resistivity: OhmMetres(2.44e-8), coefficient: PerKelvin(0.0034) };
    let tungsten = Metal { resistivity: OhmMetres(5.6e-8), coefficient: PerKelvin(0.0045) };
    let circuits = Metal { resistivity: ohm_mil_per_foot, coefficient: PerKelvin(0.004_041) };
    let twelve = SquareMm(PI / 4.0 * 2.053 * 2.053);
    let long = FOOT * 2300.0;
    let needed = ohm_mil_per_foot.0 * long.0 / 0.2 * 1e6 / CIRCULAR_MIL;
    let found = [
        ("r1", physics.resistance(twelve, Metres(5.0), TWENTY).0),
        ("r2", physics.resistance(twelve, Metres(20.0), TWENTY).0),
        ("r3", physics.temperature(Ohms(1.0), Ohms(2.0)).0),
        ("r4", tungsten.warmed(Ohms(0.35), Celsius(2850.0)).0),
        ("r5", gold.warmed(Ohms(77.7), Celsius(150.0)).0),
        ("r6", circuits.warmed(Ohms(15.0), Celsius(35.0)).0),
        ("r7", circuits.resistance(SquareMm(4107.0 * CIRCULAR_MIL), long, TWENTY).0),
        ("r8", needed),
    ];
    assert_eq!(table.rows.len(), found.len());
    for (id, value) in found {
        let row = table.with("id", id).next().ok_or(id)?;
        within(row, value)?;
    }
    Ok(())
}

/// The book's next size up for the last example: 1/0 is too thin, 2/0 it is.
#[test]
fn the_next_size_up_of_a_textbook() {
    let chosen = System::Awg.at_least(SquareMm(116_035.0 * CIRCULAR_MIL));
    assert_eq!(chosen.map(|size| size.name), Some("2/0 AWG"));
}

/// Copper as the product has it lies within 3 % of the textbooks' own constants.
#[test]
fn textbook_copper_is_near_ours() {
    assert!(near(COPPER.resistivity.0, 1.68e-8, 0.03));
    assert!(near(COPPER.coefficient.0, 0.0039, 0.01));
}

fn within(row: &Row, value: f64) -> Outcome {
    let (expected, tolerance) = (row.number("expected")?, row.number("tolerance")?);
    assert!(
        (value - expected).abs() <= tolerance,
        "{}: {value}, published {expected}",
        row.text("statement")?
    );
    Ok(())
}

/// NBS Handbook 100 and AC 43.13-1B p. 11-22 (seen): resistivity, coefficient, and the temperature at which copper's
/// straight line is at zero.
#[test]
fn copper_has_the_published_constants() -> Outcome {
    let table = Table::published("copper_constants.csv")?;
    let published = |quantity: &str| table.with("quantity", quantity).next().ok_or("no row")?.number("value");
    assert!(near(COPPER.resistivity.0 * 1e6, published("volume_resistivity_IACS100_20C")?, 1e-12));
    assert!(near(COPPER.coefficient.0, published("temperature_coefficient_20C")?, 1e-12));
    assert!(near(
        COPPER.resistivity.0 * published("density_copper_20C")? * 1e6,
        published("mass_resistivity_IACS100_20C")?,
        1e-3
    ));
    let zero = published("inferred_zero_resistance_temperature_copper")?;
    assert!(copper_growth(Celsius(zero)).abs() < 1e-12);
    Ok(())
}

/// IEC 60757 clause 5 (seen): every code of the table is that of the language's word, and joined codes stand in its order.
#[test]
fn colours_have_the_codes_of_the_standard() -> Outcome {
    let table = Table::published("iec60757.csv")?;
    assert_eq!(table.rows.len(), 15);
    for row in &table.rows {
        let name = row.text("colour")?;
        let word = name.split(" (").next().unwrap_or(name).replace("-and-", "-");
        assert_eq!(colour::code(&word).as_deref(), Some(row.text("code")?), "{word}");
    }
    assert_eq!(colour::code("blue/red").as_deref(), Some("RDBU"));
    Ok(())
}
