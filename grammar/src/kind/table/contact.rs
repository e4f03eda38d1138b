//! Facts about contacts, switches and devices that open a circuit.

use crate::{
    kind::{Rating, RatingShape, key},
    quantity::Dimension::Time,
};

/// What the current figure of a contact holds for.
pub(super) const LOAD_TYPE: Rating = Rating::word(
    key::LOAD_TYPE,
    &[
        ("resistive", "heaters: the figure that makers print first"),
        ("inductive", "coils and solenoids, which keep the arc burning"),
        ("motor", "motors: several times their current when they start"),
        ("lamp", "filament lamps: many times their current while they are cold"),
    ],
    "The kind of load for which the `current` figure holds when the contact opens and closes.",
);

/// A rating for alternating current.
pub(super) const ALTERNATING_ONLY: Rating = Rating::flag(
    key::ALTERNATING_ONLY,
    "Its figures hold for alternating current only: it is not made to break a direct current.",
)
.else_no("a figure in this language is one for direct current");

/// Neither makes nor breaks.
pub(super) const CARRIES_ONLY: Rating = Rating::flag(
    key::CARRIES_ONLY,
    "It only carries: it neither closes nor opens while current flows, as an isolator does not.",
)
.else_no("careful: a contact is taken to switch what it carries");

/// How it is made sure.
pub(super) const SEQUENCE: Rating = Rating::of(
    key::SEQUENCE,
    RatingShape::Text,
    "The order of switching that keeps it free of current: `sequence \"driver off, 200 ms, then the relay\"`.",
);

/// Metal of the contacts.
pub(super) const CONTACT_MATERIAL: Rating = Rating::word(
    key::CONTACT_MATERIAL,
    &[
        ("silver", "silver and its alloys: for power; small signals fail on its oxide"),
        ("gold", "gold: for signals; power burns it off"),
        ("bifurcated-gold", "two gold contacts side by side: for the smallest signals"),
    ],
    "Metal of its contacts.",
);

/// Poles used as one.
pub(super) const PARALLEL_POLES: Rating = Rating::flag(
    key::PARALLEL_BY_INTENT,
    "Its poles share one current on purpose. They never open together: the last one takes the whole arc.",
)
.else_no("poles side by side are usually meant to switch two circuits");

/// Ways used as one.
pub(super) const PARALLEL_WAYS: Rating = Rating::flag(
    key::PARALLEL_BY_INTENT,
    "Several of its ways share one current on purpose. They never share it evenly.",
)
.else_no("two ways of one circuit are usually a mistake");

/// Opens one side first.
pub(super) const BREAK_BEFORE_MAKE: Rating =
    Rating::flag(key::BREAK_BEFORE_MAKE, "It opens one circuit before it closes the other, by its build.");

/// The manual disconnect.
pub(super) const DISCONNECT: Rating = Rating::flag(
    key::DISCONNECT,
    "The manual disconnect of a source: what a person opens when something smokes.",
)
.inline()
.else_no("careful: a disconnect has to be named");

/// How long it takes to make the robot dead.
pub(super) const DEAD_WITHIN: Rating = Rating::quantity(
    key::DEAD_WITHIN,
    Time,
    "How long it takes from the decision until the robot is dead by it, s, covers and way included: `dead-within 22 s \
     measured 2026-09-06`.",
)
.usually(0.1, 600.0);

/// Within reach.
pub(super) const REACHABLE: Rating = Rating::flag(
    key::REACHABLE,
    "A person gets at it at once and without tools, with covers and costume on.",
);

/// A jumper.
pub(super) const BYPASS: Rating = Rating::flag(
    key::BYPASS,
    "There for tests and bring-up: it bridges or loops back what the finished robot does not.",
)
.inline()
.else_no("a part of the finished robot");

/// How long until contacts have operated.
pub(super) const OPERATE_TIME: Rating = Rating::quantity(
    key::OPERATE_TIME,
    Time,
    "How long after the coil is switched on the contacts have operated, s; of a delay relay its delay.",
)
.usually(1e-4, 300.0);

/// How long until contacts have released.
pub(super) const RELEASE_TIME: Rating = Rating::quantity(
    key::RELEASE_TIME,
    Time,
    "How long after the coil is switched off the contacts have released, s, with the suppression it has; of a delay relay \
     its delay.",
)
.usually(1e-4, 300.0);
