//! The rules: one file each, and the list.

pub mod driver;
pub mod join;
pub mod polarity;
pub mod protection;
pub mod relay;
pub mod supply;
pub mod wire;
