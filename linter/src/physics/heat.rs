//! How warm a conductor gets, and what it may carry, alone in still air.
//!
//! The balance: Joule heat of the conductor = heat through the insulation = natural convection from a horizontal
//! cylinder (Churchill and Chu 1975, Int. J. Heat Mass Transfer 18, 1049) + radiation to surroundings at the air's
//! temperature.

use std::f64::consts::PI;

use wattle_grammar::quantity::{Amps, Celsius, Metres, SquareMm};

use super::{
    air::Air,
    conductor::{COPPER, solid_diameter},
    constant::{
        COPPER_MELTS, GRAVITY, INSULATION_CONDUCTIVITY, INSULATION_EMISSIVITY, STEFAN_BOLTZMANN,
        STRANDED_DIAMETER, STRANDED_RESISTANCE, ZERO_CELSIUS,
    },
    root,
    unit::{HeatTransfer, WattsPerMetre},
};

/// An insulated round copper conductor.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Cable {
    /// Copper area.
    pub area: SquareMm,
    /// Thickness of the insulation; 0 for a bare or enamelled wire.
    pub wall: Metres,
    /// How the conductor is made.
    pub make: Make,
}

/// How a conductor is made.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Make {
    /// One round wire.
    Solid,
    /// Strands: a little wider and a little more resistance than solid.
    Stranded,
}

impl Cable {
    /// Stranded, with the wall of a thin-walled wire: 0.4 mm up to 2.5 mm², 0.5 mm up to 6 mm², 0.8 mm above (common
    /// practice). Careful: in this range of diameters a thicker wall gives off *more* heat.
    #[must_use]
    pub fn thin_walled(area: SquareMm) -> Self {
        let wall = match area.0 {
            small if small <= 2.5 => 0.4e-3,
            middle if middle <= 6.0 => 0.5e-3,
            _ => 0.8e-3,
        };
        Self { area, wall: Metres(wall), make: Make::Stranded }
    }

    fn copper_diameter(&self) -> Metres {
        let factor = if self.make == Make::Stranded { STRANDED_DIAMETER } else { 1.0 };
        solid_diameter(self.area) * factor
    }

    fn outside_diameter(&self) -> Metres {
        self.copper_diameter() + self.wall * 2.0
    }

    /// Heat resistance of the insulation of one metre, K m/W.
    fn insulation_resistance(&self) -> f64 {
        (self.outside_diameter() / self.copper_diameter()).ln() / (2.0 * PI * INSULATION_CONDUCTIVITY)
    }

    /// Electrical resistance of one metre, Ω/m.
    pub(super) fn ohms_per_metre(&self, conductor: Celsius) -> f64 {
        let lay = if self.make == Make::Stranded { STRANDED_RESISTANCE } else { 1.0 };
        lay * COPPER.resistance(self.area, Metres(1.0), conductor).0
    }

    /// Temperature of the conductor when the surface is at `surface`.
    pub(super) fn conductor_under(&self, surface: Celsius, air: Celsius) -> Celsius {
        self.losing(surface, air).1
    }

    /// What a metre gives off with its surface at `surface`, and the conductor's temperature then.
    pub(super) fn losing(&self, surface: Celsius, air: Celsius) -> (WattsPerMetre, Celsius) {
        let loss = surface_loss(self.outside_diameter(), surface, air);
        (loss, surface + Celsius(loss.0 * self.insulation_resistance()))
    }

    /// Temperature of the surface in steady state, when the conductor is at `conductor`, which is not below the air.
    pub(super) fn surface_over(&self, conductor: Celsius, air: Celsius) -> Celsius {
        let most = (conductor - air).0;
        if most <= 0.0 {
            return air;
        }
        let rise = root::rising(most, |rise| (self.conductor_under(air + Celsius(rise), air) - air).0 / most);
        air + Celsius(rise)
    }

    /// Current that keeps the surface at `surface`.
    pub(super) fn current_under(&self, surface: Celsius, air: Celsius) -> Amps {
        let (loss, conductor) = self.losing(surface, air);
        Amps((loss.0 / self.ohms_per_metre(conductor)).sqrt())
    }
}

/// Natural convection from a long horizontal cylinder in still air, by Churchill and Chu:
/// `Nu = (0.6 + 0.387 Ra^(1/6) / (1 + (0.559/Pr)^(9/16))^(8/27))²`, air at the film temperature.
#[must_use]
pub fn convection(diameter: Metres, surface: Celsius, air: Celsius) -> HeatTransfer {
    let film = Air::at((surface + air) / 2.0);
    let rise = (surface - air).0.abs();
    let grashof = GRAVITY * rise * diameter.0.powi(3) / (film.kelvin * film.viscosity * film.viscosity);
    let rayleigh = grashof * film.prandtl;
    HeatTransfer(nusselt(rayleigh, film.prandtl) * film.conductivity / diameter.0)
}

/// The mean Nusselt number of a horizontal cylinder, from its Rayleigh and Prandtl numbers.
fn nusselt(rayleigh: f64, prandtl: f64) -> f64 {
    let fluid = (1.0 + (0.559 / prandtl).powf(9.0 / 16.0)).powf(8.0 / 27.0);
    (0.6 + 0.387 * rayleigh.powf(1.0 / 6.0) / fluid).powi(2)
}

/// Radiation from a surface of emissivity 0.9 to black surroundings at the air's temperature (Stefan–Boltzmann).
#[must_use]
pub fn radiation(surface: Celsius, air: Celsius) -> HeatTransfer {
    let (hot, cold) = (surface.0 + ZERO_CELSIUS, air.0 + ZERO_CELSIUS);
    HeatTransfer(INSULATION_EMISSIVITY * STEFAN_BOLTZMANN * (hot * hot + cold * cold) * (hot + cold))
}

