//! Rules about coils.

pub mod weak;
