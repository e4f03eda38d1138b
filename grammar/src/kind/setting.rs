//! What wires, harnesses, places, the robot, mates and modes can carry: rows of the same form as the ratings of kinds,
//! so that checks, completion and the reference read one source.

use super::{Rating, RatingShape, colour, key};
use crate::quantity::Dimension::{Area, Current, Length, Number, Ratio, Resistance, Temperature, Voltage};

/// What a `wire` and a core can carry.
pub const WIRE: &[Rating] = &[
    SIZE,
    LENGTH,
    COLOUR,
    INSULATION.inline().else_number(60.0, "careful: the lowest class in use"),
    INSULATION_VOLTAGE,
    MATERIAL,
    STRANDS,
    SHEATHED,
    SUPPLIED_TAIL,
    BUNDLE,
    Rating::quantity(
        key::CURRENT_LIMIT,
        Current,
        "A part at its source limits the current in it to this by design, also into a short, A.",
    ),
    Rating::of(key::LIMITED_BY, RatingShape::Reference, "The part that limits the current in it."),
    Rating::flag(key::SPARE, "Not connected on purpose, and capped.")
        .inline()
        .else_flag(false, "a wire is in use"),
    Rating::flag(key::PARALLEL_BY_INTENT, "Shares one current with its neighbours on purpose.")
        .inline()
        .else_flag(false, "two wires between the same points are usually a mistake"),
    NOTE,
];

/// What a `harness` or `cable` can carry; size, length, colour and insulation hold for each of its wires that has none.
pub const HARNESS: &[Rating] = &[
    SIZE,
    LENGTH,
    COLOUR,
    INSULATION_OF_MANY.inline(),
    INSULATION_VOLTAGE,
    MATERIAL,
    STRANDS,
    SHEATHED,
    BUNDLE,
    NOTE,
];

/// What a `place` can carry.
pub const PLACE: &[Rating] = &[
    Rating::range(key::AMBIENT, Temperature, "Air temperature there, °C; the upper end counts for wires.")
        .inline()
        .else_from("the robot's `ambient`"),
    Rating::flag(key::MOVING, "A joint moves there: wires that run through it flex.")
        .inline()
        .else_flag(false, "wires are taken to lie still"),
    Rating::flag(key::SEALED, "No air comes in or out.").inline().else_flag(false, "air is taken to move"),
    NOTE,
];

/// What the `robot` can carry.
pub const ROBOT: &[Rating] = &[
    Rating::range(
        key::AMBIENT,
        Temperature,
        "Air temperature around the robot, °C; the upper end counts for wires.",
    )
    .else_number(40.0, "careful: an enclosed robot indoors; common practice"),
    Rating::word(
        key::PROFILE,
        &[
            ("boat", "33 CFR 183.425 table 5 for conductors, with its bundle factors"),
            ("aircraft", "AC 43.13-1B chapter 11: device and continuous tables, bundle and altitude curves"),
            (
                "still-air",
                "a heat balance of the wire in still air: Churchill and Chu convection and radiation",
            ),
        ],
        "The published basis by which conductors and their protection are judged; every report names it.",
    )
    .else_word(
        "boat",
        "a published rule for small direct-current plants that has a column for low-class insulation",
    ),
    INSULATION_OF_MANY,
    NOTE,
];

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

