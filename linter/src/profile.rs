//! Profiles: the basis on which a robot's conductors and their protection are judged.
//!
//! Published ampacities disagree by a factor of two, for they assume different things. A profile is one author's choice
//! with its sources; nothing is averaged between them. Each figure says which table, column and factors gave it.

use wattle_grammar::quantity::{Amps, Celsius, Metres, SquareMm, Volts};

mod aircraft;
mod boat;
mod handbook;
mod still_air;
mod surroundings;
mod working;

use crate::physics::standard_size::{self, StandardSize};

/// A basis for ampacity and protection.
#[derive(Clone, Debug)]
pub struct Profile {
    /// The word in a robot's text and in the settings.
    pub word: &'static str,
    /// What it is called in a report.
    pub name: &'static str,
    /// Its sources, as a sentence for a report.
    pub source: &'static str,
    /// Temperature class assumed for insulation that is not stated.
    pub default_insulation: Celsius,
    /// How far from its source a conductor may run before its protective device.
    pub bare_distance: Metres,
    /// The same where the conductor is sheathed or enclosed over that whole length.
    pub sheathed_distance: Metres,
    /// Where the distances come from.
    pub distance_source: &'static str,
    ampacity: fn(&Conductor) -> Option<Ampacity>,
    device_limit: fn(&Conductor, Volts) -> Option<DeviceLimit>,
}

/// A copper conductor in its surroundings.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Conductor {
    /// Copper area.
    pub area: SquareMm,
    /// Temperature class of the insulation.
    pub insulation: Celsius,
    /// Air temperature.
    pub ambient: Celsius,
    /// Loaded conductors side by side, this one included; 1 is alone.
    pub bundle: u32,
}

/// What a conductor may carry continuously.
#[derive(Clone, Debug, PartialEq)]
pub struct Ampacity {
    /// The current, all factors applied; 0 A where the air is already as warm as the insulation may be.
    pub amps: Amps,
    /// Table, column and factors, as a sentence.
    pub basis: String,
}

/// The largest protective device for a conductor.
#[derive(Clone, Debug, PartialEq)]
pub struct DeviceLimit {
    /// Up to this rating the device protects the conductor by the book's plain rule.
    pub preferred: Amps,
    /// Up to this rating the profile still allows it; never below `preferred`.
    pub allowed: Amps,
    /// The rule, as a sentence.
    pub basis: String,
}

/// Every profile, the default first.
pub static ALL: &[Profile] = &[boat::PROFILE, aircraft::PROFILE, still_air::PROFILE];

/// The profile of a robot that names none.
pub const DEFAULT: Profile = boat::PROFILE;

/// The profile a word names.
#[must_use]
pub fn by_word(word: &str) -> Option<&'static Profile> {
    ALL.iter().find(|profile| profile.word == word)
}

/// The share of its ampacity that is left to each of so many loaded conductors side by side: 33 CFR 183.425 table 5
/// note 2, from memory, applied at any voltage.
#[must_use]
pub const fn bundle_share(loaded: u32) -> f64 {
    surroundings::bundle_factor(loaded).0
}

impl Profile {
    /// What a conductor may carry continuously; `None` when the profile does not cover its size or insulation.
    #[must_use]
    pub fn ampacity(&self, conductor: &Conductor) -> Option<Ampacity> {
        (self.ampacity)(conductor)
    }

    /// The largest protective device for a conductor in a system of a voltage (use the highest, at end of charge);
    /// `None` when the profile does not cover its size or insulation.
    #[must_use]
    pub fn device_limit(&self, conductor: &Conductor, system: Volts) -> Option<DeviceLimit> {
        (self.device_limit)(conductor, system)
    }

    /// The thinnest thicker standard size that may carry `amps` in the conductor's surroundings, gauge or metric as the
    /// author writes sizes.
    #[must_use]
    pub fn size_for(&self, amps: Amps, conductor: &Conductor, awg: bool) -> Option<(StandardSize, Ampacity)> {
        standard_size::above(conductor.area, awg).into_iter().find_map(|size| {
            let ampacity = self.ampacity(&Conductor { area: size.area, ..*conductor })?;
            (ampacity.amps >= amps).then_some((size, ampacity))
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::physics::conductor::awg_area;

    fn conductor(gauge: i32, insulation: f64, ambient: f64, bundle: u32) -> Conductor {
        Conductor {
            area: awg_area(gauge),
            insulation: Celsius(insulation),
            ambient: Celsius(ambient),
            bundle,
        }
    }

    #[test]
    fn the_words_of_the_setting_are_those_of_the_profiles() {
        use wattle_grammar::kind::{key, rating_in, setting};
        let row = rating_in(setting::ROBOT, key::PROFILE).unwrap();
        let words: Vec<&str> = row.words().iter().map(|(word, _)| *word).collect();
        assert_eq!(words, ALL.iter().map(|profile| profile.word).collect::<Vec<_>>());
    }

    #[test]
    fn words_find_their_profiles_and_the_default_is_first() {
        for profile in ALL {
            assert_eq!(by_word(profile.word).map(|found| found.name), Some(profile.name));
        }
        assert_eq!(ALL[0].word, DEFAULT.word);
        assert!(by_word("boot").is_none());
    }

    #[test]
    fn thicker_cooler_and_looser_never_carry_less() {
        for profile in ALL {
            let amps = |gauge, class, air, bundle| {
                profile.ampacity(&conductor(gauge, class, air, bundle)).map(|found| found.amps)
            };
            for class in [60.0, 75.0, 105.0, 150.0, 200.0] {
                for air in [20.0, 40.0, 55.0, 65.0] {
                    for bundle in [1, 3, 6, 24, 40] {
                        let sizes: Vec<_> =
                            (-3..=26).rev().filter_map(|gauge| amps(gauge, class, air, bundle)).collect();
                        assert!(sizes.len() > 20, "{}", profile.word);
                        assert!(sizes.is_sorted(), "{} {class} {air} {bundle} {sizes:?}", profile.word);
                        assert!(amps(14, class, air, bundle) >= amps(14, class, air + 5.0, bundle));
                        assert!(amps(20, class, air, bundle) >= amps(20, class, air, bundle + 3));
                        assert!(amps(18, class + 20.0, air, bundle) >= amps(18, class, air, bundle));
                    }
                }
            }
        }
    }

    #[test]
    fn a_device_is_never_allowed_less_than_preferred() {
        for profile in ALL {
            for gauge in -3..=24 {
                for volts in [12.0, 49.9, 50.0, 58.8] {
                    let found = profile.device_limit(&conductor(gauge, 75.0, 35.0, 4), Volts(volts)).unwrap();
                    assert!(found.allowed >= found.preferred, "{} {gauge} {volts}", profile.word);
                    assert!(!found.basis.is_empty());
                }
            }
        }
    }

    #[test]
    fn the_next_size_that_carries_the_current_is_found_in_the_authors_system() {
        let found =
            |awg| DEFAULT.size_for(Amps(30.0), &conductor(14, 60.0, 30.0, 1), awg).map(|(size, _)| size.name);
        assert_eq!(found(true), Some("10 AWG"));
        assert_eq!(found(false), Some("6 mm²"));
        let huge = DEFAULT.size_for(Amps(900.0), &conductor(14, 60.0, 30.0, 1), true);
        assert_eq!(huge, None);
    }
}
