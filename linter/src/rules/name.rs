//! Names of things as people read and hear them.

pub mod confusable;
pub mod unlike_voltage;
