//! What wires, harnesses, places, the robot, ties, mates, groups and modes can carry: rows of the same form as the
//! ratings of kinds, so that checks, completion and the reference read one source.

use super::{Rating, RatingShape, key};
use crate::quantity::Dimension::{Number, Ratio, Temperature, Time};

mod place;
mod port;
mod robot;
mod wire;

pub use place::PLACE;
pub use port::PORT;
pub use robot::ROBOT;
pub use wire::{HARNESS, WIRE};

/// What a `group` can carry.
pub const GROUP: &[Rating] = &[
    Rating::quantity(
        key::SIMULTANEITY,
        Number,
        "How many of its members work at once at most, as the program that moves them sees to; the others are idle \
         meanwhile. The members that draw most are taken to be the ones that work.",
    )
    .between(1.0, 1000.0)
    .else_from("all of them"),
    NOTE,
];

/// What a `tie` can carry.
pub const TIE: &[Rating] = &[BOND, BYPASS, NOTE];

/// What a `mate` can carry.
pub const MATE: &[Rating] = &[
    Rating::flag(key::MIRRORED, "The ways are joined in mirrored order on purpose: the first with the last.")
        .inline()
        .else_flag(false, "way joins the same way"),
    Rating::flag(key::CROSSOVER, "The functions cross over on purpose, as send and receive do.")
        .inline()
        .else_flag(false, "both halves are taken to mean the same by each way"),
    NOTE,
];

/// What a `mode` can carry besides the states of things.
pub const MODE: &[Rating] = &[
    Rating::quantity(key::DUTY, Ratio, "Share of the time that the loads draw their figure, `70 %`.")
        .else_number(1.0, "all the time"),
    Rating::quantity(
        key::SHARE,
        Ratio,
        "Share of a working day that is spent in this mode, `60 %`; the rest of the day the robot is put away (`standby`, else \
         `storage`, else `off`). The modes that have one are the mix that `expect runtime` without a mode is judged by.",
    )
    .else_from("0 %: the mode is no part of the mix"),
    Rating::quantity(key::AMBIENT, Temperature, "Air temperature in this mode, °C.")
        .usually(-40.0, 85.0)
        .else_from("the place's `ambient`"),
    Rating::flag(
        key::UNLOADED,
        "What moves has neither weight nor inertia on it, wheels up or joints taken off, so that braking gives next to \
         nothing back.",
    )
    .else_no("careful: what moves is taken to carry its load"),
    Rating::quantity(
        key::LASTS,
        Time,
        "How long it lasts at most, s, by its program or by whoever is at the controls: `lasts 3 s`.",
    )
    .usually(0.01, 86400.0),
    ATTENDED.else_no("careful: nobody is taken to stand by"),
    UNTIL,
    NOTE,
];

/// Joins the frame, or what is otherwise apart, on purpose.
const BOND: Rating = Rating::flag(
    key::BOND,
    "The one joint on purpose of what is otherwise apart: the frame with negative, or the negatives of two supplies.",
)
.else_no("a joint between two supplies or with the frame is usually a mistake");

/// A jumper.
const BYPASS: Rating = Rating::flag(
    key::BYPASS,
    "A jumper for tests and bring-up: it bridges or loops back what the finished robot does not.",
)
.else_no("a part of the finished robot");

/// Somebody stands by.
const ATTENDED: Rating = Rating::flag(
    key::ATTENDED,
    "Whenever it is powered somebody stands by who reaches a disconnect and knows it.",
);

/// For the time being.
const UNTIL: Rating =
    Rating::of(key::UNTIL, RatingShape::Date, "For the time being: the last day on which it may be used.");

/// When it was last looked at.
const VERIFIED: Rating = Rating::of(
    key::VERIFIED,
    RatingShape::Date,
    "The day on which what is written of it was last tried or compared on the robot itself.",
);

/// An unusual figure is meant.
const CONFIRMED: Rating = Rating::of(
    key::CONFIRMED,
    RatingShape::Text,
    "Why a figure that looks like a slip of prefix or unit is right.",
);

/// What insulation may have to stand, and what may be there.
const ATTACKS: &[(&str, &str)] = &[
    ("oil", "oil, grease and fuel"),
    ("water", "standing or running water, rain"),
    ("salt", "salt water and spray"),
    ("ultraviolet", "sunlight"),
    ("abrasion", "rubbing on other parts"),
];

const NOTE: Rating =
    Rating::of(key::NOTE, RatingShape::Text, "A remark for people; nothing is computed from it.");

#[cfg(test)]
mod tests {
    use super::{super::colour, *};

    /// What is true of a harness or cable as a whole and of none of its wires alone.
    const OF_THE_WHOLE: &[&str] = &[key::CROSSOVER, key::ADAPTER, key::RIBBON, key::SHEATH_DIAMETER];

    #[test]
    fn colours_are_the_table_of_colours() {
        let words = |rows: &'static [Rating], key| crate::kind::rating_in(rows, key).map(Rating::words);
        assert_eq!(words(WIRE, key::COLOUR), Some(colour::WORDS));
        assert_eq!(words(ROBOT, key::POSITIVE_COLOURS), Some(colour::WORDS));
        assert_eq!(words(ROBOT, key::NEGATIVE_COLOURS), Some(colour::WORDS));
    }

    #[test]
    fn a_wire_takes_all_that_a_harness_can_give_it() {
        let missing: Vec<_> = HARNESS
            .iter()
            .map(|row| row.key)
            .filter(|key| !WIRE.iter().any(|own| own.key == *key) && !OF_THE_WHOLE.contains(key))
            .collect();
        assert!(missing.is_empty(), "{missing:?}");
    }

    #[test]
    fn what_a_place_has_is_what_insulation_can_stand() {
        let words = |rows: &'static [Rating], key| crate::kind::rating_in(rows, key).map(Rating::words);
        assert_eq!(words(WIRE, key::INSULATION_RESISTS), words(PLACE, key::EXPOSED_TO));
    }
}
