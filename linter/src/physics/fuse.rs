//! When a fuse or breaker opens: the band between its earliest and its latest time, by style.
//!
//! Limits are published at a few multiples of the rating only. Between them one law of heat carries a limit to a higher
//! or lower current: an element that is heated by the current and cooled by its surroundings needs no more `I²t` to open
//! at a higher current than at a lower one, for it has less time to lose heat. So what must open within 5 s at 2 times
//! its rating must open within 2.1 s at 3.1 times.

use std::cmp::Ordering::Equal;

use wattle_grammar::quantity::{AmpSquaredSeconds, Amps, Ohms, Seconds, Share};

use super::evidence::Evidence;

mod style;

pub use style::ALL;

/// Multiple of the rating below which a device of unknown style may carry a current for long: fuses for wires must
/// open from 1.35 times on (ISO 8820-3, seen; UL 248-14, seen).
pub const MAY_CARRY_FOR_LONG: f64 = 1.35;

/// What a fuse may carry for ever, as a share of its rating, in air of 25 °C: makers' selection guides, from memory.
pub const CONTINUOUS_LOAD: Share = Share(0.75);

/// No opening is counted as quicker than this: the law is about melting, and the arc lasts some milliseconds more.
pub const QUICKEST: Seconds = Seconds(0.01);

/// Of two fuses of one family in a row the one that is at most half as large opens alone (common practice; makers publish
/// a ratio for each family, mostly 1.6 to 2).
pub const SAME_FAMILY_RATIO: f64 = 2.0;

/// A current that lasts this long unlatches the instantaneous trip of a breaker; what a fuse ends sooner need not (common
/// practice: some milliseconds, up to half a period of the mains).
pub const UNLATCHES: Seconds = Seconds(0.01);

/// A style of protective device.
#[derive(Clone, Debug, PartialEq)]
pub struct Style {
    /// The word in a robot's text.
    pub word: &'static str,
    /// The speed word it holds for; `None`: for any speed.
    pub speed: Option<&'static str>,
    /// What it is called in a sentence.
    pub name: &'static str,
    /// Where the limits come from.
    pub source: &'static str,
    /// Fuses or breakers that are built alike, so that the ratio of two ratings tells which opens first.
    pub family: &'static str,
    /// Limits at multiples of the rating, in rising order.
    pub limits: &'static [Limit],
    /// Of a breaker that trips at once: the multiple of its rating from which it may, and that from which it surely does.
    pub instantaneous: Option<(f64, f64)>,
}

/// What the style's standard demands at one multiple of the rating.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Limit {
    /// Multiple of the rating.
    pub multiple: f64,
    /// It must not open before this; `None`: it may open at once.
    pub earliest: Option<Seconds>,
    /// It must have opened by this; `None`: it need not open.
    pub latest: Option<Seconds>,
    /// What the row is worth.
    pub evidence: Evidence,
}

/// When a device opens at a current.
#[derive(Clone, Debug, PartialEq)]
pub struct Opening {
    /// Not before this.
    pub earliest: Seconds,
    /// Not after this; `None`: it may never open.
    pub latest: Option<Seconds>,
    /// The weakest evidence among the limits used.
    pub evidence: Evidence,
    /// The limits used, as a sentence.
    pub basis: String,
}

/// When a device opens at a current, in numbers.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Times {
    /// Not before this.
    pub earliest: Seconds,
    /// Not after this; `None`: it may never open.
    pub latest: Option<Seconds>,
    /// The weakest evidence among the limits used.
    pub evidence: Evidence,
    /// The limit that the latest time is carried from.
    pub slow: Option<&'static Limit>,
    /// The limit that the earliest time is carried from.
    pub fast: Option<&'static Limit>,
}

impl Limit {
    /// The limit on the latest time, carried to a multiple that is not below this row's.
    fn latest_at(&self, multiple: f64) -> Option<Seconds> {
        let latest = self.latest?;
        Some(latest.min(self.carried(latest, multiple).max(QUICKEST)))
    }

    /// The limit on the earliest time, carried to a multiple that is not above this row's.
    fn earliest_at(&self, multiple: f64) -> Option<Seconds> {
        Some(self.carried(self.earliest?, multiple))
    }

    /// The time with the same `I²t` at another multiple.
    fn carried(&self, time: Seconds, multiple: f64) -> Seconds {
        time * (self.multiple / multiple).powi(2)
    }
}

