//! An element as the search sees it: between two clusters, with its curve and how it stands at the moment.

use super::{curve::Curve, extended::Extended};

const NO_SLOT: u32 = u32::MAX;

/// Which elements take part.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) enum Stage {
    /// Sources hold their voltage without limit; what is neither source nor resistance is away.
    Sources,
    /// Everything but power loads.
    Unloaded,
    /// Everything.
    #[default]
    Loaded,
}

impl Stage {
    /// How a curve acts at this stage.
    pub(super) fn acting(self, curve: Curve) -> Curve {
        match (self, curve) {
            (Self::Sources, Curve::Held { conductance, .. }) if curve.is_source() => {
                Curve::Held { conductance, low: f64::NEG_INFINITY, high: f64::INFINITY }
            }
            (Self::Sources, Curve::Held { .. }) | (Self::Sources | Self::Unloaded, Curve::Power { .. }) => {
                Curve::OPEN
            }
            _ => curve,
        }
    }
}

/// An element: what it is, and how it stands.
#[derive(Clone, Copy, Debug)]
pub(super) struct Branch {
    /// The cluster of its `a`.
    pub from: u32,
    /// The cluster of its `b`.
    pub to: u32,
    /// Its place in the factor; none when it lies within one cluster.
    slot: u32,
    /// What the offsets of its nodes in their clusters add to its voltage, volt.
    pub offset: f64,
    /// What its law adds before the curve is asked, volt.
    pub shift: f64,
    /// Its curve.
    pub curve: Curve,
    /// The voltage that the curve is asked at, volt.
    pub volts: f64,
    /// Current from `a` to `b`, ampere.
    pub amps: f64,
    /// Slope of the current, siemens.
    pub slope: f64,
}

impl Branch {
    /// An element that draws nothing yet.
    pub(super) fn new((from, to): (u32, u32), slot: Option<usize>, offset: f64) -> Self {
        let slot = slot.map_or(NO_SLOT, |slot| slot as u32);
        Self { from, to, slot, offset, shift: 0.0, curve: Curve::OPEN, volts: 0.0, amps: 0.0, slope: 0.0 }
    }

    /// Its place in the factor, unless it lies within one cluster.
    pub(super) fn slot(&self) -> Option<usize> {
        (self.slot != NO_SLOT).then_some(self.slot as usize)
    }

    /// Whether it lies between two clusters and so takes part in the balance.
    pub(super) fn is_between(&self) -> bool {
        self.from != self.to
    }

    /// The current that its source, or those of its clusters, would drive through a short circuit, ampere.
    pub(super) fn prospective(&self) -> f64 {
        match self.curve {
            Curve::Held { conductance, .. } => conductance * (self.offset + self.shift).abs(),
            Curve::Fixed(amps) => amps.abs(),
            Curve::Power { .. } => 0.0,
        }
    }

    /// Takes its voltage from the clusters and finds its current and slope.
    pub(super) fn look(&mut self, stage: Stage, levels: &[Extended]) {
        let (from, to) = (levels[self.from as usize], levels[self.to as usize]);
        self.volts = from.minus_plus(to, self.offset + self.shift);
        let acting = stage.acting(self.curve);
        self.amps = acting.amps(self.volts);
        self.slope = acting.slope(self.volts);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_limited_source_has_no_limit_while_sources_are_guessed() {
        let curve = Curve::Held { conductance: 10.0, low: -2.0, high: 0.0 };
        let mut branch = Branch::new((0, 1), None, 0.0);
        (branch.curve, branch.shift) = (curve, -5.0);
        branch.look(Stage::Sources, &[Extended::default(); 2]);
        assert_eq!((branch.amps, branch.slope), (-50.0, 10.0));
        branch.look(Stage::Unloaded, &[Extended::default(); 2]);
        assert_eq!((branch.amps, branch.slope), (-2.0, 0.0));
    }
}
