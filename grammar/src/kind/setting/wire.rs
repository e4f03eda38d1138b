//! What a wire, a core, a harness and a cable can carry.

use super::{
    super::{Rating, RatingShape, colour, key},
    ATTACKS, BOND, BYPASS, CONFIRMED, NOTE, UNTIL, VERIFIED,
};
use crate::quantity::Dimension::{Area, Current, Length, Number, Resistance, Temperature, Voltage};

/// What a `wire` and a core can carry.
pub const WIRE: &[Rating] = &[
    SIZE,
    LENGTH,
    LENGTH_BASIS,
    COLOUR,
    INSULATION.inline().else_number(60.0, "careful: the lowest class in use"),
    INSULATION_VOLTAGE,
    INSULATION_RESISTS,
    OUTSIDE_DIAMETER,
    MATERIAL,
    STRANDS,
    Rating::quantity(
        key::RESISTANCE,
        Resistance,
        "Resistance of the conductor from end to end as measured, Ω: `resistance 12 mohm measured 2026-05-01`. It \
         replaces the one worked out from size, length and metal.",
    )
    .usually(1e-5, 20.0)
    .else_from("size, length and metal"),
    MAKERS_CURRENT,
    SHEATHED,
    Rating::flag(key::SLEEVED, "In a sleeve of its own, apart from every other wire, over its whole length.")
        .inline()
        .else_no("a wire is taken to touch its neighbours"),
    SLEEVE_TEMPERATURE,
    SLEEVE_VOLTAGE,
    TWISTED,
    SCREENED,
    Rating::flag(
        key::SCREEN,
        "The screen itself: a core of a cable that joins what the screen joins, at one end or both. Its size may stay \
         unwritten.",
    )
    .inline()
    .else_no("a core is a conductor inside the screen"),
    SCREEN_JOINED,
    SUPPLIED_TAIL,
    BUNDLE,
    DRUM_LAYERS,
    CARRIES,
    Rating::quantity(
        key::CURRENT_LIMIT,
        Current,
        "A part at its source limits the current in it to this by design, also into a short, A.",
    )
    .usually(1e-6, 200.0),
    Rating::of(key::LIMITED_BY, RatingShape::Reference, "The part that limits the current in it."),
    Rating::flag(key::SPARE, "Not connected on purpose, and capped.")
        .inline()
        .else_flag(false, "a wire is in use"),
    Rating::flag(key::PARALLEL_BY_INTENT, "Shares one current with its neighbours on purpose.")
        .inline()
        .else_flag(false, "two wires between the same points are usually a mistake"),
    BOND.inline(),
    BYPASS.inline(),
    LABELLED,
    Rating::flag(key::DOUBLE_FERRULE, "Shares a ferrule for two with another wire at one of its ends.")
        .else_no("a wire is taken to have a ferrule or contact to itself"),
    Rating::flag(
        key::UNMETERED,
        "Its current passes no shunt on purpose, as that of a keep-alive supply or a charging lead.",
    )
    .else_no("a shunt is taken to be meant to see every current"),
    ENDED_ONCE,
    VERIFIED,
    UNTIL,
    CONFIRMED,
    NOTE,
];

/// What a `harness` or `cable` can carry; what it says holds for each of its wires that does not say it, but for what is
/// true of the whole only.
pub const HARNESS: &[Rating] = &[
    SIZE,
    LENGTH,
    LENGTH_BASIS,
    COLOUR,
    INSULATION_OF_MANY.inline(),
    INSULATION_VOLTAGE,
    INSULATION_RESISTS,
    OUTSIDE_DIAMETER,
    Rating::quantity(key::SHEATH_DIAMETER, Length, "Diameter of the whole, over its sheath or tape, m.")
        .usually(0.001, 0.1),
    MATERIAL,
    STRANDS,
    MAKERS_CURRENT,
    SHEATHED,
    SLEEVE_TEMPERATURE,
    SLEEVE_VOLTAGE,
    TWISTED,
    SCREENED,
    SCREEN_JOINED,
    Rating::flag(key::RIBBON, "A ribbon: its conductors lie side by side in an order that cannot change.")
        .inline()
        .else_no("wires in a loom can change places"),
    BUNDLE,
    DRUM_LAYERS,
    CARRIES,
    Rating::flag(key::CROSSOVER, "Its wires cross over on purpose, as send and receive do.")
        .inline()
        .else_no("the same way at both ends is taken to mean the same"),
    Rating::flag(
        key::ADAPTER,
        "It joins connectors of different families or with different functions on purpose.",
    )
    .inline()
    .else_no("both ends are taken to be made for each other"),
    LABELLED,
    ENDED_ONCE,
    VERIFIED,
    CONFIRMED,
    NOTE,
];

const SIZE: Rating =
    Rating::quantity(key::SIZE, Area, "Conductor size, `12 AWG` or `2.5 mm²`.").inline().usually(0.03, 125.0);

const LENGTH: Rating = Rating::quantity(key::LENGTH, Length, "Length of one conductor from end to end, m.")
    .inline()
    .usually(0.005, 20.0);

