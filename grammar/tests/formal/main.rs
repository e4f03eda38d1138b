//! The published grammar: read out of its page, run over texts, and compared with the parser.

// A test may read and write the page; the ban is for the library.
#![allow(clippy::disallowed_methods)]

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