impl Style {
    /// The style of a fuse or breaker by its word, and its speed (`fast`, `slow`) where stated; `None` when no limits are
    /// known for it.
    #[must_use]
    pub fn by_word(word: &str, speed: Option<&str>) -> Option<&'static Self> {
        let exact =
            ALL.iter().find(|style| style.word == word && style.speed.is_some() && style.speed == speed);
        exact.or_else(|| ALL.iter().find(|style| style.word == word && style.speed.is_none()))
    }

    /// The largest multiple of the rating that it is known to carry without opening.
    #[must_use]
    pub fn carries(&self) -> Option<Share> {
        let quiet = self.limits.iter().take_while(|limit| limit.latest.is_none()).last()?;
        Some(Share(quiet.multiple))
    }

    /// The smallest multiple of the rating that it is sure to open at, sooner or later.
    #[must_use]
    pub fn opens(&self) -> Option<Share> {
        let sure = self.limits.iter().find(|limit| limit.latest.is_some())?;
        Some(Share(sure.multiple))
    }

    /// When a device of this style opens at a current; `None` when the rating is not above 0.
    #[must_use]
    pub fn opening(&self, rated: Amps, current: Amps) -> Option<Opening> {
        let Times { earliest, latest, evidence, slow, fast } = self.times(rated, current)?;
        let basis = self.sentence(current.abs() / rated, slow, fast);
        Some(Opening { earliest, latest, evidence, basis })
    }

    /// The same without the sentence; quick.
    #[must_use]
    pub fn times(&self, rated: Amps, current: Amps) -> Option<Times> {
        if rated <= Amps(0.0) || !current.0.is_finite() {
            return None;
        }
        let multiple = current.abs() / rated;
        let slow = self.limits.iter().filter(|limit| limit.multiple <= multiple && limit.latest.is_some());
        let slow = slow.min_by(|one, other| {
            one.latest_at(multiple).partial_cmp(&other.latest_at(multiple)).unwrap_or(Equal)
        });
        let fast = self.limits.iter().find(|limit| limit.multiple >= multiple && limit.earliest.is_some());
        let evidence = [slow, fast].into_iter().flatten().map(|limit| limit.evidence).max();
        Some(Times {
            earliest: fast.and_then(|limit| limit.earliest_at(multiple)).unwrap_or(Seconds(0.0)),
            latest: slow.and_then(|limit| limit.latest_at(multiple)),
            evidence: evidence.unwrap_or(Evidence::Seen),
            slow,
            fast,
        })
    }

    /// The least energy that opens it, as far as its limits tell: `I²t` of the last limit that says how long it holds.
    /// For pulses that are so short that no heat leaves the element.
    #[must_use]
    pub fn least_energy(&self, rated: Amps) -> Option<AmpSquaredSeconds> {
        let last =
            self.limits.iter().rev().find(|limit| limit.earliest.is_some() && limit.latest.is_some())?;
        Some(AmpSquaredSeconds((rated.0 * last.multiple).powi(2) * last.earliest?.0))
    }

    /// The most energy that it lets pass at a current before the element has parted; `None` when it need not open. The
    /// arc, which lasts some milliseconds more, is not in it.
    #[must_use]
    pub fn most_energy(&self, rated: Amps, current: Amps) -> Option<AmpSquaredSeconds> {
        if rated <= Amps(0.0) {
            return None;
        }
        let multiple = current.abs() / rated;
        let passed = self.limits.iter().filter(|limit| limit.multiple <= multiple);
        let energies = passed.filter_map(|limit| Some((rated.0 * limit.multiple).powi(2) * limit.latest?.0));
        energies.reduce(f64::min).map(AmpSquaredSeconds)
    }

    fn sentence(&self, multiple: f64, slow: Option<&Limit>, fast: Option<&Limit>) -> String {
        let mut parts = vec![format!("{} at {multiple:.2} times its rating", self.name)];
        if let Some((limit, time)) = fast.and_then(|limit| Some((limit, limit.earliest?))) {
            parts.push(format!("holds at least {time} at {} times", limit.multiple));
        }
        match slow.and_then(|limit| Some((limit, limit.latest?))) {
            Some((limit, time)) => {
                parts.push(format!("must have opened within {time} at {} times", limit.multiple));
            }
            None => parts.push("need not open".to_owned()),
        }
        format!("{} ({})", parts.join(", "), self.source)
    }
}

/// The currents that overheat a wire without the device being sure to open: from the wire's ampacity to the current at
/// which the device must open; `None` when there are none.
#[must_use]
pub fn unprotected_band(style: Option<&Style>, rated: Amps, ampacity: Amps) -> Option<(Amps, Amps)> {
    let opens = rated * style.and_then(Style::opens).map_or(MAY_CARRY_FOR_LONG, |share| share.0);
    (ampacity < opens).then_some((ampacity, opens))
}