const LENGTH_BASIS: Rating = Rating::word(
    key::LENGTH_BASIS,
    &[
        ("estimated", "a guess before the route was measured"),
        ("net", "measured along the route, without slack and stripped ends"),
        ("cut", "as cut: slack and stripped ends are in it"),
    ],
    "What the length is: guessed, of the route, or of the cut wire.",
)
.inline();

const COLOUR: Rating = Rating::word(
    key::COLOUR,
    colour::WORDS,
    "Colour of the insulation; a base colour and a stripe are written `red/white`.",
)
.inline();

const INSULATION: Rating =
    Rating::quantity(key::INSULATION, Temperature, "Temperature class of the insulation, °C.")
        .usually(60.0, 260.0);

/// Of what sets it for several wires: a wire that has its own wins.
pub(super) const INSULATION_OF_MANY: Rating = INSULATION
    .else_from("the wire's own, its harness's, the robot's, whichever is written first, else 60 °C");

pub(super) const INSULATION_VOLTAGE: Rating =
    Rating::quantity(key::INSULATION_VOLTAGE, Voltage, "Voltage class of the insulation, V.")
        .usually(30.0, 1500.0);

pub(super) const INSULATION_RESISTS: Rating = Rating::of(
    key::INSULATION_RESISTS,
    RatingShape::Words(ATTACKS),
    "What the insulation, or the sleeve over it, stands by the maker's word: `insulation-resists oil water`.",
);

const OUTSIDE_DIAMETER: Rating =
    Rating::quantity(key::OUTSIDE_DIAMETER, Length, "Diameter of one conductor over its insulation, m.")
        .usually(0.000_4, 0.03);

/// Of the robot: a wire or harness that says its own wins. It stands in a block, with its key.
pub(super) const MATERIAL_OF_ALL: Rating =
    METAL.else_from("the wire's own, its harness's, the robot's, whichever is written first, else copper");

const MATERIAL: Rating =
    METAL.inline().else_word("copper", "nearly all wire sold for this use; cheap wire may be clad aluminium");

const METAL: Rating = Rating::word(
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
);

const STRANDS: Rating = STRANDS_OF_ALL.inline();

/// Of the robot: a wire or harness that says its own wins.
pub(super) const STRANDS_OF_ALL: Rating = Rating::word(
    key::STRANDS,
    &[
        ("solid", "one solid wire: breaks where it moves or shakes"),
        ("stranded", "ordinary strands"),
        ("fine", "fine strands for wires that move now and then"),
        ("extra-fine", "very fine strands for joints that move all the time"),
    ],
    "Stranding of the conductor.",
);

const MAKERS_CURRENT: Rating = Rating::quantity(
    key::CURRENT,
    Current,
    "Highest continuous current by its maker's sheet, A, for one wire in free air. The robot's `profile` stays the basis \
     of what is judged.",
)
.usually(0.1, 600.0);

const SHEATHED: Rating =
    Rating::flag(key::SHEATHED, "In a sheath, sleeve or enclosure over its whole length.")
        .inline()
        .else_flag(false, "a wire is taken to be open to chafing, but for cables and enclosures");

const SLEEVE_TEMPERATURE: Rating =
    Rating::quantity(key::SLEEVE_TEMPERATURE, Temperature, "Temperature class of the sleeve over it, °C.")
        .usually(60.0, 600.0)
        .between(-100.0, 1500.0);

const SLEEVE_VOLTAGE: Rating =
    Rating::quantity(key::SLEEVE_VOLTAGE, Voltage, "Voltage class of the sleeve over it, V.")
        .between(1.0, 1e5)
        .usually(30.0, 1e4);

const TWISTED: Rating =
    Rating::flag(key::TWISTED, "Twisted with the conductor that carries its current or signal back.")
        .inline()
        .else_no("wires are taken to lie side by side");

const SCREENED: Rating = Rating::flag(key::SCREENED, "A screen (shield) of braid or foil lies around it.")
    .inline()
    .else_no("most wire has none");

const SCREEN_JOINED: Rating = Rating::word(
    key::SCREEN_JOINED,
    &[
        ("one-end", "at one end only, as for sound and measured values"),
        ("both-ends", "at both ends, as for radio frequency"),
        ("neither-end", "at no end: it does not screen"),
    ],
    "At which ends the screen is joined to ground or frame.",
);

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

const DRUM_LAYERS: Rating = Rating::quantity(
    key::DRUM_LAYERS,
    Number,
    "How many layers of it lie on a drum or in a coil while it carries its current.",
)
.between(1.0, 20.0)
.else_from("none: it is laid out");

const CARRIES: Rating = Rating::word(
    key::CARRIES,
    &[
        ("radio-frequency", "an antenna or a line to one"),
        ("thermocouple", "a pair of two metals that measures a temperature: its metal cannot be chosen"),
    ],
    "What it carries, where its terminals do not tell.",
)
.inline()
.else_from("what its terminals are for");

const LABELLED: Rating = Rating::flag(key::LABELLED, "Both ends carry its name and where they go.")
    .inline()
    .else_flag(true, "its name is taken to stand on both ends");

const ENDED_ONCE: Rating =
    Rating::flag(key::ENDED_ONCE, "Belongs to a bus so short that one resistor ends it, on purpose.")
        .else_no("a bus is ended at both of its ends");
