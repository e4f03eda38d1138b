//! How a conductor warms while a current lasts: from no heat lost at all in the first moments to the steady balance.
//!
//! `c A dT/dt = I² R(T) − q(T)`: the heat capacity is that of the copper alone, so that with `q = 0` it is the adiabatic
//! equation of IEC 60364-4-43; `q` is the heat balance of [`super::heat`], lowered by one factor so that the ampacity of the
//! author's profile, with its bundle, is what keeps the conductor at its class. Careful three times over: the insulation
//! takes up no heat, a balance above the profile's counts as the profile's, and each step is taken with the greater net
//! heat of its two ends.

use wattle_grammar::quantity::{Amps, Celsius, Seconds};

use super::{
    constant::{COPPER_ADIABATIC, COPPER_MELTS, COPPER_RESISTIVITY, COPPER_ZERO, REFERENCE_TEMPERATURE},
    heat::{self, Cable},
    root,
};

/// Steps between two temperatures; 32 come within 2 % of many more (see the test).
const STEPS: u32 = 32;

/// A conductor in its surroundings, as it warms and cools.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Warming {
    cable: Cable,
    class: Celsius,
    air: Celsius,
    /// Share of the still-air loss that is counted.
    share: f64,
}

/// Heat capacity of copper, J/(K mm³): that which makes the adiabatic constant of IEC 60949, `K² = c (β + 20) / ρ₂₀`;
/// 3.45e-3 in its table I (from memory).
fn heat_capacity() -> f64 {
    let ohm_millimetres = COPPER_RESISTIVITY.0 * 1e3;
    COPPER_ADIABATIC * COPPER_ADIABATIC * ohm_millimetres / (COPPER_ZERO + REFERENCE_TEMPERATURE.0)
}

impl Warming {
    /// A conductor of an insulation class in air at `air` that may carry `ampacity` for as long as one likes; 0 A where
    /// the air is as warm as its class: then no heat is lost.
    #[must_use]
    pub fn new(cable: Cable, class: Celsius, air: Celsius, ampacity: Amps) -> Self {
        let balance = heat::ampacity(cable, class, air);
        let share = if balance > Amps(0.0) { (ampacity / balance).powi(2).min(1.0) } else { 0.0 };
        Self { cable, class, air, share }
    }

    /// The temperature that `current` settles at, not above the class.
    #[must_use]
    pub fn settled(&self, current: Amps) -> Celsius {
        let surface = self.cable.surface_over(self.class, self.air);
        let most = (surface - self.air).0;
        if self.share <= 0.0 || most <= 0.0 || self.net(surface, current) >= 0.0 {
            return self.class.max(self.air);
        }
        let rise = root::rising(most, |rise| {
            let (loss, conductor) = self.cable.losing(self.air + Celsius(rise), self.air);
            self.share * loss.0 / (current.0.powi(2) * self.cable.ohms_per_metre(conductor))
        });
        self.cable.losing(self.air + Celsius(rise), self.air).1
    }

    /// How long `current` takes from one temperature to another; without end where it settles before. Not too long: see
    /// the room's own words.
    #[must_use]
    pub fn time(&self, from: Celsius, to: Celsius, current: Amps) -> Seconds {
        let from = from.max(self.air);
        if to <= from {
            return Seconds(0.0);
        }
        if !(current.0.is_finite()) {
            return Seconds(0.0);
        }
        let (low, high) = (self.cable.surface_over(from, self.air), self.cable.surface_over(to, self.air));
        let mut last = self.at(low, current);
        let mut seconds = 0.0;
        for step in 1..=STEPS {
            let share = f64::from(step) / f64::from(STEPS);
            let here = self.at(low + (high - low) * share, current);
            if here.net <= 0.0 {
                return Seconds(f64::INFINITY);
            }
            seconds += self.capacity() * (here.conductor - last.conductor).0 / here.net.max(last.net);
            last = here;
        }
        Seconds(seconds)
    }

    /// The temperature after `current` has flowed for `time`; copper's melting point at most. Not too low.
    #[must_use]
    pub fn after(&self, from: Celsius, current: Amps, time: Seconds) -> Celsius {
        let most = (COPPER_MELTS - from).0;
        if most <= 0.0 || self.time(from, COPPER_MELTS, current) <= time {
            return COPPER_MELTS;
        }
        // Halved: the time to a temperature that is never reached has no logarithm.
        let (mut low, mut high) = (0.0, most);
        for _ in 0..30 {
            let middle = f64::midpoint(low, high);
            if self.time(from, from + Celsius(middle), current) <= time {
                low = middle
            } else {
                high = middle
            }
        }
        from + Celsius(high)
    }

    /// Heat capacity of a metre of the copper, J/(K m).
    fn capacity(&self) -> f64 {
        heat_capacity() * self.cable.area.0 * 1e3
    }

    fn at(&self, surface: Celsius, current: Amps) -> Moment {
        let (loss, conductor) = self.cable.losing(surface, self.air);
        let net = current.0.powi(2) * self.cable.ohms_per_metre(conductor) - self.share * loss.0;
        Moment { conductor, net }
    }

    fn net(&self, surface: Celsius, current: Amps) -> f64 {
        self.at(surface, current).net
    }
}