/// What a signal terminal can be, on a line with the key `port`.
pub const PORT: &[Rating] = &[
    Rating::word(
        key::DIRECTION,
        &[
            ("input", "the part listens here"),
            ("output", "the part drives here"),
            ("both", "now one, now the other, as on a bus"),
        ],
        "Whether the signal comes in or goes out.",
    )
    .inline(),
    Rating::word(
        key::SIGNAL_TYPE,
        &[
            ("push-pull", "drives its signal both high and low"),
            ("open-drain", "only pulls its signal low; needs a pull-up to the level of the receiver"),
            ("passive", "a contact or resistance that drives nothing"),
            ("analog", "a voltage that means a measured value"),
            ("differential", "one of a pair whose difference counts"),
        ],
        "What drives the line.",
    )
    .inline(),
    Rating::word(
        key::PULL,
        &[
            ("pull-up", "a resistor holds the line high while nothing drives it"),
            ("pull-down", "a resistor holds the line low while nothing drives it"),
            ("terminated", "a resistor ends the line, as at both ends of a bus"),
            ("floating", "nothing holds the line while nothing drives it"),
        ],
        "What holds the line inside the part.",
    )
    .inline(),
    Rating::quantity(key::RESISTANCE, Resistance, "The resistor that holds or ends the line, Ω.").inline(),
    Rating::quantity(key::LOGIC, Voltage, "Voltage of the signal when it is high, V.").inline(),
    Rating::of(key::NOTE, RatingShape::Text, "What the signal is for.").inline(),
];

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
    Rating::quantity(key::AMBIENT, Temperature, "Air temperature in this mode, °C.")
        .else_from("the place's `ambient`"),
];

const SIZE: Rating = Rating::quantity(key::SIZE, Area, "Conductor size, `12 AWG` or `2.5 mm²`.").inline();

const LENGTH: Rating =
    Rating::quantity(key::LENGTH, Length, "Length of one conductor from end to end, m.").inline();

const COLOUR: Rating = Rating::word(
    key::COLOUR,
    colour::WORDS,
    "Colour of the insulation; a base colour and a stripe are written `red/white`.",
)
.inline();

const INSULATION: Rating =
    Rating::quantity(key::INSULATION, Temperature, "Temperature class of the insulation, °C.");

/// Of what sets it for several wires: a wire that has its own wins.
const INSULATION_OF_MANY: Rating = INSULATION
    .else_from("the wire's own, its harness's, the robot's, whichever is written first, else 60 °C");

const INSULATION_VOLTAGE: Rating =
    Rating::quantity(key::INSULATION_VOLTAGE, Voltage, "Voltage class of the insulation, V.");

const MATERIAL: Rating = Rating::word(
    key::MATERIAL,
    &[
        ("copper", "bare or soft-annealed copper"),
        ("tinned-copper", "tinned copper; hardly more resistance"),
        (
            "copper-clad-aluminium",
            "aluminium with a copper skin: about 1.6 times the resistance, breaks on flexing",
        ),
        ("aluminium", "aluminium: about 1.6 times the resistance"),
    ],
    "Conductor metal.",
)
.inline()
.else_word("copper", "nearly all wire sold for this use; cheap wire may be clad aluminium");

const STRANDS: Rating = Rating::word(
    key::STRANDS,
    &[
        ("solid", "one solid wire: breaks where it moves or shakes"),
        ("stranded", "ordinary strands"),
        ("fine", "fine strands for wires that move now and then"),
        ("extra-fine", "very fine strands for joints that move all the time"),
    ],
    "Stranding of the conductor.",
)
.inline();

const SHEATHED: Rating =
    Rating::flag(key::SHEATHED, "In a sheath, sleeve or enclosure over its whole length.")
        .inline()
        .else_flag(false, "a wire is taken to be open to chafing");

const SUPPLIED_TAIL: Rating = Rating::flag(key::SUPPLIED_TAIL, "The tail that its part came with.")
    .inline()
    .else_flag(false, "a wire is taken to be the builder's own");

const BUNDLE: Rating = Rating::quantity(
    key::BUNDLE,
    Number,
    "Number of conductors that run side by side, this one included, all loaded at the same time.",
)
.between(1.0, 1000.0)
.else_from("the loaded wires of its harness or cable, else 1");

const NOTE: Rating =
    Rating::of(key::NOTE, RatingShape::Text, "A remark for people; nothing is computed from it.");

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn colours_of_wires_are_the_table_of_colours() {
        assert_eq!(COLOUR.words(), colour::WORDS);
    }

    #[test]
    fn a_wire_takes_all_that_a_harness_can_give_it() {
        let missing: Vec<_> = HARNESS
            .iter()
            .filter(|given| !WIRE.iter().any(|own| own.key == given.key))
            .map(|row| row.key)
            .collect();
        assert!(missing.is_empty(), "{missing:?}");
    }
}
