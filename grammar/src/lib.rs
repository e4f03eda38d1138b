//! The Wattle language: text to tokens and a tree, units, the table of kinds, and the one layout.
//!
//! Everything here is pure: no files, no clock, no environment. [`parse`] is total: any text gives a tree and its
//! errors.

pub mod error;
pub mod evaluate;
pub mod kind;
pub mod lexer;
pub mod line_index;
pub mod nearest;
mod parse;
pub mod quantity;
pub mod span;
pub mod syntax;
pub mod tidy;
pub mod token;
pub mod unit;

pub use parse::{LARGEST_FILE, parse};

/// What [`parse`] gives: a tree for any text, the tokens, and the errors.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Parse {
    /// The statements; those that could not be read are [`syntax::Item::Broken`].
    pub file: syntax::File,
    /// Every token, trivia included; together they are the whole text.
    pub tokens: Vec<token::Token>,
    /// Errors in place order, at most one for each statement.
    pub errors: Vec<error::TextError>,
}
