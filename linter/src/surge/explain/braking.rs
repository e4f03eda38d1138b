//! What comes back when motors brake, and how far it lifts the supply.

use wattle_grammar::{kind::key, quantity::Volts};

use super::{CAPACITORS, Telling};
use crate::{
    explained::{Amount, Explained, Input},
    missing::Missing,
    physics::evidence::Evidence,
    surge::{Braking, Bus, Clamped, Moving, Parted, Recharge},
};

/// Where the energy of what moves is published.
const MOTION: &str = "OpenStax University Physics vol. 1, sections 7.2 and 10.4";

/// The formula of a supply that nothing clamps.
const LIFT: &str = "U₂ = √(U₁² + 2 · E / C)";

/// The energy of what a motor moves; nothing for one that states nothing of it.
pub(super) fn of_motor(telling: &Telling<'_>, motor: crate::design::ThingId) -> Option<Explained> {
    let thing = telling.design.thing(motor);
    let stated = [key::MOVED_MASS, key::MOVED_SPEED, key::MOVED_INERTIA, key::MOVED_TURNING];
    if !stated.iter().any(|key| thing.states(key)) {
        return None;
    }
    let moving = Moving::of(telling.design, motor);
    let told = Explained::new(
        "energy of what it moves",
        telling.amount(&moving, |moving| Amount::pulse(moving.energy)),
    )
    .resting_on(Evidence::Memory);
    let Ok(moving) = moving else { return Some(told) };
    let mut terms = Vec::new();
    let mut inputs = Vec::new();
    if let Some((mass, speed)) = moving.along {
        terms.push("½ · m · v²");
        inputs.push(Input::of("m", "`moved-mass`, as stated", mass));
        inputs.push(Input::of("v", "`moved-speed`, as stated", speed));
    }
    if let Some((inertia, speed)) = moving.around {
        terms.push("½ · J · (2 · π · n / 60)²");
        inputs.push(Input::of("J", "`moved-inertia`, as stated", inertia));
        inputs.push(Input::of("n", "`moved-turning` in turns a minute, as stated", speed));
    }
    let told = told.by(format!("E = {}", terms.join(" + ")), MOTION).from(inputs);
    Some(told.noting("at its highest speed; what it comes down by is not counted"))
}

/// What braking does to the supply of a driver.
pub(super) fn told(telling: &Telling<'_>, bus: &Bus) -> Vec<Explained> {
    match &bus.braking {
        None => Vec::new(),
        Some(Err(missing)) => vec![not_told(telling, bus, missing)],
        Some(Ok(braking)) => {
            let mut told = vec![given_back(telling, braking), voltage(telling, bus, braking)];
            told.extend(braking.clamp.map(|clamp| clamped(telling, braking, &clamp)));
            told.push(recharge(telling, braking));
            told
        }
    }
}

fn not_told(telling: &Telling<'_>, bus: &Bus, missing: &Missing) -> Explained {
    let missing: Result<Volts, Missing> = Err(missing.clone());
    let told =
        Explained::new("supply voltage while braking", telling.amount(&missing, |volts| Amount::of(*volts)));
    told.by(LIFT, CAPACITORS).noting(match bus.clamped_at {
        Some(volts) => format!("a clamp on the same supply begins to conduct at {volts}"),
        None => "no clamp with a stated voltage is on the same supply".to_owned(),
    })
}

/// The symbols of the motors one by one.
const SYMBOLS: [&str; 4] = ["E_1", "E_2", "E_3", "E_4"];

/// Those of so many motors; of a single one it is the energy itself.
fn symbols(motors: usize) -> &'static [&'static str] {
    if motors == 1 { &["E"] } else { SYMBOLS.get(..motors).unwrap_or(&SYMBOLS) }
}

fn given_back(telling: &Telling<'_>, braking: &Braking) -> Explained {
    let told = Explained::new("energy that braking gives back", Amount::pulse(braking.energy));
    let symbols = symbols(braking.motors.len());
    let motors = braking.motors.iter().zip(symbols);
    let inputs: Vec<Input> = motors
        .map(|(moving, symbol)| {
            Input::pulse(
                symbol,
                format!("energy of what {} moves", telling.name(moving.motor)),
                moving.energy,
            )
        })
        .collect();
    let formula = match braking.motors.len() {
        1 => symbols.concat(),
        few if few <= SYMBOLS.len() => format!("E = {}", symbols.join(" + ")),
        _ => "the sum of the energies of what each motor moves".to_owned(),
    };
    let told = told
        .by(formula, MOTION)
        .from(inputs)
        .resting_on(Evidence::Memory)
        .noting("all of it is taken to come back: friction and the windings keep some of it");
    let told = if braking.motors.len() > SYMBOLS.len() {
        told.noting(format!("{} of {} motors are listed", SYMBOLS.len(), braking.motors.len()))
    } else {
        told
    };
    if braking.untold.is_empty() {
        return told;
    }
    told.noting(format!(
        "not counted, for nothing is stated of what it moves: {}",
        telling.names(&braking.untold)
    ))
}