/// Melting time of a fuse whose melting energy is known: `t = I²t / I²`. Holds for short times only, and adds no arc.
#[must_use]
pub fn melting_time(melting: AmpSquaredSeconds, current: Amps) -> Seconds {
    Seconds(melting.0 / (current.0 * current.0))
}

/// How many times its cold resistance a blade fuse has at its rating: 109 mV at 10 A against 7.70 mΩ cold, a maker's
/// data sheet as seen. Taken for every fuse.
pub const HOT_OVER_COLD: f64 = 0.109 / 10.0 / 7.70e-3;

/// Cold resistance of a fuse of a rating, by the blade fuses whose data sheets were read: rating and milliohm.
const COLD_MILLIOHMS: &[(f64, f64)] = &[(1.0, 123.0), (2.0, 53.5), (4.0, 22.8), (10.0, 7.70), (25.0, 2.36)];

/// Cold resistance of a fuse: by the voltage over it at its rating, interpolated between the listed blade fuses
/// (`R · In` falls from 123 mV at 1 A to 59 mV at 25 A) and held beyond them. Hot it is about 40 % higher.
///
/// Makers' data sheets for 1, 2, 4, 10 and 25 A were read; for other ratings and styles it is an estimate. `None` when
/// the rating is not above 0.
#[must_use]
pub fn cold_resistance(rated: Amps) -> Option<Ohms> {
    (rated > Amps(0.0)).then(|| Ohms(millivolts_at(rated.0) / rated.0 * 1e-3))
}

/// Rating times cold resistance, millivolt, in a straight line over the logarithm of the rating.
fn millivolts_at(rated: f64) -> f64 {
    let after = COLD_MILLIOHMS.iter().position(|&(amps, _)| amps >= rated);
    let millivolts =
        |index: usize| COLD_MILLIOHMS.get(index).map(|&(amps, milliohms)| (amps, amps * milliohms));
    let high = millivolts(after.unwrap_or(COLD_MILLIOHMS.len() - 1));
    let low = millivolts(after.unwrap_or(COLD_MILLIOHMS.len()).saturating_sub(1));
    match (low, high) {
        (Some((low_amps, low_drop)), Some((high_amps, high_drop))) if high_amps > low_amps => {
            let share = (rated / low_amps).ln() / (high_amps / low_amps).ln();
            low_drop + (high_drop - low_drop) * share
        }
        (_, Some((_, drop))) => drop,
        _ => 0.0,
    }
}

#[cfg(test)]
mod tests {
    use wattle_grammar::kind::{self, RatingShape, key};

    use super::*;

