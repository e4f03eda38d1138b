//! The `wattle-lsp` command.

fn main() {}
