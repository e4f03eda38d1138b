//! The published grammar: read out of its page, run over texts, and compared with the parser.

// A test may read and write the page, and stop where the page is not what it should be.
#![allow(clippy::disallowed_methods, clippy::expect_used, clippy::panic)]

mod agreement;
mod constraint;
mod corpus;
mod damage;
mod earley;
mod lines;
mod notation;
mod page;
mod plain;
mod published;
mod reader;
mod sentence;
mod shape;
mod tree;