    fn blade() -> &'static Style {
        Style::by_word("blade", None).unwrap()
    }

    #[test]
    fn listed_multiples_give_the_listed_times() {
        // ISO 8820-3 limits at 2 and 3.5 times, from memory of vendor sheets: 0.15 to 5 s, 0.04 to 0.5 s.
        let at = |amps| blade().opening(Amps(10.0), Amps(amps)).unwrap();
        assert_eq!((at(20.0).earliest, at(20.0).latest), (Seconds(0.15), Some(Seconds(5.0))));
        assert_eq!((at(35.0).earliest, at(35.0).latest), (Seconds(0.04), Some(Seconds(0.5))));
        assert_eq!(at(20.0).evidence, Evidence::Memory);
        assert_eq!(at(13.5).evidence, Evidence::Seen);
    }

    #[test]
    fn between_listed_multiples_the_energy_is_carried() {
        let opening = blade().opening(Amps(10.0), Amps(31.0)).unwrap();
        assert!((opening.latest.unwrap().0 - 5.0 * (2.0_f64 / 3.1).powi(2)).abs() < 1e-12);
        assert!((opening.earliest.0 - 0.04 * (3.5_f64 / 3.1).powi(2)).abs() < 1e-12);
    }

    #[test]
    fn more_current_never_opens_later() {
        for style in ALL {
            let times: Vec<_> = (105..3000)
                .filter_map(|percent| style.opening(Amps(1.0), Amps(f64::from(percent) / 100.0)))
                .collect();
            let latest = times.iter().filter_map(|opening| opening.latest);
            assert!(latest.is_sorted_by(|one, next| one >= next), "{}", style.name);
            assert!(
                times.iter().all(|opening| opening.latest.is_none_or(|latest| opening.earliest <= latest))
            );
        }
    }

    #[test]
    fn a_blade_fuse_may_never_open_below_135_percent() {
        // ISO 8820-3: carries 1.10 times for 100 h, must open within 600 s at 1.35 times (seen).
        let quiet = blade().opening(Amps(40.0), Amps(44.0)).unwrap();
        assert!((quiet.earliest / Seconds(360_000.0) - 1.0).abs() < 1e-12);
        assert_eq!(quiet.latest, None);
        let sure = blade().opening(Amps(40.0), Amps(54.0)).unwrap();
        assert_eq!(sure.latest, Some(Seconds(600.0)));
        assert_eq!(blade().carries(), Some(Share(1.10)));
        assert_eq!(blade().opens(), Some(Share(1.35)));
    }

    #[test]
    fn beyond_the_last_limit_nothing_is_promised_early() {
        let opening = blade().opening(Amps(10.0), Amps(500.0)).unwrap();
        assert_eq!((opening.earliest, opening.latest), (Seconds(0.0), Some(QUICKEST)));
    }

    #[test]
    fn the_unprotected_band_ends_where_the_device_must_open() {
        let (from, to) = unprotected_band(Some(blade()), Amps(20.0), Amps(22.0)).unwrap();
        assert_eq!((from, to), (Amps(22.0), Amps(27.0)));
        assert_eq!(unprotected_band(Some(blade()), Amps(20.0), Amps(27.0)), None);
        assert!(unprotected_band(None, Amps(20.0), Amps(26.0)).is_some());
    }

    #[test]
    fn cold_resistance_meets_the_data_sheets() {
        for &(amps, milliohms) in COLD_MILLIOHMS {
            let ohms = cold_resistance(Amps(amps)).unwrap();
            assert!((ohms.0 * 1e3 / milliohms - 1.0).abs() < 1e-12, "{amps}");
        }
        assert!((cold_resistance(Amps(100.0)).unwrap().0 - 0.59e-3).abs() < 1e-12);
        assert!((cold_resistance(Amps(0.5)).unwrap().0 - 0.246).abs() < 1e-12);
        assert!(cold_resistance(Amps(0.0)).is_none());
    }

    #[test]
    fn cold_resistance_falls_as_the_rating_grows() {
        let ohms: Vec<_> = (1..60).filter_map(|amps| cold_resistance(Amps(f64::from(amps)))).collect();
        assert!(ohms.is_sorted_by(|one, next| one > next));
    }

    #[test]
    fn limits_rise_and_times_fall() {
        for style in ALL {
            assert!(style.limits.is_sorted_by(|one, next| one.multiple < next.multiple), "{}", style.word);
            let latest: Vec<_> = style.limits.iter().filter_map(|limit| limit.latest).collect();
            assert!(latest.is_sorted_by(|one, next| one >= next), "{}", style.word);
            let earliest: Vec<_> = style.limits.iter().filter_map(|limit| limit.earliest).collect();
            assert!(earliest.is_sorted_by(|one, next| one >= next), "{}", style.word);
        }
    }

    #[test]
    fn every_style_is_a_word_of_the_language() {
        let words = |word, key| {
            let rating = kind::by_word(word).and_then(|kind| kind.rating(key)).unwrap();
            match rating.shape {
                RatingShape::Word(words) => words.iter().map(|(word, _)| *word).collect::<Vec<_>>(),
                _ => Vec::new(),
            }
        };
        let styles = [words("fuse", key::STYLE), words("breaker", key::STYLE)].concat();
        let speeds = words("fuse", key::SPEED);
        for style in ALL {
            assert!(styles.contains(&style.word), "{}", style.word);
            assert!(style.speed.is_none_or(|speed| speeds.contains(&speed)), "{}", style.name);
        }
    }

    #[test]
    fn what_is_not_known_is_not_said() {
        assert!(blade().opening(Amps(0.0), Amps(900.0)).is_none());
        assert_eq!(Style::by_word("class-t", None), None);
        assert_eq!(Style::by_word("nail", Some("fast")), None);
    }

    #[test]
    fn a_cartridge_of_unknown_speed_is_as_wide_as_both_speeds() {
        let opening =
            |speed| Style::by_word("cartridge", speed).unwrap().opening(Amps(5.0), Amps(20.0)).unwrap();
        let (any, fast, slow) = (opening(None), opening(Some("fast")), opening(Some("slow")));
        assert_eq!(any.earliest, fast.earliest.min(slow.earliest));
        assert_eq!(any.latest, slow.latest);
        assert!(fast.latest < slow.latest);
    }

    #[test]
    fn a_breaker_carries_113_percent() {
        // IEC 60898-1 conventional currents: 1.13 times not tripping, 1.45 times tripping, within 1 h (1.45 seen).
        let breaker = Style::by_word("thermal-magnetic", None).unwrap();
        assert_eq!((breaker.carries(), breaker.opens()), (Some(Share(1.13)), Some(Share(1.45))));
    }
}
