//! The `wattle` command.

fn main() {}