fn voltage(telling: &Telling<'_>, bus: &Bus, braking: &Braking) -> Explained {
    let told = Explained::new("supply voltage while braking", Amount::of(braking.reaches));
    let told = match &braking.clamp {
        None => told.by(LIFT, CAPACITORS).from([
            Input::of("U₁", "highest supply voltage in modes that last", braking.from),
            Input::pulse("E", "energy that braking gives back", braking.energy),
            Input::of("C", "stated capacitance that is left on the supply", braking.capacitance),
        ]),
        Some(clamp) => by_clamp(telling, told, braking, clamp),
    };
    let told = told
        .at(bus.before.map(|(at, _)| at))
        .resting_on(Evidence::Memory)
        .noting(parted(telling, braking))
        .noting(compared(telling, braking));
    match &braking.unassessed {
        Some((opened, missing)) => told.noting(format!(
            "when {} opens: not assessed for want of `{}` of {}",
            telling.name(*opened),
            missing.what,
            missing.of.map_or_else(String::new, |thing| telling.name(thing))
        )),
        None => told,
    }
}

fn by_clamp(telling: &Telling<'_>, told: Explained, braking: &Braking, clamp: &Clamped) -> Explained {
    let name = telling.name(clamp.clamp);
    let begins = Input::of("U_c", format!("voltage at which {name} begins, as stated"), clamp.begins);
    let told = match clamp.holds.filter(|_| clamp.voltage() > clamp.begins) {
        Some((power, ohms)) => told.by("U = √(P · R)", "Ohm's law").from([
            Input::of("P", "highest power that braking gives back", power),
            Input::of("R", format!("resistance of {name}, as stated"), ohms),
            begins,
        ]),
        None => told.by("U_c", "the clamp, as stated").from([begins]),
    };
    let told = told.noting(format!("without {name} it would be {}", braking.free));
    if clamp.holds.is_some() {
        return told;
    }
    told.noting(format!(
        "that {name} takes the power is not assessed: it needs its `{}` and the `{}` of every motor",
        key::RESISTANCE,
        key::BRAKING_TIME
    ))
}

/// When that voltage comes about.
fn parted(telling: &Telling<'_>, braking: &Braking) -> String {
    match braking.parted {
        Parted::By(opened) => format!(
            "corner: {} opens while it brakes, packs full; the contacts as they then stand",
            telling.name(opened)
        ),
        Parted::ByRefusal => format!(
            "corner: packs full, which let nothing in; every battery on the supply states `{}` 0 A",
            key::REGEN_CURRENT
        ),
        Parted::ByNothing => {
            "corner: sources that let go by themselves, packs full; no switch, stop, breaker or fuse that \
                              opens leaves the motors on the supply"
                .to_owned()
        }
    }
}

fn compared(telling: &Telling<'_>, braking: &Braking) -> String {
    match &braking.stands {
        Ok((thing, volts)) => {
            format!("the least that is stood there is {volts}, by {}", telling.name(*thing))
        }
        Err(missing) => format!("not compared: `{}` is not stated", missing.what),
    }
}

fn clamped(telling: &Telling<'_>, braking: &Braking, clamp: &Clamped) -> Explained {
    let name = telling.name(clamp.clamp);
    let told = Explained::new("energy that the clamp has to take", Amount::pulse(clamp.takes))
        .by("E_c = E − ½ · C · (U_c² − U₁²)", CAPACITORS)
        .from([
            Input::pulse("E", "energy that braking gives back", braking.energy),
            Input::of("C", "stated capacitance that is left on the supply", braking.capacitance),
            Input::of("U_c", format!("voltage at which {name} begins, as stated"), clamp.begins),
            Input::of("U₁", "highest supply voltage in modes that last", braking.from),
        ])
        .resting_on(Evidence::Memory);
    match clamp.power.filter(|power| power.0 > 0.0) {
        Some(power) => told.noting(format!(
            "{name} takes {power} for long, as stated: that is {} of it; what it stands for a short time is not assessed",
            wattle_grammar::quantity::Seconds(clamp.takes.0 / power.0)
        )),
        None => told.noting(format!("not compared: {name} states no `{}`", key::POWER)),
    }
}

fn recharge(telling: &Telling<'_>, braking: &Braking) -> Explained {
    let told = Explained::new(
        "current into the batteries while braking",
        telling.amount(&braking.charge, |charge| Amount::of(charge.amps)),
    )
    .by("I = P / U₁", "the highest power of an even braking, P = 2 E / t of each motor")
    .noting("when the batteries take it and nothing else does");
    match &braking.charge {
        Ok(charge) => recharge_compared(told, braking, charge),
        Err(_) => told,
    }
}

fn recharge_compared(told: Explained, braking: &Braking, charge: &Recharge) -> Explained {
    let told = told.from([
        Input::of("P", "highest power that braking gives back", charge.power),
        Input::of("U₁", "highest supply voltage in modes that last", braking.from),
    ]);
    told.noting(match charge.most {
        Some(most) => format!("the batteries on that supply may be charged with {most} together, as stated"),
        None => {
            format!("not compared: not every battery on that supply states its `{}`", key::CHARGE_CURRENT)
        }
    })
}