/// A conductor at one moment: its temperature, and the heat that a metre of it keeps, W/m.
#[derive(Clone, Copy, Debug)]
struct Moment {
    conductor: Celsius,
    net: f64,
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;
    use wattle_grammar::quantity::SquareMm;

    use super::*;
    use crate::physics::adiabatic;

    fn wire(area: f64, share: f64) -> Warming {
        let (cable, class, air) = (Cable::thin_walled(SquareMm(area)), Celsius(90.0), Celsius(30.0));
        Warming::new(cable, class, air, heat::ampacity(cable, class, air) * share)
    }

    #[test]
    fn the_heat_capacity_is_that_of_the_table() {
        // IEC 60949 table I: copper 3.45e-3 J/(K mm³) (from memory).
        assert!((heat_capacity() / 3.45e-3 - 1.0).abs() < 0.01, "{}", heat_capacity());
    }

    #[test]
    fn a_short_is_the_adiabatic_equation() {
        // IEC 60364-4-43: t = (k S / I)², k from 70 °C to 160 °C; 2 % for the lay of the strands.
        for (area, amps) in [(1.5, 600.0), (4.0, 1500.0), (10.0, 4000.0)] {
            let k = adiabatic::factor(Celsius(70.0), Celsius(160.0));
            let law = adiabatic::withstand_time(k, SquareMm(area), Amps(amps));
            let ours = wire(area, 1.0).time(Celsius(70.0), Celsius(160.0), Amps(amps));
            let ratio = ours / law;
            assert!((0.95..1.0).contains(&ratio), "{area} {ratio}");
        }
    }

    #[test]
    fn at_the_ampacity_the_class_is_where_it_settles() {
        for share in [0.4, 0.7, 1.0] {
            let warming = wire(1.5, share);
            let ampacity = heat::ampacity(warming.cable, warming.class, warming.air) * share;
            assert!((warming.settled(ampacity * 0.999_999).0 - 90.0).abs() < 1e-3);
            assert_eq!(warming.time(Celsius(30.0), Celsius(90.0), ampacity * 0.99), Seconds(f64::INFINITY));
            assert!(warming.time(Celsius(30.0), Celsius(90.0), ampacity * 1.05).0.is_finite());
        }
    }

    #[test]
    fn the_time_is_near_that_of_a_thousand_steps_and_never_longer() {
        let warming = wire(2.5, 0.7);
        let (from, to) = (Celsius(40.0), Celsius(90.0));
        for amps in [30.0, 40.0, 80.0, 300.0] {
            let current = Amps(amps);
            let (low, high) =
                (warming.cable.surface_over(from, warming.air), warming.cable.surface_over(to, warming.air));
            let mut fine = 0.0;
            for step in 0..1000 {
                let at = |step: f64| warming.at(low + (high - low) * (step / 1000.0), current);
                let (one, two) = (at(f64::from(step)), at(f64::from(step) + 1.0));
                fine +=
                    warming.capacity() * (two.conductor - one.conductor).0 / f64::midpoint(one.net, two.net);
            }
            let ratio = warming.time(from, to, current).0 / fine;
            assert!((0.95..=1.0).contains(&ratio), "{amps} {ratio}");
        }
    }

    #[test]
    fn without_loss_the_air_is_the_class_and_nothing_is_nan() {
        let cable = Cable::thin_walled(SquareMm(1.0));
        let hot = Warming::new(cable, Celsius(60.0), Celsius(60.0), Amps(0.0));
        assert_eq!(hot.settled(Amps(1.0)), Celsius(60.0));
        assert_eq!(hot.time(Celsius(60.0), Celsius(60.0), Amps(1.0)), Seconds(0.0));
        assert_eq!(wire(1.0, 1.0).after(Celsius(30.0), Amps(f64::INFINITY), Seconds(1.0)), COPPER_MELTS);
        assert_eq!(wire(1.0, 1.0).time(Celsius(30.0), Celsius(90.0), Amps(0.0)), Seconds(f64::INFINITY));
    }

    #[test]
    fn time_constants_are_those_of_wires() {
        // Order of size from handbooks of wiring: 18 AWG some half a minute to a minute, 25 mm² some minutes.
        assert!((15.0..90.0).contains(&time_constant(wire(0.823, 1.0)).0));
        assert!((120.0..900.0).contains(&time_constant(wire(25.0, 1.0)).0));
    }

    /// In how long nearly its ampacity brings a conductor 63 % of the way to where it settles.
    fn time_constant(warming: Warming) -> Seconds {
        let current = heat::ampacity(warming.cable, warming.class, warming.air) * 0.98;
        let rise = warming.settled(current) - warming.air;
        warming.time(warming.air, warming.air + rise * 0.632, current)
    }

    proptest! {
        #[test]
        fn more_current_is_sooner_and_time_and_temperature_agree(
            area in 0.1..50.0_f64, share in 0.0..1.2_f64, start in 30.0..89.0_f64, over in 1.05..30.0_f64,
        ) {
            let warming = wire(area, share);
            let current = heat::ampacity(warming.cable, warming.class, warming.air) * over;
            let (from, to) = (Celsius(start), Celsius(90.0));
            let time = warming.time(from, to, current);
            prop_assert!(time.0 > 0.0 && time.0.is_finite());
            prop_assert!(warming.time(from, to, current * 1.1) < time);
            let reached = warming.after(from, current, time);
            prop_assert!((reached - to).0.abs() < 0.05, "{reached}");
        }
    }
}
