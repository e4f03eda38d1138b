//! The current of an element as a function of its voltage, in the three forms that the solver knows.

use wattle_grammar::quantity::{Amps, Ohms, Volts, Watts};

use crate::network::Law;

/// Resistors and sources below this, ohm, are perfect joints and ideal sources: no real joint comes near it.
pub(super) const PERFECT: f64 = 1e-12;

/// What a contact, a diode or a limited source of 0 Ω counts as, ohm: they must stay elements, since they switch.
pub(super) const SWITCHED: f64 = 1e-9;

/// The share of its width, or of a volt where that is more, that a bounded curve reaches beyond its bounds before it
/// counts as cut off. Without it, the rounding of an unloaded regulator's voltage would decide whether its output floats.
pub(super) const EDGE: f64 = 1e-9;

/// How far beyond its bounds a curve still rises, ampere. One of no width is cut off everywhere.
pub(super) fn edge(conductance: f64, width: f64) -> f64 {
    if width.is_finite() && width > 0.0 { EDGE * width.max(conductance) } else { 0.0 }
}

/// A diode this little above its forward drop, volt, counts as blocked: it is rounding that put it there.
const HARDLY: f64 = 1e-9;

/// Slope that a cut-off element is given, as a share of its own, when a step must be found across it.
const LEAK: f64 = 1e-6;

/// Current over voltage. The voltage is counted from where the curve begins to rise: see [`Curve::shift`].
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Curve {
    /// `i = conductance · v`, held between `low` and `high`.
    Held { conductance: f64, low: f64, high: f64 },
    /// A power load: see [`Law::PowerLoad`].
    Power { watts: f64, cutoff: f64 },
    /// A given current.
    Fixed(f64),
}

/// Whether a law joins its two nodes rigidly: their voltages differ by a given amount, whatever the current.
pub(super) fn is_rigid(law: &Law) -> bool {
    match *law {
        Law::Resistor(Ohms(resistance)) | Law::Source { resistance: Ohms(resistance), .. } => {
            resistance < PERFECT
        }
        _ => false,
    }
}

impl Curve {
    /// Draws nothing.
    pub(super) const OPEN: Self = Self::Fixed(0.0);

    /// The curve of a law.
    pub(super) fn new(law: &Law) -> Self {
        match *law {
            Law::Resistor(Ohms(resistance)) | Law::Source { resistance: Ohms(resistance), .. } => {
                Self::Held { conductance: 1.0 / resistance, low: f64::NEG_INFINITY, high: f64::INFINITY }
            }
            Law::LimitedSource { resistance: Ohms(resistance), limit: Amps(limit), sinks, .. } => {
                let high = if sinks { f64::INFINITY } else { 0.0 };
                Self::Held { conductance: 1.0 / resistance.max(SWITCHED), low: -limit, high }
            }
            Law::Diode { resistance: Ohms(resistance), .. } => {
                Self::Held { conductance: 1.0 / resistance.max(SWITCHED), low: 0.0, high: f64::INFINITY }
            }
            Law::CurrentLoad { amps: Amps(amps), cutoff: Volts(cutoff) } => {
                Self::Held { conductance: amps / cutoff, low: 0.0, high: amps }
            }
            Law::PowerLoad { watts: Watts(watts), cutoff: Volts(cutoff) } => Self::Power { watts, cutoff },
            Law::Current(Amps(amps)) => Self::Fixed(amps),
            Law::Open => Self::OPEN,
        }
    }

    /// What to add to the voltage from `a` to `b` before the curve is asked, volt.
    pub(super) fn shift(law: &Law) -> f64 {
        match *law {
            Law::Source { emf: Volts(emf), .. } | Law::LimitedSource { emf: Volts(emf), .. } => -emf,
            Law::Diode { drop: Volts(drop), .. } => -drop,
            _ => 0.0,
        }
    }

    /// Whether it is a straight line.
    pub(super) fn is_straight(self) -> bool {
        match self {
            Self::Held { low, high, .. } => low == f64::NEG_INFINITY && high == f64::INFINITY,
            Self::Power { watts, .. } => watts == 0.0,
            Self::Fixed(_) => true,
        }
    }

    /// Whether it is a source or a resistance: it has a current without a voltage to drive it, or both ways.
    pub(super) fn is_source(self) -> bool {
        matches!(self, Self::Held { low, .. } if low < 0.0)
    }

