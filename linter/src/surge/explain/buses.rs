//! The supply of a driver when its motors give back.

use wattle_grammar::quantity::Volts;

use super::{CAPACITORS, SOLVED, Telling, braking};
use crate::{
    explained::{Amount, Explained, Input},
    surge::Bus,
};

/// Pushed, pushed with everything unplugged, and what lifts the supply to its limit.
pub(super) fn told(telling: &Telling<'_>, bus: &Bus) -> Vec<Explained> {
    let compared = match &bus.most {
        Ok(most) => format!("the highest that does not destroy it is {most}"),
        Err(missing) => format!("not compared: `{}` is not stated", missing.what),
    };
    let mut told = Vec::new();
    if let Some((at, volts)) = bus.pushed {
        told.push(pushed("supply voltage while motors are turned", volts, &compared).at(Some(at)));
    }
    if let Some(volts) = bus.pushed_unplugged {
        told.push(
            pushed("supply voltage while motors are turned, unplugged", volts, &compared)
                .noting("every battery, supply and generator taken away first, the contacts settled, then every motor turned"),
        );
    }
    told.push(room(telling, bus));
    told.push(windings(telling, bus));
    told.extend(braking::told(telling, bus));
    told
}

fn pushed(what: &str, volts: Volts, compared: &str) -> Explained {
    Explained::new(what, Amount::of(volts))
        .by("U", format!("body diodes of the driver; {SOLVED}"))
        .from([Input::of("U", "highest voltage at its supply, network solved", volts)])
        .noting(compared.to_owned())
        .noting(
            "motors make what `pushed` says, else their rated voltage, less two diode drops of the driver",
        )
}

fn room(telling: &Telling<'_>, bus: &Bus) -> Explained {
    Explained::new(
        "energy that lifts the supply to its limit",
        telling.amount(&bus.room, |joules| Amount::pulse(*joules)),
    )
    .by("E = ½ · C · (U₂² − U₁²)", CAPACITORS)
    .from(bus.capacitance.as_ref().ok().map(|farads| Input::of("C", "stated capacitance on the same supply", *farads)))
    .from(bus.most.as_ref().ok().map(|volts| Input::of("U₂", "highest supply", *volts)))
    .from(bus.before.map(|(_, volts)| Input::of("U₁", "highest supply voltage in modes that last", volts)))
    .at(bus.before.map(|(at, _)| at))
    .noting("when no battery takes it: unplugged, parted by a fuse or contactor, or closed by its own electronics")
}

fn windings(telling: &Telling<'_>, bus: &Bus) -> Explained {
    Explained::new(
        "supply voltage when the windings are switched off",
        telling.amount(&bus.windings_lift, |volts| Amount::of(*volts)),
    )
    .by("U₂ = √(U₁² + Σ L I² / C)", format!("½ L I² of every motor at its highest current; {CAPACITORS}"))
    .at(bus.before.map(|(at, _)| at))
    .noting("every motor of the robot counted on this supply, no battery taking any")
}
