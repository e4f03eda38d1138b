//! The table itself: every kind, in the order of the store's shelves, and the ratings that any thing can carry.

use super::{Kind, Rating, RatingShape, key};

mod amplifier;
mod battery;
mod block;
mod breaker;
mod capacitor;
mod charger;
mod chassis;
mod clamp;
mod coil;
mod contactor;
mod controller;
mod diode;
mod draw;
mod driver;
mod fuse;
mod generator;
mod light;
mod load;
mod lug;
mod meter;
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
mod slip_ring;
mod socket;
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
];
