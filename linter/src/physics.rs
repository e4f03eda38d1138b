//! Physics: pure functions of typed quantities, each from one published source.
//!
//! Nothing here knows the robot. Constants stand in [`constant`], each with its source; tables stand in the file of
//! the thing they describe. Every figure is checked against published values in the `tests` crate.

pub mod adiabatic;
mod air;
pub mod battery;
pub mod capacitor;
pub mod coil;
pub mod conductor;
pub mod constant;
pub mod diode;
pub mod evidence;
pub mod fuse;
pub mod heat;
pub mod heat_curve;
pub mod motion;
pub mod motor;
mod root;
pub mod runtime;
pub mod standard_fuse;
pub mod standard_size;
pub mod transient;
pub mod unit;