/// Heat that one metre of a horizontal cylinder gives off by convection and radiation.
#[must_use]
pub fn surface_loss(diameter: Metres, surface: Celsius, air: Celsius) -> WattsPerMetre {
    let coefficient = convection(diameter, surface, air).0 + radiation(surface, air).0;
    WattsPerMetre(coefficient * PI * diameter.0 * (surface - air).0)
}

/// The current that keeps the conductor at `limit` in air at `air`; 0 A when the air is already as warm.
#[must_use]
pub fn ampacity(cable: Cable, limit: Celsius, air: Celsius) -> Amps {
    if limit <= air {
        return Amps(0.0);
    }
    cable.current_under(cable.surface_over(limit, air), air)
}

/// The temperature a conductor settles at, carrying `current` in air at `air`; `None` when it melts first.
#[must_use]
pub fn steady_temperature(cable: Cable, current: Amps, air: Celsius) -> Option<Celsius> {
    let current = current.abs();
    if current.0.is_nan() || current > cable.current_under(COPPER_MELTS, air) {
        return None;
    }
    let rise =
        root::rising((COPPER_MELTS - air).0, |rise| cable.current_under(air + Celsius(rise), air) / current);
    let settled = cable.conductor_under(air + Celsius(rise), air);
    Some(settled).filter(|conductor| *conductor < COPPER_MELTS)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    #[test]
    fn nusselt_number_of_the_published_check() {
        // Pr 0.69, Gr 2.63e9 gives Nu 139.13493970073597, the printed self-check of a public heat transfer library.
        assert!((nusselt(2.63e9 * 0.69, 0.69) - 139.134_939_700_735_97).abs() < 1e-9);
    }

    #[test]
    fn steady_temperature_inverts_ampacity() {
        for area in [0.129, 0.823, 3.31, 33.6] {
            let cable = Cable::thin_walled(SquareMm(area));
            let amps = ampacity(cable, Celsius(90.0), Celsius(35.0));
            let settled = steady_temperature(cable, amps, Celsius(35.0)).unwrap();
            assert!((settled.0 - 90.0).abs() < 1e-6, "{area} {settled:?}");
        }
    }

    #[test]
    fn no_current_no_rise_and_too_much_melts() {
        let cable = Cable::thin_walled(SquareMm(0.5));
        let idle = steady_temperature(cable, Amps(0.0), Celsius(20.0)).unwrap();
        assert!((idle.0 - 20.0).abs() < 1e-6);
        assert_eq!(steady_temperature(cable, Amps(1000.0), Celsius(20.0)), None);
        assert_eq!(ampacity(cable, Celsius(60.0), Celsius(60.0)), Amps(0.0));
    }

    /// Where `below` turns from true to false: what the quick search is held against.
    fn halved(low: f64, high: f64, below: impl Fn(f64) -> bool) -> f64 {
        let (mut low, mut high) = (low, high);
        for _ in 0..100 {
            let middle = f64::midpoint(low, high);
            if below(middle) { low = middle } else { high = middle }
        }
        f64::midpoint(low, high)
    }

    proptest! {
        #[test]
        fn the_quick_search_finds_what_halving_finds(
            area in 0.02..300.0_f64,
            wall in 0.0..3e-3_f64,
            air in -40.0..90.0_f64,
            limit in 40.0..300.0_f64,
            share in 0.0..1.2_f64,
        ) {
            let cable = Cable { area: SquareMm(area), wall: Metres(wall), make: Make::Stranded };
            let air = Celsius(air);
            let amps = ampacity(cable, Celsius(limit), air);
            if limit > air.0 {
                let surface = halved(air.0, limit, |at| cable.conductor_under(Celsius(at), air).0 < limit);
                let slow = cable.current_under(Celsius(surface), air);
                prop_assert!((amps.0 - slow.0).abs() <= 1e-9 * slow.0.max(1.0), "{amps} {slow}");
            }
            let current = Amps(share * cable.current_under(COPPER_MELTS, air).0);
            let at = halved(air.0, COPPER_MELTS.0, |at| cable.current_under(Celsius(at), air) < current);
            let slow = cable.conductor_under(Celsius(at), air);
            match steady_temperature(cable, current, air) {
                Some(quick) => prop_assert!((quick.0 - slow.0).abs() <= 1e-9 * slow.0.abs().max(1.0), "{quick} {slow}"),
                None => prop_assert!(share > 1.0 || slow >= COPPER_MELTS - Celsius(1e-6)),
            }
        }
    }

    #[test]
    fn hostile_currents_melt_or_do_nothing() {
        let cable = Cable::thin_walled(SquareMm(0.5));
        for current in [f64::NAN, f64::INFINITY, f64::MAX, 1e300] {
            assert_eq!(steady_temperature(cable, Amps(current), Celsius(20.0)), None);
        }
        for current in [0.0, -0.0, 1e-300, 1e-9, 1e-4] {
            let settled = steady_temperature(cable, Amps(current), Celsius(20.0)).unwrap();
            assert!((settled.0 - 20.0).abs() < 1e-6, "{current} {settled:?}");
        }
    }

    #[test]
    fn a_thicker_wall_carries_more_so_the_thin_one_is_careful() {
        for area in [0.2, 0.8, 5.0, 50.0] {
            let thin = Cable::thin_walled(SquareMm(area));
            let thick = Cable { wall: thin.wall * 2.0, ..thin };
            let (limit, air) = (Celsius(60.0), Celsius(30.0));
            assert!(ampacity(thin, limit, air) < ampacity(thick, limit, air), "{area}");
        }
    }
}
