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
        unit::Joules,
    },
    surge::{Closing, Precharge},
};

/// In-rush, its energy and let-through, and the pre-charge.
pub(super) fn told(telling: &Telling<'_>, closing: &Closing) -> Vec<Explained> {
    let mut told = vec![peak(telling, closing)];
    told.push(energy("in-rush energy", closing.energy(), closing));
    told.push(
        Explained::new(
            "in-rush let-through",
            Amount::of(let_through(closing.volts, closing.path, closing.capacitance)),
        )
        .by("∫ i² dt = U² · C / (2 · R)", CAPACITORS)
        .from(inputs(telling, closing))
        .at(Some(closing.point)),
    );
    told.push(
        Explained::new("in-rush time constant", Amount::of(time_constant(closing.path, closing.capacitance)))
            .by("τ = R · C", CAPACITORS)
            .from(inputs(telling, closing))
            .at(Some(closing.point)),
    );
    told.extend(closing.precharge.iter().flat_map(|before| precharge(telling, closing, before)));
    told
}

fn inputs(telling: &Telling<'_>, closing: &Closing) -> [Input; 3] {
    [
        Input::of("U", "voltage that the capacitors come to, less what they have before", closing.volts),
        Input::of("R", "way round: batteries, conductors and contacts at 20 °C", closing.path),
        Input::of(
            "C",
            format!("capacitance of {}, as stated", telling.names(&closing.into)),
            closing.capacitance,
        ),
    ]
}

fn peak(telling: &Telling<'_>, closing: &Closing) -> Explained {
    let compared = match &closing.makes {
        Ok(makes) => format!("it may close onto {makes}, as stated"),
        Err(missing) => format!("not compared: `{}` is not stated", missing.what),
    };
    let told = Explained::new("in-rush current", Amount::of(closing.peak))
        .by("I = U / R", format!("{CAPACITORS}; {SOLVED}"))
        .from(inputs(telling, closing))
        .at(Some(closing.point))
        .noting(compared)
        .noting("the inductance of the leads is left out: the true peak is lower")
        .resting_on(Evidence::Practice)
        .noting("a capacitor that states no series resistance has 20 µs over its capacitance, at most 10 mΩ, common practice")
        .noting("capacitors whose capacitance is not stated are left out");
    if closing.precharge.is_some() {
        let after = closing.peak_after_precharge();
        return told.noting(format!("without a pre-charge; after it {after}"));
    }
    told
}

fn energy(what: &str, joules: Joules, closing: &Closing) -> Explained {
    Explained::new(what, Amount::pulse(joules))
        .by("E = ½ · C · U²", CAPACITORS)
        .from([Input::of("C", "capacitance", closing.capacitance), Input::of("U", "voltage", closing.volts)])
        .at(Some(closing.point))
        .noting("as much again turns to heat on the way there")
}

fn precharge(telling: &Telling<'_>, closing: &Closing, before: &Precharge) -> Vec<Explained> {
    let from = [
        Input::of("R", "way through the pre-charge resistor", before.resistance),
        Input::of("C", "capacitance", closing.capacitance),
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
                Input::of("C", "capacitance", closing.capacitance),
                Input::of("U", "voltage that the capacitors come to", before.reaches),
            ])
            .at(Some(before.point))
            .noting(format!(
                "as much turns to heat in the resistor; compare with its `{}`",
                key::PULSE_ENERGY
            )),
    ]
}
