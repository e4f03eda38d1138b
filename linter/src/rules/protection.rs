//! Fuses, breakers and the wires behind them.

mod likeness;

pub mod breaking_capacity_exceeded;
pub mod opens_at_work;
pub mod slow_clearing;
pub mod unfused_branch;
pub mod unselective;
pub mod voltage_exceeded;
