//! Fuses, breakers and the wires behind them.

pub mod unfused_branch;
