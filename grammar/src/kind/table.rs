//! The table itself: every kind, in the order of the store's shelves, and the ratings that any thing can carry.

use super::{Kind, Rating, RatingShape, key};
use crate::quantity::Dimension::Time;

mod amplifier;
mod battery;
mod block;
mod breaker;
mod capacitor;
mod charger;
mod chassis;
mod clamp;
mod coil;
mod connector;
mod contact;
mod contactor;
mod controller;
mod diode;
mod draw;
mod driver;
mod fuse;
mod generator;
mod isolator;
mod light;
mod load;
mod lug;
mod meter;
mod motion;
mod motor;
mod plug;
mod receiver;
mod regulator;
mod relay;
mod resistor;
mod sensor;
mod servo;
mod shared;
mod shunt;
mod signal;
mod slip_ring;
mod socket;
mod source;
mod speaker;
mod splice;
mod stop;
mod stud;
mod supply;
mod switch;

/// Every kind.
pub const ALL: &[&Kind] = &[
    &battery::KIND,
    &charger::KIND,
    &supply::KIND,
    &generator::KIND,
    &fuse::KIND,
    &breaker::KIND,
    &clamp::KIND,
    &switch::KIND,
    &stop::KIND,
    &relay::KIND,
    &contactor::KIND,
    &regulator::KIND,
    &driver::KIND,
    &amplifier::KIND,
    &controller::KIND,
    &receiver::KIND,
    &sensor::KIND,
    &isolator::KIND,
    &motor::KIND,
    &servo::KIND,
    &light::KIND,
    &speaker::KIND,
    &meter::KIND,
    &load::KIND,
    &resistor::KIND,
    &capacitor::KIND,
    &diode::KIND,
    &shunt::KIND,
    &block::KIND,
    &splice::KIND,
    &stud::KIND,
    &lug::KIND,
    &plug::KIND,
    &socket::KIND,
    &slip_ring::KIND,
    &chassis::KIND,
];

/// What any thing can carry, whatever its kind. None of these stands on the line without its key.
pub const COMMON: &[Rating] = &[
    Rating::of(key::NOTE, RatingShape::Text, "A remark for people; nothing is computed from it."),
    Rating::of(
        key::GROUP,
        RatingShape::Reference,
        "Name of a group; a line of a mode may name the group instead of each thing in it.",
    ),
    Rating::of(
        key::SPARE,
        RatingShape::Terminals,
        "Terminals that are left unconnected on purpose, by name or number: `spare 3 4`.",
    ),
    Rating::flag(
        key::UNWIRED,
        "Not wired on purpose: a mechanical part, a spare on the shelf, an option that is not fitted yet.",
    )
    .else_no("a thing without a wire is usually forgotten"),
    Rating::of(
        key::SOURCE,
        RatingShape::Text,
        "Where its figures come from: a data sheet, the label on it, a measurement, a guess.",
    ),
    Rating::flag(
        key::GENERIC,
        "Its figures are those of parts of its sort, not read off this one; `source` says where they come from.",
    )
    .else_no("what is written is taken to be of this very part"),
    Rating::of(
        key::CONFIRMED,
        RatingShape::Text,
        "Why a figure that looks like a slip of prefix or unit is right.",
    ),
    Rating::of(
        key::ALSO_CALLED,
        RatingShape::Text,
        "Another name of it: the one printed on it, or that of older drawings.",
    ),
    Rating::of(
        key::VERIFIED,
        RatingShape::Date,
        "The day on which what is written of it was last tried or compared on the robot itself.",
    ),
    Rating::of(
        key::UNTIL,
        RatingShape::Date,
        "Fitted for the time being: the last day on which it may be used.",
    ),
    Rating::flag(key::ON_HAND, "It is in stock and need not be ordered.")
        .else_no("a part is taken to have to be ordered"),
    Rating::quantity(
        key::SERVICE_INTERVAL,
        Time,
        "How often it is opened, cleaned, looked over or replaced, s; write it in days, `365 d`.",
    )
    .between(1.0, 1e10)
    .usually(3600.0, 1e9),
];
