//! Rows that several kinds have in common, so that they read the same everywhere.

use crate::{
    kind::{Rating, key},
    quantity::Dimension::{Capacitance, Current, Number, Resistance, Temperature, Time, Torque, Voltage},
};

/// What a figure is worth.
pub(super) const BASIS: Rating = Rating::word(
    key::BASIS,
    &[
        ("continuous", "holds for as long as you like at 25 °C"),
        ("peak", "holds only for the time under `peak-time`"),
        ("advertised", "a number from a package or a shop page, without conditions"),
    ],
    "What the current figure is worth. Not written: nothing is known about its conditions.",
)
.inline();

/// Highest current for a short time.
pub(super) const PEAK: Rating = Rating::quantity(
    key::PEAK,
    Current,
    "Highest current for a short time, A; how long stands under `peak-time`.",
)
.usually(0.01, 5000.0);

/// How long the peak lasts.
pub(super) const PEAK_TIME: Rating =
    Rating::quantity(key::PEAK_TIME, Time, "How long the peak may last, s.").usually(1e-4, 600.0);

/// Resistance of a closed contact.
pub(super) const CONTACT_RESISTANCE: Rating = Rating::quantity(
    key::CONTACT_RESISTANCE,
    Resistance,
    "Resistance of one closed contact or one mated way, Ω.",
)
.or_zero()
.usually(2e-5, 0.2)
.else_number(0.001, "common practice: 1 mΩ to 5 mΩ for a sound contact");

/// Direct voltage a contact or protective device may interrupt.
pub(super) const BREAKING_VOLTAGE: Rating = Rating::quantity(
    key::VOLTAGE,
    Voltage,
    "Highest direct voltage at which it may open a current, V. A figure for alternating current does not count: direct \
     current keeps its arc burning.",
)
.usually(5.0, 1500.0);

/// Current a contact may open.
pub(super) const BREAKS: Rating = Rating::quantity(
    key::BREAKS,
    Current,
    "Highest current a contact may open at its direct voltage with a motor or coil as load, A. Often a small part of \
     what it carries.",
)
.usually(0.01, 1000.0);

/// Current a contact may close onto.
pub(super) const MAKES: Rating =
    Rating::quantity(key::MAKES, Current, "Highest current a contact may close onto without welding, A.")
        .usually(0.01, 5000.0);

/// The contact opens without current.
pub(super) const OPENS_UNLOADED: Rating = Rating::flag(
    key::OPENS_UNLOADED,
    "Something else, such as a driver that is disabled first, makes sure that no current flows when the contact opens.",
)
.else_flag(false, "the contact is taken to open under load");

/// Works one way round only.
pub(super) const POLARISED: Rating = Rating::flag(
    key::POLARISED,
    "It works only one way round: of a breaker or contact the arc is blown out only in the marked direction, of a coil \
     a diode or an indicator is inside.",
);

/// Current that an output limits itself to.
pub(super) const CURRENT_LIMIT: Rating = Rating::quantity(
    key::CURRENT_LIMIT,
    Current,
    "Current it limits itself to by design, also into a short, A.",
)
.usually(0.01, 1000.0);

/// A source takes current back.
pub(super) const SINKS: Rating = Rating::flag(
    key::SINKS,
    "It takes current back without harm, as a battery does; braking motors give current back.",
)
.else_flag(false, "careful: most supplies let their output rise instead");

/// Fed from behind while unpowered.
pub(super) const TAKES_BACK_FEED: Rating = Rating::flag(
    key::TAKES_BACK_FEED,
    "It takes no harm when it is fed from its output or motor side while its own supply is off.",
)
.else_flag(false, "careful: harm is assumed unless the maker says otherwise");

/// Output insulated from input.
pub(super) const ISOLATED: Rating =
    Rating::flag(key::ISOLATED, "The output is insulated from the input; no current passes between them.")
        .inline();

/// Outputs may be joined.
pub(super) const SHARES_LOAD: Rating = Rating::flag(
    key::SHARES_LOAD,
    "The maker allows its output to be joined with the output of another one.",
)
.else_flag(false, "careful: joined outputs push current into each other");

/// Highest voltage that does not destroy the part.
pub(super) const ABSOLUTE_MAX: Rating = Rating::quantity(
    key::ABSOLUTE_MAX,
    Voltage,
    "Highest supply voltage that does not destroy it, V, however short.",
)
.usually(2.0, 500.0)
.else_from("the upper end of `supply`");

/// Capacitors across the supply.
pub(super) const CAPACITANCE: Rating = Rating::quantity(
    key::CAPACITANCE,
    Capacitance,
    "Capacitance across its supply terminals, F; it draws the in-rush current when the supply is closed.",
)
.inline()
.usually(1e-8, 0.1);

/// Channels.
pub(super) const CHANNELS: Rating =
    Rating::quantity(key::CHANNELS, Number, "How many channels it has.").between(1.0, 64.0);

/// Highest temperature of the terminals.
pub(super) const MAX_TEMPERATURE: Rating = Rating::quantity(
    key::MAX_TEMPERATURE,
    Temperature,
    "Highest temperature that its terminals and their plastic stand, °C; a wire ending here may not run hotter, \
     whatever its own insulation stands.",
)
.usually(60.0, 300.0);

/// Poles or studs that nothing can bridge.
pub(super) const COVERED: Rating = Rating::flag(
    key::COVERED,
    "A cover keeps tools and hands off its poles; nothing can bridge them by accident.",
)
.else_no("careful: bare metal is taken to be open to a spanner");

/// Conductors that share a contact or stud.
pub(super) const WIRES_PER_WAY: Rating = Rating::quantity(
    key::WIRES_PER_WAY,
    Number,
    "How many conductors, ferrules or lugs one way or stud takes by the maker's word.",
)
.between(1.0, 20.0);

/// Torque of a nut or screw.
pub(super) const TIGHTENING_TORQUE: Rating =
    Rating::quantity(key::TIGHTENING_TORQUE, Torque, "Torque to which its nut or screw is tightened, N·m.")
        .usually(0.05, 100.0);
