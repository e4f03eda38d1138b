//! How long a wire's insulation stands a fault current.

use wattle_grammar::quantity::{AmpSquaredSeconds, Amps, Celsius, Kelvins, Seconds, SquareMm};

use super::resistance::class;
use crate::{
    design::Wire,
    physics::{adiabatic, unit::AdiabaticK},
    profile::Conductor,
};

/// What a wire stands for a short time.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Withstand {
    /// Factor of the metal and the insulation.
    pub k: AdiabaticK,
    /// Cross-section.
    pub area: SquareMm,
    /// The energy it stands: k² S².
    pub energy: AmpSquaredSeconds,
    /// Temperature class of the insulation, at which the short begins.
    pub class: Celsius,
    /// Whether that class is written.
    pub class_is_stated: bool,
    /// What the insulation stands for the few seconds of a short.
    pub last: Celsius,
    /// What it carries for good, by the profile; none where the profile does not cover it.
    pub ampacity: Option<Amps>,
    /// The air around it.
    pub ambient: Celsius,
}

/// So far above its class thermoplastic insulation is let run while a fault lasts (ICEA emergency overload of cables for
/// 75 °C: 95 °C; from memory).
const EMERGENCY: Kelvins = Kelvins(20.0);

/// How long a current is stood.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Stands {
    /// For good: it is within the ampacity.
    ForGood,
    /// Above the ampacity, but the insulation never comes to its short-circuit temperature: it ages.
    Ages,
    /// So long, no heat leaving the copper.
    Adiabatic(Seconds),
    /// So long, the heat counted that leaves the wire: the adiabatic law is meant for up to 5 s.
    Cooled(Seconds),
}

impl Withstand {
    /// Of a wire in its surroundings.
    pub(super) fn of(wire: &Wire, conductor: Option<Conductor>, ampacity: Option<Amps>) -> Option<Self> {
        let area = wire.size.as_ref().map(|size| size.area).filter(|area| area.0 > 0.0)?;
        let class = class(wire);
        let last = adiabatic::short_circuit_limit(class);
        let k = if wire.aluminium {
            adiabatic::aluminium_factor(class, last)
        } else {
            adiabatic::factor(class, last)
        };
        Some(Self {
            k,
            area,
            energy: adiabatic::withstand_energy(k, area),
            class,
            class_is_stated: wire.insulation.is_some(),
            last,
            ampacity: ampacity.filter(|amps| amps.0 > 0.0 && amps.0.is_finite()),
            ambient: conductor.map_or(class, |conductor| conductor.ambient),
        })
    }

    /// Whether a current above its ampacity lifts it so little above its class that a fault may last: by 20 K at most.
    #[must_use]
    pub fn is_mild(&self, current: Amps) -> bool {
        let rise = self.class.0 - self.ambient.0;
        self.ampacity.is_some_and(|ampacity| {
            let ratio = current.abs() / ampacity;
            rise * ratio * ratio <= rise.max(0.0) + EMERGENCY.0
        })
    }

    /// How long it stands a current.
    ///
    /// Up to 5 s by the adiabatic law (IEC 60364-4-43). Above, a wire that carries its ampacity `Ia` at its class
    /// temperature and gives heat off in proportion to its rise: `t = τ ln((θ − θ₁) / (θ − θ₂))` with the rise θ₁ at
    /// class temperature, θ₂ at the short-circuit limit, `θ = θ₁ (I/Ia)²`, `τ = k² S² θ₁ / ((θ₂ − θ₁) Ia²)`: the same
    /// heat balance with one more term, textbook; never less than the adiabatic time.
    #[must_use]
    pub fn stands(&self, current: Amps) -> Stands {
        let current = current.abs();
        if self.ampacity.is_some_and(|ampacity| current <= ampacity) || current.0 <= 0.0 {
            return Stands::ForGood;
        }
        let adiabatic = adiabatic::withstand_time(self.k, self.area, current);
        let (Some(ampacity), rise) = (self.ampacity, self.class.0 - self.ambient.0) else {
            return Stands::Adiabatic(adiabatic);
        };
        let more = self.last.0 - self.class.0;
        if adiabatic <= adiabatic::LONGEST || rise <= 0.0 || more <= 0.0 {
            return Stands::Adiabatic(adiabatic);
        }
        let ratio = current / ampacity;
        let last = rise * ratio * ratio;
        if last <= rise + more {
            return Stands::Ages;
        }
        let constant = self.energy.0 * rise / (more * ampacity.0 * ampacity.0);
        let time = constant * ((last - rise) / (last - rise - more)).ln();
        if time.is_finite() { Stands::Cooled(adiabatic.max(Seconds(time))) } else { Stands::Ages }
    }
}

impl Stands {
    /// The time; `None` for one without end.
    #[must_use]
    pub const fn time(self) -> Option<Seconds> {
        match self {
            Self::Adiabatic(time) | Self::Cooled(time) => Some(time),
            Self::ForGood | Self::Ages => None,
        }
    }
}
