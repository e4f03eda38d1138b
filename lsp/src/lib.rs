//! The Wattle language server.
