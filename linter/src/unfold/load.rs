//! What loads draw: a level of a mode turned into a current, a power or a resistance.

use wattle_grammar::{
    kind::{KindId, SUPPLY_MARGIN, key},
    quantity::{Amps, Ohms, Volts, Watts},
};

use super::usual;
use crate::{
    design::{Level, State, Thing},
    network::Law,
};

/// What a load draws at a level.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Draw {
    /// Nothing.
    Nothing,
    /// A current, whatever the voltage.
    Current(Amps),
    /// A power.
    Power(Watts),
    /// In proportion to the voltage.
    Resistance(Ohms),
    /// None of the ratings that would tell is written.
    Unknown,
}

/// What a load draws at a level.
///
/// An explicit current wins. Typical: `typical`, else `power` or `resistance` with `voltage`, else `peak`, else
/// `current`. Peak: `peak`, else typical. Stall: `stall`, else peak. Idle: `idle`, else nothing; electronics (controller,
/// receiver, sensor, meter) without `idle` draw typical. Off: nothing, except electronics, which draw idle for as long as
/// they have power.
#[must_use]
pub fn draw(thing: &Thing, level: Level) -> Draw {
    let current = |amps: Amps| if amps > Amps(0.0) { Draw::Current(amps) } else { Draw::Nothing };
    match level {
        Level::Amps(amps) => current(amps),
        Level::Off if !is_electronics(thing) => Draw::Nothing,
        Level::Off | Level::Idle => match thing.get(key::IDLE) {
            Some(amps) => as_behaved(thing, amps),
            None if is_electronics(thing) => typical(thing),
            None => Draw::Nothing,
        },
        Level::Typical => typical(thing),
        Level::Peak => stated(thing, &[key::PEAK]),
        Level::Stall => stated(thing, &[key::STALL, key::PEAK]),
    }
}

/// The first of these currents that is stated, else typical.
fn stated(thing: &Thing, keys: &[&str]) -> Draw {
    let first = keys.iter().find_map(|key| thing.get::<Amps>(key));
    first.map_or_else(|| typical(thing), |amps| as_behaved(thing, amps))
}

fn typical(thing: &Thing) -> Draw {
    let volts = thing.get::<Volts>(key::VOLTAGE);
    if let Some(amps) = thing.get::<Amps>(key::TYPICAL) {
        return as_behaved(thing, amps);
    }
    if let Some(watts) = power(thing) {
        let as_current = volts.map_or(Draw::Power(watts), |volts| as_behaved(thing, watts / volts));
        return if thing.word(key::DRAWS).is_some() { as_current } else { Draw::Power(watts) };
    }
    if let Some(ohms) = thing.get::<Ohms>(key::RESISTANCE).filter(|_| is_its_own(thing)) {
        let as_current = volts.map_or(Draw::Resistance(ohms), |volts| as_behaved(thing, volts / ohms));
        return if thing.word(key::DRAWS).is_some() { as_current } else { Draw::Resistance(ohms) };
    }
    let highest = thing.get::<Amps>(key::PEAK).or_else(|| thing.get(key::CURRENT));
    highest.map_or(Draw::Unknown, |amps| as_behaved(thing, amps))
}

/// Power drawn from the supply in ordinary work; an amplifier's `power` is what each channel gives at most.
fn power(thing: &Thing) -> Option<Watts> {
    let written = thing.get::<Watts>(key::POWER)?;
    if !is_amplifier(thing) {
        return Some(written);
    }
    let channels = thing.number(key::CHANNELS).unwrap_or(1.0);
    let efficiency = thing.number(key::EFFICIENCY).unwrap_or(usual::REGULATOR_EFFICIENCY.0);
    Some(written * channels / efficiency)
}

/// A current at the rated voltage, drawn the way that `draws` says.
fn as_behaved(thing: &Thing, amps: Amps) -> Draw {
    if amps <= Amps(0.0) {
        return Draw::Nothing;
    }
    match (thing.word(key::DRAWS), rated_volts(thing)) {
        (Some("power"), Some(volts)) => Draw::Power(volts * amps),
        (Some("resistance"), Some(volts)) => Draw::Resistance(volts / amps),
        _ => Draw::Current(amps),
    }
}

/// Rated voltage: as stated, else the middle of the supply range.
fn rated_volts(thing: &Thing) -> Option<Volts> {
    let middle = || thing.range::<Volts>(key::SUPPLY).map(|(low, high)| (low + high) / 2.0);
    thing.get(key::VOLTAGE).or_else(middle)
}

/// The lowest supply voltage it works with: the lower end of `supply` (of a single value 10 % less), else 90 % of
/// `voltage`.
#[must_use]
pub(crate) fn lowest_supply(thing: &Thing) -> Option<Volts> {
    match thing.range::<Volts>(key::SUPPLY) {
        Some((low, high)) if low < high => Some(low),
        Some((only, _)) => Some(only * (1.0 - SUPPLY_MARGIN)),
        None => thing.get::<Volts>(key::VOLTAGE).map(|volts| volts * (1.0 - SUPPLY_MARGIN)),
    }
}

/// Whether a load works for as long as it has power, without being told to.
fn is_electronics(thing: &Thing) -> bool {
    matches!(thing.id(), KindId::Controller | KindId::Receiver | KindId::Sensor | KindId::Meter)
}

fn is_amplifier(thing: &Thing) -> bool {
    thing.id() == KindId::Amplifier
}

/// Whether `resistance` is that of the load: an amplifier's is its speaker's, a motor's that of its winding.
fn is_its_own(thing: &Thing) -> bool {
    !matches!(thing.id(), KindId::Amplifier | KindId::Motor)
}

/// The law of a load in a state.
pub(super) fn law(thing: &Thing, state: State) -> Law {
    let State::Draws(level) = state else { return Law::Open };
    let cutoff = lowest_supply(thing).unwrap_or(usual::CUTOFF).max(usual::CUTOFF);
    match draw(thing, level) {
        Draw::Nothing | Draw::Unknown => Law::Open,
        Draw::Current(amps) => Law::CurrentLoad { amps, cutoff },
        Draw::Power(watts) => Law::PowerLoad { watts, cutoff },
        Draw::Resistance(ohms) => Law::Resistor(ohms.max(usual::LEAST)),
    }
}
