//! The wording of errors of names and values: what was found, and what would be right.
//!
//! Each function here makes one error and knows the habits behind it; who calls it knows only that something is wrong.

mod keys;
mod names;
mod states;
mod synonyms;
mod terminals;
mod values;
mod words;

pub(super) use keys::{no_values, too_much};
pub(super) use states::current_out_of_reach;
pub(super) use values::{given_twice, no_result, unplaced, unsuitable};
