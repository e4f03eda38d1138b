//! What flows when a contact closes.

use wattle_grammar::{
    kind::key,
    quantity::{Share, Volts},
};

use super::{CAPACITORS, SOLVED, Telling};
use crate::{
    explained::{Amount, Explained, Input},
    physics::{
        capacitor::{charging_time, let_through, time_constant},
        evidence::Evidence,
    },
    surge::{Closing, Precharge},
};

/// In-rush, its energy and let-through, and the pre-charge.
pub(super) fn told(telling: &Telling<'_>, closing: &Closing) -> Vec<Explained> {
    let mut told = vec![
        peak(telling, closing),
        energy(telling, closing),
        let_past(telling, closing),
        first_time(telling, closing),
    ];
    told.extend(closing.precharge.iter().flat_map(|before| precharge(telling, closing, before)));
    told
}

fn voltage(closing: &Closing) -> Input {
    Input::of("U", "voltage that the capacitors come to, less what they have before", closing.volts)
}

fn resistance(closing: &Closing) -> Input {
    Input::of("R", "way round: batteries, conductors and contacts at 20 °C", closing.path)
}

fn capacitance(telling: &Telling<'_>, closing: &Closing) -> Input {
    let what = format!("capacitance of {}, as stated", telling.names(&closing.into));
    Input::of("C", what, closing.capacitance)
}

fn peak(telling: &Telling<'_>, closing: &Closing) -> Explained {
    let compared = match &closing.makes {
        Ok(makes) => format!("it may close onto {makes}, as stated"),
        Err(missing) => format!("not compared: `{}` is not stated", missing.what),
    };
    let told = Explained::new("in-rush current", Amount::of(closing.peak))
        .by("I = U / R", format!("{CAPACITORS}; {SOLVED}"))
        .from([voltage(closing), resistance(closing)])
        .at(Some(closing.point))
        .noting(compared)
        .noting(format!("into {}", telling.names(&closing.into)))
        .noting("the inductance of the leads is left out: the true peak is lower")
        .resting_on(Evidence::Practice)
        .noting("a capacitor that states no series resistance has 20 µs over its capacitance, at most 10 mΩ, common practice")
        .noting("capacitors whose capacitance is not stated are left out");
    if closing.precharge.is_some() {
        let after = closing.peak_after_precharge();
        return told.noting(format!("this is without the pre-charge; after it {after}"));
    }
    told
}

fn energy(telling: &Telling<'_>, closing: &Closing) -> Explained {
    Explained::new("in-rush energy", Amount::pulse(closing.energy()))
        .by("E = ½ · C · U²", CAPACITORS)
        .from([capacitance(telling, closing), voltage(closing)])
        .at(Some(closing.point))
        .noting("as much again turns to heat on the way there")
}

/// What a fuse on the way has to bear.
fn let_past(telling: &Telling<'_>, closing: &Closing) -> Explained {
    let let_through = let_through(closing.volts, closing.path, closing.capacitance);
    Explained::new("in-rush let-through", Amount::of(let_through))
        .by("∫ i² dt = U² · C / (2 · R)", CAPACITORS)
        .from([voltage(closing), capacitance(telling, closing), resistance(closing)])
        .resting_on(Evidence::Practice)
        .at(Some(closing.point))
}

fn first_time(telling: &Telling<'_>, closing: &Closing) -> Explained {
    let time = time_constant(closing.path, closing.capacitance);
    Explained::new("in-rush time constant", Amount::of(time))
        .by("τ = R · C", CAPACITORS)
        .from([resistance(closing), capacitance(telling, closing)])
        .resting_on(Evidence::Practice)
        .at(Some(closing.point))
}

fn precharge(telling: &Telling<'_>, closing: &Closing, before: &Precharge) -> Vec<Explained> {
    let from = [
        Input::of("R", "way through the pre-charge resistor", before.resistance),
        capacitance(telling, closing),
    ];
    let time = |what: &str, share: f64| {
        let time = charging_time(before.resistance, closing.capacitance, Share(share));
        Explained::new(what, Amount::of(time))
            .by("t = −R · C · ln(1 − share)", CAPACITORS)
            .from(from.clone())
            .from([Input::of("share", "of the voltage that it comes to", Share(share))])
            .at(Some(before.point))
    };
    let full = closing.volts;
    let share = if full > Volts(0.0) { before.reaches / full } else { 0.0 };
    vec![
        Explained::new("voltage after the pre-charge", Amount::of(before.reaches))
            .by("U", SOLVED)
            .from([Input::of("U", "voltage that the capacitors come to, network solved", before.reaches)])
            .at(Some(before.point))
            .noting(format!("in `{}`, with what is on the bus there", telling.mode_of(before.point)))
            .noting(format!("{} of what it comes to with the contact closed", Share(share))),
        time("pre-charge to 95 %", 0.95).noting("3 R C"),
        time("pre-charge to 99 %", 0.99).noting("4.6 R C"),
        Explained::new("pre-charge energy", Amount::pulse(before.energy))
            .by("E = ½ · C · U²", CAPACITORS)
            .from([
                capacitance(telling, closing),
                Input::of("U", "voltage that the capacitors come to", before.reaches),
            ])
            .at(Some(before.point))
            .noting(format!(
                "as much turns to heat in the resistor; compare with its `{}`",
                key::PULSE_ENERGY
            )),
    ]
}
