//! What plugs and sockets have in common.

use crate::{
    kind::{Rating, RatingShape, Role, Terminal, colour, key},
    quantity::Dimension::{Area, Current, Length, Number, Resistance, Temperature, Voltage, Ways},
};

/// A way.
pub(super) const WAY: Terminal =
    Terminal::per(key::WAYS, "{}", &[], Role::Way, "A way, numbered as on the housing.");

/// Number of ways.
pub(super) const WAYS: Rating = Rating::quantity(key::WAYS, Ways, "Number of ways, `4 way`.")
    .inline()
    .else_number(2.0, "the smallest power connector; write the number it has");

/// Contact current.
pub(super) const CURRENT: Rating =
    Rating::quantity(key::CURRENT, Current, "Highest current of one contact with all of them loaded, A.")
        .inline()
        .usually(0.1, 600.0);

/// Voltage.
pub(super) const VOLTAGE: Rating =
    Rating::quantity(key::VOLTAGE, Voltage, "Highest voltage it is made for, V.")
        .inline()
        .usually(5.0, 1500.0);

/// Pins or sockets.
pub(super) const CONTACTS: Rating = Rating::word(
    key::CONTACTS,
    &[
        ("pins", "its contacts are pins, which stick out unless it is shrouded"),
        ("sockets", "its contacts are sockets, recessed in the housing"),
    ],
    "Whether its contacts are pins or sockets. The side that stays live when the halves are apart has sockets.",
)
.inline();

/// View of the pin map.
pub(super) const VIEW: Rating = Rating::word(
    key::VIEW,
    &[("mating-face", "seen from the other half"), ("wire-side", "seen from where the wires enter")],
    "From which side its ways were counted; the other side shows them mirrored.",
)
.inline();

/// Sizes taken.
pub(super) const WIRE_SIZE: Rating =
    Rating::range(key::WIRE_SIZE, Area, "Conductor sizes that a contact takes, mm², the thinner first.")
        .inline()
        .usually(0.01, 150.0);

/// Shrouded.
pub(super) const SHROUDED: Rating = Rating::flag(
    key::SHROUDED,
    "Its contacts can be neither touched nor shorted when the halves are apart (touch-proof).",
)
.inline()
.else_flag(false, "careful: pins are taken to stick out; sockets are recessed anyway");

/// Keyed.
pub(super) const KEYED: Rating = Rating::flag(key::KEYED, "The halves fit only one way round.").inline();

/// Hot mate.
pub(super) const HOT_MATE: Rating =
    Rating::flag(key::HOT_MATE, "It may be joined and parted while live and loaded.")
        .inline()
        .else_flag(false, "careful: parting under load burns the contacts");

/// Family.
pub(super) const FAMILY: Rating = Rating::of(
    key::FAMILY,
    RatingShape::Text,
    "Its series or type, as it is ordered by; halves of one family and size fit each other.",
);

/// Colour of the housing.
pub(super) const COLOUR: Rating =
    Rating::word(key::COLOUR, colour::WORDS, "Colour of its housing or of the mark on it.");

/// One contact alone.
pub(super) const SINGLE_CURRENT: Rating = Rating::quantity(
    key::SINGLE_CURRENT,
    Current,
    "Highest current of one contact when it alone is loaded, A; the figure that makers print first.",
)
.usually(0.1, 600.0);

/// What the current holds for.
pub(super) const LOADED_WAYS: Rating = Rating::quantity(
    key::LOADED_WAYS,
    Number,
    "How many ways may be loaded at once for `current` to hold, by the maker's curve.",
)
.between(1.0, 200.0)
.else_from("all of them");

/// Wire that the current holds for.
pub(super) const RATED_WIRE_SIZE: Rating = Rating::quantity(
    key::RATED_WIRE_SIZE,
    Area,
    "Conductor size with which its current figures were measured, mm²; a thinner one carries the heat away less well.",
)
.usually(0.01, 150.0);

/// Temperature that the current holds for.
pub(super) const RATED_AMBIENT: Rating = Rating::quantity(
    key::RATED_AMBIENT,
    Temperature,
    "Air temperature at which its current figures hold, °C, with the wires getting as hot as they then do.",
)
.usually(15.0, 130.0);

