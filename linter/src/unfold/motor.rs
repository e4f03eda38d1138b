//! Motors: winding, back-EMF and the current of a level.

use wattle_grammar::{
    kind::key,
    quantity::{Amps, Ohms, Volts},
};

use super::{
    load::{Draw, draw},
    usual,
};
use crate::{
    design::{Design, Level, State, Thing},
    network::Law,
    physics::motor::{running_emf, stall_current, winding_resistance},
    topology::rating::system_voltage,
};

/// What a motor is electrically.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Motor {
    /// Rated voltage: `voltage`, else the robot's.
    pub volts: Volts,
    /// Winding: `resistance`, else `voltage` over `stall`, else over eight times `typical`, else 1 Ω.
    pub winding: Ohms,
    /// Current at stall and rated voltage: `stall`, else `voltage` over the winding.
    pub stall: Amps,
    /// Voltage it makes when turned from outside: `pushed`, else its rated voltage.
    pub pushed: Volts,
}

/// The figures of a motor.
#[must_use]
pub fn motor(design: &Design, thing: &Thing) -> Motor {
    let volts = thing.get::<Volts>(key::VOLTAGE).unwrap_or_else(|| system_voltage(design));
    let positive = |amps: &Amps| *amps > Amps(0.0);
    let of_stall =
        || thing.get::<Amps>(key::STALL).filter(positive).map(|amps| winding_resistance(volts, amps));
    let of_typical = || {
        let typical = thing.get::<Amps>(key::TYPICAL).filter(positive)?;
        Some(winding_resistance(volts, typical * usual::STALL_OVER_TYPICAL))
    };
    let winding = thing
        .get::<Ohms>(key::RESISTANCE)
        .or_else(of_stall)
        .or_else(of_typical)
        .unwrap_or(usual::WINDING)
        .max(usual::LEAST);
    Motor {
        volts,
        winding,
        stall: thing.get(key::STALL).unwrap_or_else(|| stall_current(volts, winding)),
        pushed: thing.get(key::PUSHED).unwrap_or(volts),
    }
}

impl Motor {
    /// The current the motor is to draw in a state: of a level, nothing in any other state.
    pub(super) fn current(&self, thing: &Thing, state: State) -> Amps {
        let State::Draws(level) = state else { return Amps(0.0) };
        if level == Level::Stall {
            return self.stall;
        }
        match draw(thing, level) {
            Draw::Current(amps) => amps,
            Draw::Power(watts) => watts / self.volts,
            // A motor's own resistance is its winding: `draw` never answers with it unless `draws` says so.
            Draw::Resistance(_) | Draw::Nothing | Draw::Unknown => Amps(0.0),
        }
    }

    /// The voltage over the motor while it draws `current` in a state, at most what its supply gives: at stall only its
    /// winding holds against it, otherwise it turns as fast as its rated voltage lets it.
    pub(super) fn volts(&self, state: State, current: Amps, supply: Volts) -> Volts {
        let wanted = if state == State::Draws(Level::Stall) { current * self.winding } else { self.volts };
        wanted.min(supply)
    }

    /// Back-EMF of a motor that a driver feeds: what is left of its voltage behind the winding, at least 0.
    pub(super) fn emf(&self, volts: Volts, current: Amps) -> Volts {
        running_emf(volts, current, self.winding).max(Volts(0.0))
    }

    /// The law of the winding when no driver drives it, and of the second element that a motor straight on its supply
    /// needs, since such a motor draws either way round.
    pub(super) fn laws(&self, thing: &Thing, state: State, has_bridge: bool) -> (Law, Law) {
        let at_rest = Law::Source { emf: Volts(0.0), resistance: self.winding };
        match state {
            State::Turned => (Law::Source { emf: self.pushed, resistance: self.winding }, Law::Open),
            _ if has_bridge => (at_rest, Law::Open),
            State::Draws(Level::Stall) => (at_rest, Law::Open),
            _ => {
                let amps = self.current(thing, state);
                let draws = if amps > Amps(0.0) {
                    Law::CurrentLoad { amps, cutoff: usual::CUTOFF }
                } else {
                    Law::Open
                };
                (draws, draws)
            }
        }
    }
}
