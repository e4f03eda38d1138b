//! Facts about what moves: motor, servo, and loads that push or pull.

use crate::{
    kind::{Rating, RatingShape, key},
    quantity::Dimension::{Force, Mass, MomentOfInertia, Power, Ratio, RotationalSpeed, Speed, Time, Torque},
};

/// Three leads instead of two.
pub(super) const BRUSHLESS: Rating = Rating::flag(
    key::BRUSHLESS,
    "Brushless, with three leads: permanent magnets turn, and a driver switches the phases U V W one after the other. Currents \
     and resistance are those between two leads.",
)
.inline()
.else_flag(false, "brushes and two leads are taken");

/// What it moves along.
pub(super) const MOVED_MASS: Rating = Rating::quantity(
    key::MOVED_MASS,
    Mass,
    "Mass that it moves and brakes, kg; of what several motors move together, its share. With `moved-speed` it tells what comes \
     back when it brakes.",
)
.usually(1e-3, 5000.0);

/// How fast.
pub(super) const MOVED_SPEED: Rating = Rating::quantity(
    key::MOVED_SPEED,
    Speed,
    "Highest speed of what it moves, also downhill or when it is pushed, m/s.",
)
.usually(1e-3, 60.0);

/// What it turns.
pub(super) const MOVED_INERTIA: Rating = Rating::quantity(
    key::MOVED_INERTIA,
    MomentOfInertia,
    "Moment of inertia of what it turns and brakes, about the axis of `moved-turning`, kg·m². With `moved-turning` it tells what \
     comes back when it brakes.",
)
.usually(1e-8, 1000.0);

/// How fast that turns.
pub(super) const MOVED_TURNING: Rating = Rating::quantity(
    key::MOVED_TURNING,
    RotationalSpeed,
    "Highest rotational speed of what it turns, rpm: of the arm or wheel, not of the motor before its gear, where \
     `moved-inertia` is theirs.",
)
.usually(0.1, 1e5);

/// How soon it stands.
pub(super) const BRAKING_TIME: Rating = Rating::quantity(
    key::BRAKING_TIME,
    Time,
    "Shortest time in which it brakes what it moves from its highest speed to a standstill, s.",
)
.usually(0.01, 120.0);

/// Moves together with others.
pub(super) const GANGED: Rating = Rating::word(
    key::GANGED,
    &[
        ("same-way", "all move alike"),
        ("mirrored", "one is the mirror image of the other, as left and right"),
    ],
    "It shares a command or an output with others on purpose, and how they move.",
);

/// Harms nobody.
pub(super) const HARMLESS_MOTION: Rating = Rating::flag(
    key::HARMLESS_MOTION,
    "Its motion can harm nobody, by the builder's own assessment; write its `force` or `torque` and `motion-power`.",
)
.else_no("careful: what moves is taken to be able to hurt");

/// Greatest force.
pub(super) const FORCE: Rating = Rating::quantity(
    key::FORCE,
    Force,
    "Greatest force where somebody could be squeezed or pushed, N, as measured or at stall.",
)
.usually(0.01, 1e5);

/// Greatest torque.
pub(super) const TORQUE: Rating =
    Rating::quantity(key::TORQUE, Torque, "Greatest torque at the output shaft, N·m, at stall.")
        .usually(1e-4, 2000.0);

/// Mechanical power.
pub(super) const MOTION_POWER: Rating =
    Rating::quantity(key::MOTION_POWER, Power, "Greatest mechanical power of the motion, W.")
        .usually(1e-3, 2e4);

/// A weight hangs on it.
pub(super) const CARRIES_WEIGHT: Rating = Rating::flag(
    key::CARRIES_WEIGHT,
    "It holds up a weight that falls or swings when its power goes and nothing else holds it.",
);

/// A counterweight.
pub(super) const BALANCED: Rating = Rating::quantity(
    key::BALANCED,
    Ratio,
    "Share of the weight that a counterweight or spring takes: `balanced 80 %`.",
);

/// What holds the load.
pub(super) const HELD_BY: Rating =
    Rating::of(key::HELD_BY, RatingShape::Reference, "The brake that holds its load when the power is gone.");