    /// The current, ampere.
    pub(super) fn amps(self, v: f64) -> f64 {
        match self {
            Self::Held { conductance, low, high } => (conductance * v).max(low).min(high),
            Self::Power { watts, cutoff } if v >= cutoff => watts / v,
            Self::Power { watts, cutoff } => (watts / (cutoff * cutoff) * v).max(0.0),
            Self::Fixed(amps) => amps,
        }
    }

    /// The voltage at which a source or a diode that is cut off begins to rise; `None` for loads and where it rises.
    pub(super) fn beginning(self, v: f64) -> Option<f64> {
        let Self::Held { conductance, low, high } = self else { return None };
        if low == 0.0 && high.is_finite() {
            return None;
        }
        if conductance * v < low {
            return Some(low / conductance);
        }
        (conductance * v > high).then_some(high / conductance)
    }

    /// The slope of the current, siemens; negative for a power load at work.
    pub(super) fn slope(self, v: f64) -> f64 {
        match self {
            Self::Held { conductance, low, high } => {
                let width = high - low;
                let edge = edge(conductance, width);
                let free = conductance * v;
                if free > low - edge && free < high + edge { conductance } else { 0.0 }
            }
            Self::Power { watts, cutoff } if v >= cutoff => -watts / (v * v),
            Self::Power { watts, cutoff } if v > -EDGE * cutoff => watts / (cutoff * cutoff),
            Self::Power { .. } | Self::Fixed(_) => 0.0,
        }
    }

    /// A slope above 0 for a careful step: a load's secant, a leak where nothing flows or a source is at its limit. 0
    /// only for a given current.
    pub(super) fn firm_slope(self, v: f64) -> f64 {
        let (secant, leak) = match self {
            Self::Held { conductance, .. } if self.is_source() => (0.0, LEAK * conductance),
            Self::Held { conductance, .. } => (self.amps(v) / v, LEAK * conductance),
            Self::Power { watts, cutoff } => (self.amps(v) / v, LEAK * watts / (cutoff * cutoff)),
            Self::Fixed(_) => return 0.0,
        };
        let slope = self.slope(v);
        if slope > 0.0 { slope } else { secant.max(leak) }
    }

    /// Whether it joins its nodes electrically: current flows, or would with the least change of voltage.
    pub(super) fn conducts(self, v: f64) -> bool {
        match self {
            Self::Held { low: 0.0, high: f64::INFINITY, .. } => v > HARDLY,
            _ => self.amps(v) != 0.0 || self.slope(v) != 0.0,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn power(v: f64) -> f64 {
        Curve::new(&Law::PowerLoad { watts: Watts(60.0), cutoff: Volts(6.0) }).amps(v)
    }

    #[test]
    fn a_power_load_is_a_resistance_below_its_cutoff_and_nothing_in_reverse() {
        assert_eq!([power(12.0), power(6.0), power(3.0), power(-1.0)], [5.0, 10.0, 5.0, 0.0]);
    }

    #[test]
    fn a_current_load_falls_in_proportion() {
        let curve = Curve::new(&Law::CurrentLoad { amps: Amps(2.0), cutoff: Volts(4.0) });
        assert_eq!([curve.amps(9.0), curve.amps(2.0), curve.amps(-2.0)], [2.0, 1.0, 0.0]);
    }

    #[test]
    fn a_limited_source_holds_its_current_and_blocks() {
        let law =
            Law::LimitedSource { emf: Volts(5.0), resistance: Ohms(0.5), limit: Amps(2.0), sinks: false };
        let curve = Curve::new(&law);
        let at = |v: f64| curve.amps(v + Curve::shift(&law));
        assert_eq!([at(4.5), at(0.0), at(6.0)], [-1.0, -2.0, 0.0]);
    }

    #[test]
    fn an_unloaded_source_still_holds_its_node() {
        let law =
            Law::LimitedSource { emf: Volts(5.0), resistance: Ohms(1e-3), limit: Amps(2.0), sinks: false };
        assert!(Curve::new(&law).conducts(0.0) && Curve::new(&law).conducts(1e-10));
        assert!(!Curve::new(&law).conducts(0.1));
    }

    #[test]
    fn the_firm_slope_is_never_negative() {
        let curve = Curve::new(&Law::PowerLoad { watts: Watts(60.0), cutoff: Volts(6.0) });
        assert!(curve.slope(12.0) < 0.0);
        assert!([-1.0, 0.0, 3.0, 12.0].iter().all(|&v| curve.firm_slope(v) > 0.0));
    }
}
