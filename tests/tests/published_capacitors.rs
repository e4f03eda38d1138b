//! Capacitors, against worked examples of textbooks (each entry says whether it was seen or is from memory).

use serde_json::Value;
use wattle_grammar::quantity::{Farads, Ohms, Seconds, Share, Volts};
use wattle_linter::physics::{
    capacitor::{charging_time, energy, holds_resistance, lifted, time_constant},
    unit::Joules,
};
use wattle_tests::table::{entry, near, number, published_json};

type Outcome = Result<(), String>;

fn examples() -> Result<Value, String> {
    Ok(published_json("capacitor_examples.json")?["examples"].clone())
}

#[test]
fn time_constants() -> Outcome {
    let examples = examples()?;
    for id in ["rc-defibrillator", "rc-paddles"] {
        let example = entry(&examples, "id", id)?;
        let found = time_constant(Ohms(number(example, "ohm")?), Farads(number(example, "farad")?));
        assert!(near(found.0, number(example, "time_constant_s")?, 1e-12), "{id} {found:?}");
    }
    Ok(())
}

#[test]
fn the_time_of_a_decline() -> Outcome {
    let examples = examples()?;
    let example = entry(&examples, "id", "rc-defibrillator-decline")?;
    let (farads, ohms) = (Farads(number(example, "farad")?), Ohms(number(example, "ohm")?));
    let (from, to) = (Volts(number(example, "volt")?), Volts(number(example, "to_volt")?));
    let found = holds_resistance(farads, ohms, from, to);
    assert!(near(found.0, number(example, "seconds")?, 1e-5), "{found:?}");
    Ok(())
}

/// To the nearest 10 µF and 100 V, as the question asks.
#[test]
fn capacitance_and_voltage_of_an_energy_that_halves_in_time() -> Outcome {
    let examples = examples()?;
    let example = entry(&examples, "id", "rc-half-in-10-ms")?;
    let (farads, volts) = (Farads(number(example, "farad")?), Volts(number(example, "volt")?));
    let half = holds_resistance(farads, Ohms(number(example, "ohm")?), volts, volts / 2.0);
    assert!((half.0 - number(example, "half_after_s")?).abs() < 5e-6 * 40.0 * 0.7, "{half:?}");
    let found = lifted(farads, Volts(0.0), Joules(number(example, "joule")?));
    assert!((found.0 - volts.0).abs() < 50.0, "{found:?}");
    Ok(())
}

#[test]
fn energies_and_voltages() -> Outcome {
    let examples = examples()?;
    for id in ["energy-to-volts", "defibrillator-400-J"] {
        let example = entry(&examples, "id", id)?;
        let (farads, joules) = (Farads(number(example, "farad")?), Joules(number(example, "joule")?));
        let volts = Volts(number(example, "volt")?);
        assert!(near(lifted(farads, Volts(0.0), joules).0, volts.0, 1e-5), "{id}");
        assert!(near(energy(farads, volts).0, joules.0, 1e-5), "{id}");
    }
    Ok(())
}

#[test]
fn three_time_constants_fill_to_95_percent() -> Outcome {
    let examples = examples()?;
    let example = entry(&examples, "id", "three-time-constants")?;
    let after = |share| charging_time(Ohms(1.0), Farads(1.0), Share(share));
    let three: Seconds = after(number(example, "share_after_3")?);
    assert!((three.0 - 3.0).abs() < 0.005, "{three:?}");
    assert!((after(number(example, "share_after_4_6")?).0 - 4.6).abs() < 0.01);
    Ok(())
}
