//! What a `place` can carry.

use super::{
    super::{Rating, RatingShape, key},
    ATTACKS, CONFIRMED, NOTE,
};
use crate::quantity::Dimension::{Length, Number, Temperature};

/// What a `place` can carry.
pub const PLACE: &[Rating] = &[
    Rating::range(key::AMBIENT, Temperature, "Air temperature there, °C; the upper end counts for wires.")
        .inline()
        .usually(-40.0, 125.0)
        .else_from("the robot's `ambient`"),
    Rating::flag(key::MOVING, "A joint moves there: wires that run through it flex.")
        .inline()
        .else_flag(false, "wires are taken to lie still"),
    Rating::flag(key::SEALED, "No air comes in or out.").inline().else_flag(false, "air is taken to move"),
    Rating::flag(key::WET, "Water gets there: rain, spray, a pool, condensation.")
        .inline()
        .else_no("a place is taken to be dry"),
    Rating::flag(
        key::ENCLOSURE,
        "A closed box or duct: a wire at this place between two things at this place counts as sheathed, unless it says \
         otherwise.",
    )
    .inline()
    .else_no("careful: wires are taken to be open to chafing"),
    Rating::flag(
        key::DOUBLE_INSULATED,
        "It is closed and made of insulating material, apart from the wires' own insulation: nothing live in it touches \
         metal outside.",
    )
    .else_no("careful: one insulation is taken to be all there is"),
    Rating::flag(key::OUT_OF_REACH, "Nobody can touch what is there while it is powered.")
        .else_no("careful: hands are taken to get everywhere"),
    Rating::flag(key::REACHABLE, "A person gets at what is there at once and without tools, with covers and costume on."),
    Rating::of(
        key::EXPOSED_TO,
        RatingShape::Words(ATTACKS),
        "What wears the insulation of wires there: `exposed-to oil abrasion`.",
    ),
    Rating::quantity(key::BEND_RADIUS, Length, "Smallest radius to which wires are bent there, m.")
        .usually(0.001, 1.0),
    Rating::quantity(
        key::TWIST_LENGTH,
        Length,
        "Length over which wires take up the turning of the joint by twisting, m.",
    )
    .usually(0.005, 2.0),
    Rating::quantity(
        key::TURNS,
        Number,
        "How many turns the joint makes to each side of its middle at most, rounded up.",
    )
    .between(1.0, 10_000.0),
    Rating::flag(key::CONTINUOUS_ROTATION, "The joint turns on and on, so that no wire can follow it.")
        .else_no("joints are taken to turn back before the wires are wound up"),
    Rating::quantity(
        key::FLEX_CYCLES,
        Number,
        "How often what moves there moves in the life of the robot: of a lid perhaps 100 times.",
    )
    .between(1.0, 1e12)
    .else_from("all the time, where a joint moves"),
    Rating::flag(key::BARE_EDGES, "Wires pass an edge or a hole there without grommet or sleeve.")
        .else_no("edges are taken to be dressed"),
    Rating::quantity(key::SUPPORT_SPACING, Length, "Distance between the supports of wires there, m.")
        .usually(0.01, 3.0),
    Rating::flag(
        key::DRIP_LOOP,
        "Wires hang lower before they enter than where they enter, so that water drips off.",
    )
    .else_no("careful: water is taken to follow the wires"),
    Rating::of(key::COOLED_BY, RatingShape::Reference, "The fan that moves air there."),
    Rating::of(
        key::HEAT_CUTOFF_BY,
        RatingShape::Reference,
        "The thermostat or sensor that has what is there switched off when it gets too hot.",
    ),
    CONFIRMED,
    NOTE,
];