/// Parting under load.
pub(super) const BREAKS: Rating = Rating::quantity(
    key::BREAKS,
    Current,
    "Highest current at which the halves may be parted at its voltage, A, by the maker's word.",
)
.or_zero()
.usually(0.1, 300.0);

/// Resistor of the first touch.
pub(super) const ANTI_SPARK: Rating = Rating::quantity(
    key::ANTI_SPARK,
    Resistance,
    "Resistor in it through which it makes before the main contacts do, Ω, so that capacitors fill without a spark.",
)
.usually(0.5, 1000.0);

/// Insulation while closed.
pub(super) const INSULATION_VOLTAGE: Rating = Rating::quantity(
    key::INSULATION_VOLTAGE,
    Voltage,
    "Highest voltage between its ways that its insulation stands while nobody opens it, V.",
)
.usually(10.0, 1500.0);

/// Seals.
pub(super) const SEAL_SIZE: Rating = Rating::range(
    key::SEAL_SIZE,
    Length,
    "Diameters over the insulation that its seals take, m, the thinner first: `1.2 mm .. 2.1 mm`.",
)
.usually(4e-4, 0.03);

/// Strands taken.
pub(super) const TAKES_STRANDS: Rating = Rating::of(
    key::TAKES_STRANDS,
    RatingShape::Words(&[
        ("solid", "one solid wire"),
        ("stranded", "ordinary strands"),
        ("fine", "fine strands"),
        ("extra-fine", "very fine strands"),
    ]),
    "Strandings for which its range of conductor sizes holds.",
);

/// Dead when apart.
pub(super) const DEAD_WHEN_APART: Rating = Rating::flag(
    key::DEAD_WHEN_APART,
    "An interlock, a relay or a handshake makes sure that nothing in it is live when the halves are apart.",
)
.else_no("careful: what has a source behind it is taken to be live");

/// Order of joining.
pub(super) const INTERLOCKED_WITH: Rating = Rating::of(
    key::INTERLOCKED_WITH,
    RatingShape::Reference,
    "The connector or switch that by its build has to be closed before this one is joined and opened after it is parted.",
);

/// Ways of the first touch.
pub(super) const MATES_FIRST: Rating = Rating::of(
    key::MATES_FIRST,
    RatingShape::Terminals,
    "Ways with longer contacts, which make first and part last: `mates-first 1`.",
);

/// No other half.
pub(super) const UNMATED: Rating = Rating::flag(
    key::UNMATED,
    "It is joined with nothing on purpose: a charging or test point, or kept for what is not fitted yet.",
)
.inline()
.else_no("a half without its other half is usually a mistake");

/// Cap.
pub(super) const CAPPED: Rating = Rating::flag(key::CAPPED, "A cap closes it while the halves are apart.")
    .else_no("careful: it is taken to lie open");

/// Sealed.
pub(super) const SEALED: Rating =
    Rating::flag(key::SEALED, "Water cannot get into it, unused ways included.")
        .inline()
        .else_no("careful: water is taken to get in");

/// Potted.
pub(super) const POTTED: Rating =
    Rating::flag(key::POTTED, "It is filled with resin or gel, so that no water creeps along the wires.")
        .else_no("careful: water is taken to creep along the strands");

/// Barriers.
pub(super) const BARRIERS: Rating = Rating::flag(
    key::BARRIERS,
    "Walls stand between its ways: neither a bent pin nor a stray strand can join two of them.",
)
.else_no("careful: a bent pin is taken to reach its neighbour");

/// Both ways round.
pub(super) const SYMMETRICAL: Rating = Rating::flag(
    key::SYMMETRICAL,
    "Turned round or seen from the other side its ways have the same functions, as with positive, negative, positive.",
)
.else_no("careful: a turn is taken to swap functions");

/// Exchange does no harm.
pub(super) const INTERCHANGEABLE: Rating = Rating::flag(
    key::INTERCHANGEABLE,
    "It may change places with others of its family: what is behind them is the same, and the order does not matter.",
)
.else_no("careful: equal plugs get exchanged, and then what is behind them does");

/// Plating.
pub(super) const CONTACT_METAL: Rating = Rating::word(
    key::CONTACT_MATERIAL,
    &[
        ("tin", "tin-plated; frets under vibration, and against gold it corrodes"),
        ("gold", "gold-plated: for signals and rare mating"),
        ("silver", "silver-plated: for power"),
    ],
    "Plating of its contacts; both halves should have the same.",
);
