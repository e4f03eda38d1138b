//! Corners: the ends of what a robot in order may stand at, in each mode.

use crate::topology::Charge;

/// Where batteries, regulators and conductors stand within what is allowed to them.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Corner {
    /// The state of charge of every battery.
    pub charge: Charge,
    /// Where in their tolerance all regulators are set.
    pub regulators: Setting,
    /// How warm conductors and coils are.
    pub conductors: Warmth,
}

/// Where in its tolerance a regulator's output is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Setting {
    /// At the lower end: `output` × (1 − `tolerance`).
    Low,
    /// At the upper end: `output` × (1 + `tolerance`).
    High,
}

/// How warm conductors and coils are.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Warmth {
    /// At 20 °C.
    Cold,
    /// Each wire as warm as its current makes it in the warmest air of its mode, each coil as after hours of work.
    Hot,
}

impl Setting {
    /// Both ends.
    pub const ALL: [Self; 2] = [Self::Low, Self::High];

    /// As machines write it and as people say it of a regulator.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Low => "low",
            Self::High => "high",
        }
    }
}

impl Warmth {
    /// Both ends.
    pub const ALL: [Self; 2] = [Self::Cold, Self::Hot];

    /// As machines write it and as people say it of a wire.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Cold => "cold",
            Self::Hot => "hot",
        }
    }
}

impl Corner {
    /// How many there are.
    pub const COUNT: usize = Charge::ALL.len() * Setting::ALL.len() * Warmth::ALL.len();

    /// The corner that stands for a charge where the rest does not matter: the regulators high, which makes them draw
    /// most, the conductors cold.
    #[must_use]
    pub const fn of(charge: Charge) -> Self {
        Self { charge, regulators: Setting::High, conductors: Warmth::Cold }
    }

    /// Every corner, in the order of the points of a mode: cold before hot, low before high, and packs run down.
    pub fn all() -> impl Iterator<Item = Self> {
        let settings = |conductors| Setting::ALL.map(|regulators| (conductors, regulators));
        let corners =
            |(conductors, regulators)| Charge::ALL.map(|charge| Self { charge, regulators, conductors });
        Warmth::ALL.into_iter().flat_map(settings).flat_map(corners)
    }

    /// Its position in [`Self::all`].
    #[must_use]
    pub const fn index(self) -> usize {
        let chain = self.conductors as usize * Setting::ALL.len() + self.regulators as usize;
        chain * Charge::ALL.len() + self.charge as usize
    }

    /// Whether it is one of those that [`Self::of`] names.
    #[must_use]
    pub fn is_plain(self) -> bool {
        self == Self::of(self.charge)
    }

    /// `empty packs, regulators high, wires hot`.
    #[must_use]
    pub fn words(self) -> String {
        let Self { charge, regulators, conductors } = self;
        format!("{} packs, regulators {}, wires {}", charge.word(), regulators.word(), conductors.word())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_corner_stands_where_its_index_says() {
        let all: Vec<Corner> = Corner::all().collect();
        assert_eq!(all.len(), Corner::COUNT);
        assert!(all.iter().enumerate().all(|(at, corner)| corner.index() == at));
        assert_eq!(all.iter().filter(|corner| corner.is_plain()).count(), Charge::ALL.len());
    }

    #[test]
    fn corners_are_told_in_words() {
        let corner = Corner { charge: Charge::Empty, regulators: Setting::Low, conductors: Warmth::Hot };
        assert_eq!(corner.words(), "empty packs, regulators low, wires hot");
    }
}
