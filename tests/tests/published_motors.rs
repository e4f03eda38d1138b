//! Direct-current motors, against the worked examples of OpenStax University Physics vol. 2 (seen).

use wattle_grammar::quantity::{Amps, Ohms, RpmPerVolt, Volts};
use wattle_linter::physics::motor::{
    emf_constant, running_current, running_emf, shaft_power, stall_current, winding_heat, winding_resistance,
};
use wattle_tests::table::Table;

type Outcome = Result<(), String>;

/// Finds the row by its example, the words it is given with and its quantity, and compares to the printed digits.
fn check(given: &str, quantity: &str, value: f64) -> Outcome {
    let table = Table::published("motor_examples.csv")?;
    let (id, given) = given.split_once(' ').unwrap_or((given, ""));
    let row = table
        .with("id", id)
        .find(|row| {
            row.text("given").is_ok_and(|text| text.starts_with(given))
                && row.text("quantity").is_ok_and(|text| text.starts_with(quantity))
        })
        .ok_or_else(|| format!("no row {id} {given} {quantity}"))?;
    let (expected, tolerance) = (row.number("value")?, row.number("tolerance")?);
    assert!(
        (value - expected).abs() <= tolerance.max(1e-9),
        "{id} {quantity}: {value}, published {expected}"
    );
    Ok(())
}

#[test]
fn a_coil_of_0_4_ohm_on_48_volts() -> Outcome {
    let (supply, winding) = (Volts(48.0), Ohms(0.4));
    let start = stall_current(supply, winding);
    check("m1 coil", "start current", start.0)?;
    check("m1 same", "heat at standstill", winding_heat(start, winding).0)?;
    let running = running_current(supply, Volts(40.0), winding);
    check("m1 back", "running current", running.0)?;
    check("m1 same", "coil heat", winding_heat(running, winding).0)
}

#[test]
fn a_motor_of_2_ohm_on_120_volts_at_two_loads() -> Outcome {
    let (supply, winding) = (Volts(120.0), Ohms(2.0));
    let light = running_emf(supply, Amps(10.0), winding);
    check("m2 series", "back EMF", light.0)?;
    check("m2 same", "mechanical power", shaft_power(light, Amps(10.0)).0)?;
    check("m2 same", "coil heat", winding_heat(Amps(10.0), winding).0)?;
    check("m2 same", "source power", (supply * Amps(10.0)).0)?;
    let heavy = running_emf(supply, Amps(20.0), winding);
    check("m2 loaded", "back EMF", heavy.0)?;
    // The loaded motor's powers stand in later rows with the same words; they are 1600, 800 and 2400 W there.
    assert!((shaft_power(heavy, Amps(20.0)).0 - 1600.0).abs() < 1e-9);
    assert!((winding_heat(Amps(20.0), winding).0 - 800.0).abs() < 1e-9);
    Ok(())
}

#[test]
fn a_series_motor_with_field_and_armature() -> Outcome {
    let (supply, winding) = (Volts(120.0), Ohms(90.0));
    check("m3 series", "start current", stall_current(supply, winding).0)?;
    let running = running_current(supply, Volts(75.0), winding);
    check("m3 same", "running current", running.0)?;
    check("m3 same", "source power", (supply * running).0)?;
    check("m3 same", "motor output", shaft_power(Volts(75.0), running).0)?;
    check("m3 same", "loss", winding_heat(running, winding).0)
}

#[test]
fn winding_and_emf_from_stall_and_running_current() -> Outcome {
    let winding = winding_resistance(Volts(12.0), Amps(24.0));
    check("m5 12 V motor", "back EMF running", running_emf(Volts(12.0), Amps(4.0), winding).0)
}

/// 12 V at 400 rad/s without load: 0.03 V s/rad, from the speed constant in revolutions per minute and volt. The torque
/// constant is the same number, so 20 A at stall give 0.6 N m.
#[test]
fn emf_and_torque_constants_are_one() -> Outcome {
    let per_minute = 400.0 * 60.0 / (2.0 * std::f64::consts::PI);
    let constant = emf_constant(RpmPerVolt(per_minute / 12.0));
    check("m6 ideal", "Ke", constant.0)?;
    check("m6 same", "stall torque", constant.0 * stall_current(Volts(12.0), Ohms(0.6)).0)?;
    let stall = stall_current(Volts(10.0), Ohms(1.5));
    check("m7 Kt", "stall current", stall.0)?;
    check("m7 same", "stall torque", 0.12 * stall.0)
}

/// A winch of 115 V and 20 A that lifts 4900 N by 10 m in 30 s: what does not lift is lost as in a resistance of 1.67 Ω.
#[test]
fn a_winch_and_its_losses() -> Outcome {
    let (supply, current) = (Volts(115.0), Amps(20.0));
    check("m4 winch", "input power", (supply * current).0)?;
    let lifting = 4900.0 * 10.0 / 30.0;
    check("m4 same", "lifting power", lifting)?;
    let lost = Ohms(((supply * current).0 - lifting) / (current.0 * current.0));
    check("m4 same", "equivalent resistance", lost.0)?;
    let emf = running_emf(supply, current, lost);
    assert!((shaft_power(emf, current).0 - lifting).abs() < 1e-9);
    Ok(())
}

/// The relations of the table, each by the functions of the motor: stall current, back-EMF, torque constant, speed without
/// load, most mechanical power at half the stall current.
#[test]
fn the_relations_of_the_table_hold() -> Outcome {
    let relations = Table::published("motor_formulas.csv")?.rows.len();
    let (supply, winding, per_volt) = (Volts(24.0), Ohms(0.4), RpmPerVolt(320.0));
    let stall = stall_current(supply, winding);
    assert_eq!(stall, Amps(60.0));
    let constant = emf_constant(per_volt);
    let half = stall / 2.0;
    let emf = running_emf(supply, half, winding);
    assert!((running_current(supply, emf, winding) - half).abs() < Amps(1e-12));
    // E = Ke ω, and Kt = Ke: the torque at stall is Ke I.
    let speed = emf.0 / constant.0;
    assert!((constant.0 * half.0 * speed - shaft_power(emf, half).0).abs() < 1e-9);
    // P = V² / 4R there, and less on both sides of it.
    let power = |share: f64| shaft_power(running_emf(supply, stall * share, winding), stall * share).0;
    assert!((power(0.5) - 24.0 * 24.0 / (4.0 * 0.4)).abs() < 1e-9);
    assert!(power(0.5) > power(0.49) && power(0.5) > power(0.51));
    // Without load: (V − I₀ R) / Ke in rad/s is Kv (V − I₀ R) in rpm.
    let idle = running_emf(supply, Amps(1.5), winding);
    let (by_constant, by_speed) =
        (idle.0 / constant.0 * 60.0 / (2.0 * std::f64::consts::PI), idle.0 * per_volt.0);
    assert!((by_constant - by_speed).abs() < 1e-9);
    assert_eq!(relations, 6);
    Ok(())
}

/// No row of the published examples is left out of these tests.
#[test]
fn every_example_is_checked() -> Outcome {
    let table = Table::published("motor_examples.csv")?;
    let ids: std::collections::BTreeSet<&str> =
        table.rows.iter().map(|row| row.text("id")).collect::<Result<_, _>>()?;
    assert_eq!(ids.into_iter().collect::<Vec<_>>(), ["m1", "m2", "m3", "m4", "m5", "m6", "m7"]);
    assert_eq!(table.rows.len(), 25);
    Ok(())
}
